using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Reports;

/// <summary>What on a strip may close by itself or does something the desk does not tell: never credited as open or closed.</summary>
internal static class TraceConditions
{
    /// <summary>The settings that tell of conditions, on all strips that carry audio.</summary>
    public static IEnumerable<int> Settings(DeskProfile profile) => profile.Settings
        .Where(setting => SettingCatalogue.AudioStrips.Contains(setting.Kind.StripKind) && setting.Kind.Suffix is "gate/on" or "gate/key" or "automix" or "insert/#" or "insert/#/in")
        .Select(setting => setting.Id);

    /// <summary>The conditions of one strip, in the order of its settings.</summary>
    public static IEnumerable<TraceCondition> Of(ShowPlan plan, Strip strip, DeskState state)
    {
        var profile = plan.Profile;
        foreach (var id in profile.SettingsOf(strip.Id).ToArray())
        {
            var setting = profile.Settings[id];
            if (setting.Kind.Suffix is not ("gate/on" or "gate/key" or "automix" or "insert/#/in"))
                continue;
            if (!state.IsFresh(id))
                yield return new TraceCondition(strip.Path, setting.Path, $"{setting.Kind.Words} not seen");
            else if (Words(profile, setting, state) is { } words)
                yield return new TraceCondition(strip.Path, setting.Path, words);
        }
    }

    private static string? Words(DeskProfile profile, Setting setting, DeskState state)
    {
        var value = state[setting.Id];
        var acts = value.Kind == ValueKind.Switch ? value.IsOn : value != setting.Reset;
        if (!acts)
            return null;
        switch (setting.Kind.Suffix)
        {
            case "gate/on":
                return "its gate may close";
            case "gate/key":
                // Without the gate the key does nothing.
                return profile.Find(setting.Path[..^"key".Length] + "on") is >= 0 and var gate && state.IsFresh(gate) && !state[gate].IsOn
                    ? null : $"keyed from {PlainText.Clean(profile.Format(value), 60)}: that may duck it";
            case "automix":
                return "the automix turns it down while others speak";
            default:
                var unit = profile.Find(setting.Path[..^"/in".Length]);
                return unit >= 0 && state.IsFresh(unit) && state[unit] == profile.Settings[unit].Reset ? null
                    : $"insert {(unit >= 0 && state.IsFresh(unit) ? PlainText.Clean(profile.Format(state[unit]), 60) : setting.Path)} is in: what it does is not seen";
        }
    }
}
