namespace StateWatch.Core.Reports;

/// <summary>The part of the engineer's page about waivers that are over or met no finding; the others stand beside their findings.</summary>
internal static class EngineerWaivers
{
    public static void Write(TextPage page, IReadOnlyList<WaiverStatus> waivers)
    {
        var told = waivers.Where(status => !status.Counts).ToList();
        if (told.Count == 0)
            return;
        page.Blank();
        page.Add("Waivers to look at");
        foreach (var status in told)
        {
            page.Add($"{What(status)}: {status.Line.Finding.Text}", "   - ", 5);
            page.Add($"{status.Words}; {status.Line.Finding.At}", "     ", 5);
        }
    }

    private static string What(WaiverStatus status) => status switch
    {
        { Active: false, Finding: not null } => "expired waiver, the finding is still there",
        { Judged: false } => "waiver that could not be judged, its settings were not read",
        { Active: false } => "expired waiver without a finding",
        _ => "waiver without a finding",
    };
}
