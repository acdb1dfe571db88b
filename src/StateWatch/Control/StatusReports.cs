using StateWatch.Alerts;
using StateWatch.Commands;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Control;

/// <summary>Makes the report of how everything stands.</summary>
internal static class StatusReports
{
    /// <summary>Makes it.</summary>
    /// <param name="site">The site.</param>
    /// <param name="at">The moment.</param>
    /// <param name="desks">Each desk by its key, and how it stands; null for one whose loop is not turning.</param>
    /// <param name="own">site/statewatch.</param>
    /// <param name="ownStanding">What is wrong with the watch itself.</param>
    /// <param name="sinks">The sinks.</param>
    /// <param name="history">Whether things are stored.</param>
    public static StatusReport Make(string site, Moment at, IReadOnlyList<(string Key, DeskStatus? Status)> desks,
        string own, IReadOnlyList<StoredFinding> ownStanding, IReadOnlyList<SinkStatus> sinks, HistoryReport history)
    {
        DeskReport[] reports = [.. desks.Select(static desk => Make(desk.Key, desk.Status))];
        FindingReport[] ownFindings = Findings(own, at, ownStanding);
        var exitCode = ExitCode(reports, ownFindings);
        return new StatusReport(site, at.Wall)
        {
            Verdict = exitCode switch { ExitCodes.AsPlanned => "as-planned", ExitCodes.Warnings => "warnings", ExitCodes.Urgent => "urgent", _ => "incomplete" },
            ExitCode = exitCode,
            Desks = reports,
            Own = ownFindings,
            Sinks = [.. sinks.Select(Make)],
            History = history,
        };
    }

    /// <summary>Precedence 2, 3, 1, 0. What is acknowledged or put aside stands all the same.</summary>
    private static int ExitCode(DeskReport[] desks, FindingReport[] own)
    {
        FindingReport[] findings = [.. desks.SelectMany(static desk => desk.Findings), .. own];
        var urgent = Severity.Urgent.Word();
        return findings.Any(finding => finding.Severity == urgent) ? ExitCodes.Urgent
            : desks.Any(static desk => desk.Link != "following" || desk.Verified < desk.Planned || desk.CannotTell > 0) ? ExitCodes.Incomplete
            : findings.Length > 0 ? ExitCodes.Warnings
            : ExitCodes.AsPlanned;
    }

    private static DeskReport Make(string key, DeskStatus? status)
    {
        var name = DeskKey.NameOf(key);
        if (status is null)
            return new DeskReport(key, name) { Link = "down" };
        return new DeskReport(key, name)
        {
            Show = status.Show,
            Phase = status.Phase.Word(),
            Cue = status.Cue,
            Since = status.Since,
            NextAt = status.Next?.At,
            NextPhase = status.Next?.Phase.Word(),
            Address = status.Address,
            Link = status.Following switch { FollowPhase.Following => "following", FollowPhase.Lost => "lost", _ => "reading" },
            Session = status.Session,
            SilentSeconds = status.Session == 0 ? null : Math.Round(status.SilentFor.TotalSeconds, 2),
            ReadSecondsAgo = status.ReadAgo is { } ago ? Math.Round(ago.TotalSeconds, 1) : null,
            Planned = status.Coverage.Planned,
            Verified = status.Coverage.Verified,
            CannotTell = status.Coverage.CannotTell,
            Cues = status.Cues,
            Findings = Findings(status.Desk, status.At, status.Standing),
        };
    }

    // What went off plan a moment ago does not stand yet.
    private static FindingReport[] Findings(string desk, Moment at, IReadOnlyList<StoredFinding> standing) =>
        [.. standing.Where(static finding => Stands(finding.Record)).Select(finding => Make(finding, desk, at)).OrderByDescending(static finding => Rank(finding))];

    private static bool Stands(FindingRecord record) => record.Condition is Condition.Active or Condition.Clearing || record.IsLatched || record.Level.IsOpen || record.Shelf is not null || record.OutOfService is not null;

    private static int Rank(FindingReport finding) =>
        (finding.Severity switch { "urgent" => 30, "warning" => 20, _ => 10 }) + (finding.State switch { "raised" or "unstable" => 3, "acknowledged" => 2, "lapsed" => 1, _ => 0 });

    private static FindingReport Make(StoredFinding finding, string desk, Moment at)
    {
        var (record, words) = finding;
        var aside = record.Shelf ?? record.OutOfService;
        var until = aside?.Until ?? record.Acknowledgement?.Until;
        return new FindingReport(record.Key, record.Key[(desk.Length + 1)..], record.Severity.Word())
        {
            State = StateOf(record),
            Text = words?.Text,
            Why = words?.Why,
            Do = words?.Do,
            RaisedAt = record.RaisedAt,
            Episode = record.Episode,
            By = aside?.By ?? record.Acknowledgement?.By,
            Reason = aside?.Why,
            Until = until is { } end ? at.Wall + (end - at.Clock) : null,
            Setting = words?.Setting,
            Planned = words?.Planned,
            Live = words?.Live,
            PlanAt = words?.PlanAt,
        };
    }

    private static string StateOf(FindingRecord record) =>
        record.Shelf is not null || record.OutOfService is not null || record.Holds.HasFlag(Holds.Expected) ? "held"
        : record.Holds.HasFlag(Holds.Inhibited) ? "inhibited"
        : record.IsLatched ? "lapsed"
        : record.Holds.HasFlag(Holds.Damped) ? "unstable"
        : record.Holds.HasFlag(Holds.Settling) ? "settling"
        : record.Acknowledgement is not null ? "acknowledged"
        : "raised";

    private static SinkReport Make(SinkStatus sink) => new(sink.Name, sink.Place)
    {
        State = sink.IsStopped ? "stopped" : sink.IsUp ? "up" : "failing",
        Waiting = sink.Waiting,
        Delivered = sink.Delivered,
        LastDelivered = sink.LastDelivered,
        LastError = sink.LastError,
        NextTry = sink.NextTry,
    };
}
