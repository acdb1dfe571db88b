using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>The state of a desk that is exactly as planned, for virtual desks.</summary>
public static class PlannedState
{
    /// <summary>
    /// Every planned value; besides, planned strips are open with the fader at 0 dB, as nobody plans what everybody moves, and planned
    /// sends without a planned level stand at -10 dB. At a cue, what it closes is muted.
    /// </summary>
    public static IEnumerable<(int Setting, SettingValue Value)> Of(ShowPlan plan)
    {
        foreach (var strip in plan.Strips)
        {
            var isClosed = plan.Cue?.ClosingOf(strip.Strip.Id) is not null;
            var mute = Parse(plan, $"{strip.Strip.Path}/on", isClosed ? "off" : "on");
            if (mute is not null)
                yield return mute.Value;
            if (Parse(plan, $"{strip.Strip.Path}/fader", isClosed && mute is null ? "-inf" : "0 dB") is { } fader)
                yield return fader;
        }

        // What is open at a cue is held down by no DCA.
        for (var number = plan.Cue is null ? 0 : plan.Profile.Counts.Strips("dca"); number > 0; number--)
        {
            if (Parse(plan, $"dca/{number}/on", "on") is { } on)
                yield return on;
            if (Parse(plan, $"dca/{number}/fader", "0 dB") is { } fader)
                yield return fader;
        }

        foreach (var expectation in plan.Expectations)
        {
            yield return (expectation.Setting, expectation.Planned);
            var setting = plan.Profile.Settings[expectation.Setting];
            if (setting.Kind.Suffix != "send/<bus>/#/on" || !expectation.Planned.IsOn)
                continue;
            var path = setting.Path[..^"on".Length] + "level";
            if (Parse(plan, path, "-10 dB") is { } level && plan.For(level.Setting) is null)
                yield return level;
        }
    }

    private static (int Setting, SettingValue Value)? Parse(ShowPlan plan, string path, string text)
    {
        var id = plan.Profile.Find(path);
        return id >= 0 && plan.Profile.Settings[id].Codec.TryParse(text, out var value, out _) ? (id, value) : null;
    }
}
