using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>
/// What may be changed to open a way, and to what: to the plan's value where that opens it, else to the neutral one (on, 0 dB, middle).
/// Never phantom power, never a patch, never a way the plan switches off.
/// </summary>
internal sealed class OpeningRules(ShowPlan plan, RoutingMap map)
{
    /// <summary>Whether a way may lead over an edge at all.</summary>
    /// <param name="number">The edge.</param>
    /// <param name="plannedOnly">Whether only ways that the plan itself makes are looked at.</param>
    public bool MayUse(int number, bool plannedOnly)
    {
        var edge = map.Edges[number];
        if (edge.Kind is not (EdgeKind.Assign or EdgeKind.Send or EdgeKind.Talk))
            return true;
        var planned = plan.For(edge.On);
        return planned is null ? !plannedOnly : planned.Planned.IsOn;
    }

    /// <summary>The value that opens a stage, or null when this setting must not be touched for it.</summary>
    public SettingValue? OpenValue(Stage stage)
    {
        if (stage.Setting < 0 || stage.Kind is StageKind.Patch or StageKind.Gain or StageKind.Trim)
            return null;
        if (plan.For(stage.Setting) is { } expectation && Opens(stage.Kind, expectation.Planned))
            return expectation.Planned;
        var text = stage.Kind switch
        {
            StageKind.MuteGroup => "off",
            StageKind.Fader or StageKind.DcaFader or StageKind.SendLevel => "0 dB",
            StageKind.Pan => map.Profile.Settings[stage.Setting].Codec.AfterReset.Unit == Unit.Percent ? "0 %" : "0",
            _ => "on",
        };
        // A level whose scale ends below 0 dB opens at its top.
        return map.Profile.Settings[stage.Setting].Codec.TryParse(text, out var value, out _) ? value : null;
    }

    /// <summary>How far a change goes away from the plan: 0 when it does what the plan says or the plan says nothing.</summary>
    public int Deviation(int setting, SettingValue value) => plan.For(setting) is { } expectation && !expectation.Allows(value) ? 1 : 0;

    private static bool Opens(StageKind kind, SettingValue value) => kind switch
    {
        StageKind.MuteGroup => !value.IsOn,
        StageKind.Fader or StageKind.DcaFader or StageKind.SendLevel => !double.IsNegativeInfinity(value.Number),
        StageKind.Pan => false,
        _ => value.IsOn,
    };
}
