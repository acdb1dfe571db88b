using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Reports;

/// <summary>A waiver and what one sweep makes of it.</summary>
/// <param name="Line">The waiver.</param>
/// <param name="Active">Whether it still counts on the day of the sweep, in the show's time zone, or the sweep's own where the plan names none.</param>
/// <param name="Finding">The finding it is about, or null when this sweep has none.</param>
/// <param name="Judged">Whether the sweep could have made the finding: false when its settings were not read.</param>
public sealed record WaiverStatus(WaiverLine Line, bool Active, Finding? Finding, bool Judged)
{
    /// <summary>Whether a finding is known and accepted for now.</summary>
    public bool Counts => Active && Finding is not null;

    /// <summary>Who waived it, until when and why; or that it is over.</summary>
    public string Words => Active ? $"waived by {Line.Owner} until {Line.UntilText}: {Line.Why}" : $"the waiver of {Line.Owner} ended on {Line.UntilText}: {Line.Why}";

    /// <summary>The waivers of a sweep's plan in the order of the plan.</summary>
    public static IReadOnlyList<WaiverStatus> Of(SweepResult result)
    {
        var lines = result.Subject.Plan.Document.Waivers;
        if (lines.Count == 0)
            return [];
        var today = result.Subject.Day;
        var found = result.Audit.Findings.ToDictionary(finding => finding.Id, StringComparer.Ordinal);
        var unseen = result.Unseen.Select(item => item.Setting)
            .Concat(result.Audit.CannotTell.Select(item => $"{item.Rule}:{item.Subject}")).ToHashSet(StringComparer.Ordinal);
        var read = result.Read.End is not (ReadEnd.Silent or ReadEnd.AnotherDesk);
        return [.. lines.Select(line => new WaiverStatus(line, line.IsActive(today), found.GetValueOrDefault(line.Finding.Text),
            read && !unseen.Contains(line.Subject) && !unseen.Contains(line.Finding.Text)))];
    }
}
