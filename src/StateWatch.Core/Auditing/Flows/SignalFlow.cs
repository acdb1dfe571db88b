using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// What arrives where, live and as planned, for rules about ways. The source's own strip is taken as open at 0 dB in both: mute, fader, DCAs
/// and mute groups of a microphone are the hand's, in every phase, and say nothing about the way behind it. What was not seen is taken as
/// open where it is a level or mute, and as not there where it is a way: the rules say which ways they could not tell of.
/// </summary>
internal sealed class SignalFlow
{
    private readonly SettingValue[] _own;
    private readonly SettingValue[] _unseen;
    private readonly int[] _settings;
    private readonly List<int> _between = [];

    /// <summary>Computes the flow as planned.</summary>
    public SignalFlow(ShowPlan plan)
    {
        Plan = plan;
        Map = RoutingMap.Of(plan.Profile, plan);
        View = new DeskState(plan.Profile);
        Live = new DeskRouting(Map, plan.Profile.Behaviour);
        Planned = new DeskRouting(Map, plan.Profile.Behaviour);
        _settings = [.. Planned.Inputs];
        _own = new SettingValue[plan.Profile.Settings.Count];
        _unseen = new SettingValue[plan.Profile.Settings.Count];
        foreach (var setting in plan.Profile.Settings)
        {
            _unseen[setting.Id] = Neutral(setting);
            // A talk key is held for a moment: its routes are looked at as if it were.
            if (setting.Kind.Suffix is "gain" or "talk/#/on")
                _own[setting.Id] = Neutral(setting);
        }

        foreach (var strip in Map.Strips)
        {
            var isInput = plan.Profile.Strips[strip.Strip].Kind == "input";
            if (isInput)
                TakeAsOpen(strip);
            // A source's own delay is the same for all its ways; what counts is what stands in the middle of one.
            if (isInput && !Planned.MayDrawFromBus(strip))
                continue;
            Between.Add(strip);
            _between.AddRange(((int[])[strip.Delay, .. isInput ? (int[])[strip.On, strip.Fader, strip.Trim] : []]).Where(setting => setting >= 0));
        }

        Delays = new WayDelays(Map, View);

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

        Planned.Load(planned);
        PlannedStages = new StageReader(Planned, planned);
        MustCarry = new MustCarryFlow(this);
        Circles = new CircleFlow(this);
        Extra = new ExtraWays(this);
        Dependent = new DependentFlow(this);
    }

    /// <summary>The plan.</summary>
    public ShowPlan Plan { get; }

    /// <summary>What sits where.</summary>
    public RoutingMap Map { get; }

    /// <summary>The live state, with every source's own strip open.</summary>
    public DeskState View { get; }

    /// <summary>The live flow.</summary>
    public DeskRouting Live { get; }

    /// <summary>The flow as planned.</summary>
    public DeskRouting Planned { get; }

    /// <summary>How late live ways are.</summary>
    public WayDelays Delays { get; }

    /// <summary>The strips that can stand in the middle of a way: buses, effects' returns, and inputs that can draw from a bus.</summary>
    public List<StripStages> Between { get; } = [];

    /// <summary>Reads the stages of a planned way.</summary>
    public StageReader PlannedStages { get; }

    /// <summary>Sources that do not arrive where they must.</summary>
    public MustCarryFlow MustCarry { get; }

    /// <summary>Buses that feed each other.</summary>
    public CircleFlow Circles { get; }

    /// <summary>Ways the plan does not make.</summary>
    public ExtraWays Extra { get; }

    /// <summary>Feeds that hang on one they must not hang on.</summary>
    public DependentFlow Dependent { get; }

    /// <summary>
    /// Settings that are asked for besides the inputs of checks, so that ways are followed at their levels: where they are not seen nothing
    /// is untold, but a send that is on counts as open.
    /// </summary>
    public IEnumerable<int> Wanted => MustCarry.Wanted.Concat(Extra.Levels).Concat(Plan.Feeds.Count > 0 && Plan.Strips.Count > 0 ? _between : []);

    /// <summary>Computes the live flow of a state.</summary>
    public void Load(DeskState state)
    {
        Fill(state);
        Live.Load(View);
        // An input that takes its signal from a bus is a piece of the way, not a source.
        foreach (var strip in Map.Strips)
        {
            if (strip.Loopback >= 0 && Live.Graph.SourceOf(strip.Loopback) >= 0)
                TakeAsIs(strip, state);
        }

        Live.Update(View);
        MustCarry.Load();
        Circles.Load();
        Dependent.Load(state);
    }

    private void Fill(DeskState state)
    {
        View.StartGeneration();
        foreach (var id in _settings)
        {
            var value = _own[id].HasValue ? _own[id] : state.IsFresh(id) ? state[id] : _unseen[id];
            if (value.HasValue)
                View.Apply(id, value);
        }

        // All of them, whether or not they were asked for: some are planned.
        foreach (var strip in Map.Strips)
        {
            if (strip.Delay >= 0 && state.IsFresh(strip.Delay))
                View.Apply(strip.Delay, state[strip.Delay]);
        }
    }

    private void TakeAsIs(StripStages strip, DeskState state)
    {
        foreach (var id in OwnOf(strip))
        {
            if (id < 0 || !state.IsFresh(id))
                continue;
            View.Apply(id, state[id]);
            Live.Touch(id);
        }
    }

    private void TakeAsOpen(StripStages strip)
    {
        foreach (var id in OwnOf(strip))
        {
            if (id >= 0)
                _own[id] = Parse(id, id == strip.On ? "on" : id == strip.Fader || id == strip.Trim ? "0 dB" : "off");
        }
    }

    private static IEnumerable<int> OwnOf(StripStages strip) =>
        [strip.On, strip.Fader, strip.Trim, .. strip.Dcas.Select(dca => dca.Member), .. strip.MuteGroups.Select(group => group.Member)];

    // What a setting is when nothing is closed and nothing routed.
    private SettingValue Neutral(Setting setting) => setting.Kind.Suffix switch
    {
        "on" or "talk/#/on" => Parse(setting.Id, "on"),
        "fader" or "trim" => Parse(setting.Id, "0 dB"),
        // Scales of gain seldom begin at 0 dB; what counts is that it is the same in both flows.
        "gain" => setting.Reset,
        "send/<bus>/#/level" => Parse(setting.Id, "-10 dB"),
        "active" or "polarity" => Parse(setting.Id, "off"),
        "pan" or "send/<bus>/#/pan" => setting.Reset,
        _ => default,
    };

    private SettingValue Parse(int setting, string text) => Plan.Profile.Settings[setting].Codec.TryParse(text, out var value, out _) ? value : default;
}
