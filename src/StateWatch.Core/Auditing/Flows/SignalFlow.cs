using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
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
    private readonly bool[] _decides;
    private readonly int[] _stripOf;
    private readonly Dictionary<int, int> _stripBySource = [];
    private readonly int[]?[] _ownOf;
    private readonly bool[] _asIs;
    private readonly PendingSet _waiting;
    private readonly NodeSet _looked;
    private readonly NodeSet _reached;
    private readonly int[] _climb;
    private readonly int _anyFact;
    private bool _isLoaded;
    private readonly List<int> _between = [];

    /// <summary>Computes the flow as planned.</summary>
    public SignalFlow(ShowPlan plan)
    {
        Plan = plan;
        Map = RoutingMap.Of(plan.Profile, plan);
        View = new DeskState(plan.Profile);
        Live = new DeskRouting(Map, plan.Profile.Behaviour);
        Planned = new DeskRouting(Map, plan.Profile.Behaviour);
        _settings = [.. Planned.Inputs, .. WayDelays.Settings(Map)];
        _own = new SettingValue[plan.Profile.Settings.Count];
        _unseen = new SettingValue[plan.Profile.Settings.Count];
        foreach (var setting in plan.Profile.Settings)
        {
            _unseen[setting.Id] = NeutralValue.Of(setting);
            // A talk key is held for a moment: its routes are looked at as if it were.
            if (setting.Kind.Suffix is "gain" or "talk/#/on")
                _own[setting.Id] = NeutralValue.Of(setting);
        }

        _decides = new bool[plan.Profile.Settings.Count];
        foreach (var id in _settings)
            _decides[id] = true;
        _stripOf = new int[plan.Profile.Settings.Count];
        Array.Fill(_stripOf, -1);
        _ownOf = new int[]?[Map.Strips.Count];
        _asIs = new bool[Map.Strips.Count];
        for (var strip = 0; strip < Map.Strips.Count; strip++)
        {
            var isInput = plan.Profile.Strips[Map.Strips[strip].Strip].Kind == "input";
            if (isInput)
                TakeAsOpen(strip);
            if (Map.Strips[strip].Loopback >= 0)
                _stripBySource.Add(Map.Strips[strip].Source, strip);
            // A source's own delay is the same for all its ways; what counts is what stands in the middle of one.
            if (isInput && !Planned.MayDrawFromBus(Map.Strips[strip]))
                continue;
            Between.Add(Map.Strips[strip]);
            _between.AddRange(((int[])[Map.Strips[strip].Delay, .. isInput ? (int[])[Map.Strips[strip].On, Map.Strips[strip].Fader, Map.Strips[strip].Trim] : []]).Where(setting => setting >= 0));
        }

        Facts = new DerivedFacts(plan.Profile.Settings.Count);
        _anyFact = Facts.Reserve(1);
        _waiting = new PendingSet(plan.Profile.Settings.Count);
        _looked = new NodeSet(Map.Nodes.Count);
        _reached = new NodeSet(Map.Nodes.Count);
        _climb = new int[Map.Nodes.Count];
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
        Ratios = new RatioFlow(this);
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

    /// <summary>Numbers of what is derived from the flow, and which of it changed.</summary>
    public DerivedFacts Facts { get; }

    /// <summary>The number of the fact that anything of the flow changed: for checks that look at all of it.</summary>
    public int AnyFact => _anyFact;

    /// <summary>Sources that do not arrive where they must.</summary>
    public MustCarryFlow MustCarry { get; }

    /// <summary>Buses that feed each other.</summary>
    public CircleFlow Circles { get; }

    /// <summary>Ways the plan does not make.</summary>
    public ExtraWays Extra { get; }

    /// <summary>Feeds that hang on one they must not hang on.</summary>
    public DependentFlow Dependent { get; }

    /// <summary>Ratios of levels at feeds.</summary>
    public RatioFlow Ratios { get; }

    /// <summary>
    /// Settings that are asked for besides the inputs of checks, so that ways are followed at their levels: where they are not seen nothing
    /// is untold, but a send that is on counts as open.
    /// </summary>
    public IEnumerable<int> Wanted => MustCarry.Wanted.Concat(Extra.Levels).Concat(Plan.Feeds.Count > 0 && Plan.Strips.Count > 0 ? _between : []);

    /// <summary>Notes that a setting has another value, or is fresh or no longer so.</summary>
    public void Touch(int setting)
    {
        if (_decides[setting])
            _waiting.Add(setting);
    }

    /// <summary>Notes that every setting may have another value.</summary>
    public void TouchAll()
    {
        foreach (var setting in _settings)
            _waiting.Add(setting);
    }

    /// <summary>
    /// Computes what the noted changes reach, to the last bit as if everything were computed from the state. The facts that changed are noted
    /// in <see cref="Facts"/>. Allocates nothing after the first time, but for lists that outgrow what they ever held and
    /// for changes that may make a feed hang on another one.
    /// </summary>
    public void Update(DeskState state)
    {
        var waiting = _waiting.Take();
        var changed = !_isLoaded;
        // An input that takes its signal from a bus is a piece of the way, not a source.
        foreach (var id in waiting)
        {
            if (_stripBySource.TryGetValue(id, out var strip))
                changed |= TakeSource(strip, state);
        }

        foreach (var id in waiting)
        {
            changed |= Take(id, state);
            Dependent.TouchMember(id, state);
        }

        if (changed)
            FollowChanges();
        Dependent.Update(state);
    }

    private void FollowChanges()
    {
        if (_isLoaded)
            Live.Update(View);
        else
            Live.Load(View);
        _isLoaded = true;
        Facts.Mark(_anyFact);
        Follow();
        MustCarry.Update(_reached);
        Circles.Update();
        Extra.Update(_looked);
    }

    // Everything from which ways lead to what the graph has looked at: a row that came out the same does not stop it, since rows add up ways that
    // the facts tell apart.
    private void Follow()
    {
        _looked.Clear();
        _reached.Clear();
        var count = 0;
        foreach (var node in Live.Graph.Looked)
        {
            _looked.Add(node);
            _reached.Add(node);
            _climb[count++] = node;
        }

        while (count > 0)
        {
            foreach (var edge in Live.Graph.EdgesInto(_climb[--count]))
            {
                if (Live.Graph.GainOf(edge) != 0 && Live.Graph.SourceOf(edge) is >= 0 and var from && _reached.Add(from))
                    _climb[count++] = from;
            }
        }
    }

    private bool TakeSource(int strip, DeskState state)
    {
        var changed = Take(Map.Strips[strip].Source, state);
        _asIs[strip] = Live.IsFedByStrip(Map.Strips[strip], View);
        foreach (var id in _ownOf[strip] ?? [])
            changed |= Take(id, state);
        return changed;
    }

    private bool Take(int setting, DeskState state)
    {
        var isFresh = state.IsFresh(setting);
        var isOwn = _own[setting].HasValue && !(isFresh && _stripOf[setting] is >= 0 and var strip && _asIs[strip]);
        var value = isOwn ? _own[setting] : isFresh ? state[setting] : _unseen[setting];
        var before = View[setting];
        if (before == value)
            return false;
        if (value.HasValue)
            View.Apply(setting, value);
        else
            View.MarkUnseen(setting, UnseenReason.NotAsked);
        Live.Touch(setting);
        MustCarry.Touch(setting);
        Dependent.Touch(setting, before, value);
        return true;
    }

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
