using StateWatch.Alerts;
using StateWatch.Commands;
using StateWatch.Core.Profiles;
using StateWatch.Core.Watching;
using StateWatch.Hosting.Settings;

namespace StateWatch.Hosting;

/// <summary>Makes the sinks of a watch, all of them or none.</summary>
internal static class WatchSinks
{
    /// <summary>Makes them.</summary>
    /// <exception cref="CommandException">Settings of one are wrong, or it is a watched desk (exit 65).</exception>
    public static async Task<IReadOnlyList<IAlertSink>> Make(WatchSettings settings, WatchSite site, WatchOutside outside, ILogger log)
    {
        var names = new PlannedNames();
        // Names of the plans of the start, before any of them is replaced.
        _ = names.With(Plans(site));
        var around = new SinkSurroundings(settings.Site, new SinkGuard(() => Hosts(site), new SystemLookup()), outside.Clock, log) { PlannedNames = () => names.With(Plans(site)) };
        var sinks = new List<IAlertSink>();
        var faults = new List<string>();
        foreach (var one in settings.Sinks)
        {
            var offer = await outside.MakeSink(one, around);
            if (offer.Sink is not null)
                sinks.Add(offer.Sink);
            foreach (var fault in offer.Faults)
            {
                var path = $"sinks:{one.Name}{(fault.Key.Length == 0 ? "" : ":")}{fault.Key}";
                faults.Add($"{settings.PlaceOf?.Invoke(path) ?? "statewatch"}: {path}: {fault.Words}");
            }
        }

        if (faults.Count == 0)
            return sinks;
        foreach (var sink in sinks)
            await sink.DisposeAsync();
        throw new CommandException(ExitCodes.Invalid, string.Join('\n', faults));
    }

    private static DeskHost[] Hosts(WatchSite site) => [.. site.Desks.Select(static desk =>
        desk.Settings.Address is { } address && HostAndPort.TryParse(address, out var host, out var port)
            ? new DeskHost(desk.Key, host, port)
            : new DeskHost(desk.Key, desk.Plan.Profile.Link.Host, desk.Plan.Profile.Link.Port))];

    private static WatchedPlan[] Plans(WatchSite site) => [.. site.Desks.Select(static desk => desk.Plan)];
}
