using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// What arrives where as planned. The source's own strip is taken as open at 0 dB: mute, fader, DCAs and mute groups of a microphone are the
/// hand's, in every phase, and say nothing about the way behind it.
/// </summary>
internal sealed class PlannedFlow
{
    private readonly SettingValue[] _own;
    private readonly SettingValue[] _unseen;
    private readonly int[] _settings;
    private readonly int[] _stripOf;
    private readonly int[]?[] _ownOf;

    /// <summary>Computes the flow as planned.</summary>
    public PlannedFlow(ShowPlan plan)
    {
        Plan = plan;
        Map = RoutingMap.Of(plan.Profile, plan);
        Routing = new DeskRouting(Map, plan.Profile.Behaviour);
        _settings = [.. Routing.Inputs, .. WayDelays.Settings(Map)];
        _own = new SettingValue[plan.Profile.Settings.Count];
        _unseen = new SettingValue[plan.Profile.Settings.Count];
        foreach (var setting in plan.Profile.Settings)
        {
            _unseen[setting.Id] = NeutralValue.Of(setting);
            // A talk key is held for a moment: its routes are looked at as if it were.
            if (setting.Kind.Suffix is "gain" or "talk/#/on")
                _own[setting.Id] = NeutralValue.Of(setting);
        }

        _stripOf = new int[plan.Profile.Settings.Count];
        Array.Fill(_stripOf, -1);
        _ownOf = new int[]?[Map.Strips.Count];
        for (var strip = 0; strip < Map.Strips.Count; strip++)
        {
            if (IsInput(Map.Strips[strip]))
                TakeAsOpen(strip);
        }

        var planned = new DeskState(plan.Profile);
        foreach (var id in _settings)
        {
            var value = _own[id].HasValue ? _own[id] : plan.For(id)?.Planned ?? _unseen[id];
            if (value.HasValue)
                planned.Apply(id, value);
        }

        // What the cue closes is closed, whoever does it.
        foreach (var closing in plan.Cue?.Closed ?? [])
        {
            if (plan.Profile.Find($"{closing.Strip.Strip.Path}/on") is >= 0 and var on && !_own[on].HasValue)
                planned.Apply(on, Parse(on, "off"));
            else if (plan.Profile.Find($"{closing.Strip.Strip.Path}/fader") is >= 0 and var fader && !_own[fader].HasValue)
                planned.Apply(fader, Parse(fader, "-inf"));
        }

        Routing.Load(planned);
        Stages = new StageReader(Routing, planned);
    }

    /// <summary>The plan.</summary>
    public ShowPlan Plan { get; }

    /// <summary>What sits where.</summary>
    public RoutingMap Map { get; }

    /// <summary>The gains.</summary>
    public DeskRouting Routing { get; }

    /// <summary>Reads the stages of a planned way.</summary>
    public StageReader Stages { get; }

    /// <summary>Every setting that a flow depends on.</summary>
    public ReadOnlySpan<int> Settings => _settings;

    /// <summary>Whether a strip is an input.</summary>
    public bool IsInput(StripStages strip) => Plan.Profile.Strips[strip.Strip].Kind == "input";

    /// <summary>The settings of an input's own that are taken as open.</summary>
    public ReadOnlySpan<int> OwnOf(int strip) => _ownOf[strip];

    /// <summary>The input, as index among the map's strips, whose own a setting is; -1 for any other.</summary>
    public int StripOf(int setting) => _stripOf[setting];

    /// <summary>The value that a setting is taken for whatever the desk has; none for one that counts as it is.</summary>
    public SettingValue OwnValue(int setting) => _own[setting];

    /// <summary>What a setting is taken for while nobody has seen it, or none.</summary>
    public SettingValue UnseenValue(int setting) => _unseen[setting];

    private void TakeAsOpen(int number)
    {
        var strip = Map.Strips[number];
        int[] own = [strip.On, strip.Fader, strip.Trim, .. strip.Dcas.Select(dca => dca.Member), .. strip.MuteGroups.Select(group => group.Member)];
        _ownOf[number] = [.. own.Where(id => id >= 0)];
        foreach (var id in _ownOf[number]!)
        {
            _stripOf[id] = number;
            _own[id] = Parse(id, id == strip.On ? "on" : id == strip.Fader || id == strip.Trim ? "0 dB" : "off");
        }
    }

    private SettingValue Parse(int setting, string text) => NeutralValue.Parse(Plan.Profile.Settings[setting], text);
}
