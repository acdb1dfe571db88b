using System.Globalization;
using System.Text;
using StateWatch.Core.Reports;

namespace StateWatch.Control;

/// <summary>The report of how everything stands, for people: what stands, worst first, with the ids that <c>ack</c> and <c>hold</c> take.</summary>
internal static class StatusText
{
    /// <summary>Writes it.</summary>
    public static string Write(StatusReport report)
    {
        var text = new StringBuilder();
        text.Append(Line($"{report.Site}, {Day(report.At)}: {Headline(report)}"));
        var standing = report.Desks.SelectMany(static desk => desk.Findings.Select(finding => (desk.Name, Finding: finding)))
            .Concat(report.Own.Select(static finding => (Name: "this watch", Finding: finding)))
            .OrderByDescending(static item => item.Finding.Severity switch { "urgent" => 2, "warning" => 1, _ => 0 });
        foreach (var (name, finding) in standing)
            Append(text, name, finding, report);
        text.Append('\n');
        foreach (var desk in report.Desks)
            Append(text, desk, report.At);
        foreach (var sink in report.Sinks)
            text.Append(Line($"{sink.Name} ({sink.Place}): {SinkWords(sink)}"));
        text.Append(Line(report.History.IsFailing ? $"history ({report.History.Place}): NOTHING CAN BE STORED; what happens is watched and told, but a restart would forget it" : $"history ({report.History.Place}): stored"));
        return text.ToString();
    }

    private static string Headline(StatusReport report)
    {
        var findings = report.Desks.SelectMany(static desk => desk.Findings).Concat(report.Own).ToList();
        var parts = new List<string>();
        foreach (var severity in (string[])["urgent", "warning", "notice"])
        {
            if (findings.Count(finding => finding.Severity == severity) is var count and > 0)
                parts.Add($"{count} {severity}{(count > 1 && severity != "urgent" ? "s" : "")}");
        }

        if (report.Desks.Count(static desk => desk.Link != "following") is var away and > 0)
            parts.Add($"{away} desk{(away == 1 ? "" : "s")} not followed");
        if (report.Desks.Sum(static desk => desk.Planned - desk.Verified) is var unseen and > 0)
            parts.Add($"{unseen:N0} planned setting{(unseen == 1 ? "" : "s")} not seen");
        return parts.Count == 0 ? report.ExitCode == 0 ? "as planned" : "nothing found in what was seen, and not everything was seen" : string.Join(", ", parts);
    }

    private static void Append(StringBuilder text, string desk, FindingReport finding, StatusReport report)
    {
        var since = finding.RaisedAt is { } raised ? $", since {Time(raised, report.At)} ({Span(report.At - raised)})" : "";
        text.Append('\n').Append(Line($"{finding.Severity.ToUpperInvariant()} at {desk}{since}: {finding.Text ?? finding.Id}"));
        if (finding.Why is { Length: > 0 } why)
            text.Append(Line($"  {why}"));
        if (finding.Do is { Length: > 0 } act)
            text.Append(Line($"  {act}"));
        var state = finding.State switch
        {
            "acknowledged" => $"  {finding.By} knows, until {Time(finding.Until, report.At)}",
            "held" => finding.By is null ? "  put aside: an expected change" : $"  put aside by {finding.By} until {Time(finding.Until, report.At)}: {finding.Reason}",
            "unstable" => "  it comes and goes",
            "lapsed" => "  on plan again, and nobody has said that they knew",
            "settling" => "  not told yet: the desk is being read",
            "inhibited" => "  told as part of a bulk change",
            _ => null,
        };
        if (state is not null)
            text.Append(Line(state));
        text.Append(Line($"  id: {(report.Desks.Count > 1 ? finding.Key : finding.Id)}"));
    }

    private static void Append(StringBuilder text, DeskReport desk, DateTimeOffset at)
    {
        if (desk.Link == "down")
        {
            text.Append(Line($"{desk.Name}: not watched; it is tried again, see the log"));
            return;
        }

        var next = desk.NextAt is { } when ? $", {desk.NextPhase} at {Time(when, at)}" : "";
        text.Append(Line($"{desk.Name}: {desk.Show}, {desk.Phase}{(desk.Cue is null ? "" : $", cue {desk.Cue}")} since {Time(desk.Since, at)}{next}"));
        var heard = desk.SilentSeconds is { } silent ? $"heard {Span(TimeSpan.FromSeconds(silent))} ago" : "never heard";
        var read = desk.ReadSecondsAgo is { } ago ? $"read whole {Span(TimeSpan.FromSeconds(ago))} ago" : "not read whole yet";
        var link = desk.Link switch { "following" => "followed", "lost" => "LOST", _ => "being read" };
        text.Append(Line($"  {link} at {desk.Address}, {heard}, {read}; {desk.Verified:N0} of {desk.Planned:N0} planned settings seen{(desk.CannotTell > 0 ? $", {desk.CannotTell:N0} checks cannot be judged" : "")}"));
    }

    private static string SinkWords(SinkReport sink) => sink.State switch
    {
        "stopped" => $"told nothing any more: {sink.LastError}; change its settings and restart",
        "failing" => $"FAILING, {sink.Waiting:N0} wait: {sink.LastError}",
        _ => $"up, {sink.Delivered:N0} told{(sink.Waiting > 0 ? $", {sink.Waiting:N0} wait" : "")}",
    };

    private static string Line(string line) => PlainText.Clean(line) + "\n";

    private static string Day(DateTimeOffset at) => at.ToLocalTime().ToString("yyyy-MM-dd HH:mm:ss zzz", CultureInfo.InvariantCulture);

    private static string Time(DateTimeOffset? time, DateTimeOffset now)
    {
        if (time?.ToLocalTime() is not { } local)
            return "?";
        return local.ToString(local.Date == now.ToLocalTime().Date ? "HH:mm:ss" : "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
    }

    private static string Span(TimeSpan span) => span.TotalSeconds switch
    {
        < 10 => $"{Math.Max(0, span.TotalSeconds):0.0} s",
        < 120 => $"{span.TotalSeconds:0} s",
        < 7200 => $"{span.TotalMinutes:0} min",
        < 172_800 => $"{span.TotalHours:0} h",
        _ => $"{span.TotalDays:0} days",
    };
}
