using StateWatch.Core.Routing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>Everything that can shut a way without being a level or a connection, and what it is when it does not.</summary>
internal static class OpenMutes
{
    /// <summary>Mutes of strips, DCAs and outputs, on; mute groups, not active. A setting may come more than once.</summary>
    public static IEnumerable<(int Setting, SettingValue Open)> Of(RoutingMap map) => Words(map).Where(mute => mute.Setting >= 0)
        .Select(mute => (mute.Setting, NeutralValue.Parse(map.Profile.Settings[mute.Setting], mute.Word)));

    private static IEnumerable<(int Setting, string Word)> Words(RoutingMap map)
    {
        foreach (var strip in map.Strips)
        {
            yield return (strip.On, "on");
            foreach (var (_, on, _) in strip.Dcas)
                yield return (on, "on");
            foreach (var (_, active) in strip.MuteGroups)
                yield return (active, "off");
        }

        foreach (var output in map.Outputs)
            yield return (output.On, "on");
    }
}
