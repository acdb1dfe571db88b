using StateWatch.Core.Auditing;

namespace StateWatch.Core.Reports;

/// <summary>What was found, parted for a volunteer: what nobody answers for yet, and what is known and waived.</summary>
internal sealed class KnownFaults
{
    private const int LongestWords = 160;

    private readonly List<(Cause Cause, WaiverStatus Waiver)> _known;

    private KnownFaults(IReadOnlyList<Cause> open, List<(Cause, WaiverStatus)> known)
    {
        Open = open;
        _known = known;
    }

    /// <summary>Causes of findings without a waiver that counts.</summary>
    public IReadOnlyList<Cause> Open { get; }

    /// <summary>How many known things would otherwise be to fix.</summary>
    public int Serious => _known.Count(item => item.Cause.Severity >= Severity.Warning);

    /// <summary>How many known things there are that would otherwise be to fix, in words: <c>2 known things, 1 urgent</c>.</summary>
    public string Count
    {
        get
        {
            var urgent = _known.Count(item => item.Cause.Severity == Severity.Urgent);
            return $"{Sentences.Count(Serious, "known thing")}{(urgent > 0 ? $", {urgent} urgent" : "")}";
        }
    }

    public static KnownFaults Of(SweepResult result)
    {
        var waivers = result.Waivers.Where(status => status.Counts).ToDictionary(status => status.Line.Finding.Text, StringComparer.Ordinal);
        if (waivers.Count == 0)
            return new KnownFaults(result.Audit.Causes, []);
        // A cause may be waived in part: what is left is grouped anew, so that its words count only what is left.
        var facts = new AuditFacts(result.Subject.Plan);
        var open = CauseGrouping.Group(facts, [.. result.Audit.Findings.Where(finding => !waivers.ContainsKey(finding.Id))]);
        var known = new List<(Cause, WaiverStatus)>();
        foreach (var group in result.Audit.Findings.Where(finding => waivers.ContainsKey(finding.Id)).GroupBy(finding => (waivers[finding.Id].Line.Owner, waivers[finding.Id].Line.Why)))
            known.AddRange(CauseGrouping.Group(facts, [.. group]).Select(cause => (cause, waivers[cause.Findings[0].Id])));
        return new KnownFaults(open, known);
    }

    public void Write(TextPage page)
    {
        if (_known.Count == 0)
            return;
        page.Blank();
        page.Add("KNOWN, STILL NOT AS PLANNED");
        foreach (var (cause, waiver) in _known)
        {
            page.Add($"known: {PlainText.Clean(VolunteerWords.What(cause), LongestWords)}{(cause.Severity == Severity.Urgent ? ", urgent" : "")} "
                + $"({PlainText.Clean(waiver.Line.Owner, LongestWords)} says: {PlainText.Clean(waiver.Line.Why, LongestWords)})", "  - ", 4);
        }
    }
}
