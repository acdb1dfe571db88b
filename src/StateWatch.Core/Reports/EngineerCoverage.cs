using System.Globalization;
using StateWatch.Core.Auditing;

namespace StateWatch.Core.Reports;

/// <summary>The part of the engineer's page that says what was not seen, not judged, and how the link behaved.</summary>
internal static class EngineerCoverage
{
    private const int Most = 20;

    public static void Write(TextPage page, SweepResult result)
    {
        WriteUnseen(page, result);
        WriteCannotTell(page, result.Audit);
        var unfit = result.Audit.NotApplicable;
        if (unfit.Count > 0)
        {
            page.Blank();
            page.Add(string.Join(", ", unfit.Select(rule => rule.Id)), "Rules without data in this plan or profile: ", 3);
        }

        page.Blank();
        WriteLink(page, result);
        page.Add($"read {result.Read.Elapsed.TotalMilliseconds:N1} ms, judged in {result.AuditTime.TotalMilliseconds:N1} ms", "Timing: ", 8);
    }

    private static void WriteUnseen(TextPage page, SweepResult result)
    {
        if (result.Unseen.Count == 0)
            return;
        page.Blank();
        page.Add($"Not verified: {Sentences.Count(result.Unseen.Count, "planned setting")}", tint: Tint.Warning);
        var profile = result.Subject.Plan.Profile;
        foreach (var reason in result.Unseen.GroupBy(unseen => unseen.Reason))
        {
            page.Add($"{reason.Key}: {(reason.Count() == result.Planned ? "all of them" : reason.Count().ToString("N0", CultureInfo.InvariantCulture))}", "   ", 5);
            if (reason.Count() == result.Planned)
                continue;
            foreach (var kind in reason.GroupBy(unseen => profile.Settings[profile.Find(unseen.Setting)].Kind.Shape))
                WriteList(page, $"{kind.Key} ({kind.Count():N0}): ", [.. kind.Select(unseen => unseen.Setting)]);
        }
    }

    private static void WriteCannotTell(TextPage page, AuditResult audit)
    {
        if (audit.CannotTell.Count == 0)
            return;
        page.Blank();
        page.Add($"Cannot tell: {Sentences.Count(audit.CannotTell.Count, "check")} without fresh values", tint: Tint.Warning);
        foreach (var rule in audit.CannotTell.GroupBy(undecided => undecided.Rule))
            WriteList(page, $"{rule.Key} ({rule.Count():N0}), missing: ", [.. rule.SelectMany(undecided => undecided.Missing).Distinct()]);
    }

    private static void WriteList(TextPage page, string lead, List<string> items) =>
        page.Add(lead + string.Join(", ", items.Take(Most)) + (items.Count > Most ? $" and {items.Count - Most:N0} more" : ""), "     ", 7);

    private static void WriteLink(TextPage page, SweepResult result)
    {
        var (link, decoded) = (result.Link, result.Decoded);
        page.Add($"{Sentences.Count(link.Sent, "question")} sent, {Sentences.Count(link.Received, "datagram")} received", "Link:   ", 8);
        foreach (var (count, words) in ((long, string)[])
        [
            (link.Foreign, "came from another address than the desk's and were dropped"),
            (link.Dropped, "were lost here because too many came at once"),
            (link.TooLong, "were too long and dropped"),
            (link.Refused, "questions were refused by the network: nobody listens there, or no route"),
            (decoded.Malformed, "packets or parts of them were not OSC"),
            (decoded.Unknown, "messages had an address the profile does not know"),
            (decoded.NotUnderstood, "values could not be read by the profile's codecs"),
        ])
        {
            if (count > 0)
                page.Add($"{count:N0} {words}", "        ", 8);
        }
    }
}
