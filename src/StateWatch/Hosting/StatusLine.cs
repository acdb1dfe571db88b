using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;

namespace StateWatch.Hosting;

/// <summary>How everything stands in one line, for the manager that started the service.</summary>
internal static class StatusLine
{
    public static string Of(WatchSite site, HistoryWriter writer)
    {
        var followed = site.Desks.Count(static desk => desk.Loop.StatusNow is { Following: FollowPhase.Following });
        var (planned, verified) = (0, 0);
        foreach (var desk in site.Desks)
        {
            planned += desk.Loop.StatusNow?.Coverage.Planned ?? 0;
            verified += desk.Loop.StatusNow?.Coverage.Verified ?? 0;
        }

        var open = site.Standing.Select(static item => item.Finding).Where(static finding => finding.Record.Level.IsOpen).ToList();
        var urgent = open.Count(static finding => finding.Record.Severity == Severity.Urgent);
        return $"{followed} of {site.Desks.Count} desks followed; {open.Count} findings, {urgent} urgent; {verified} of {planned} settings seen{(writer.IsFailing ? "; NOTHING CAN BE STORED" : "")}";
    }
}
