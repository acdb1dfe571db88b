using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// What arrives where, live and as planned, for rules about ways. The source's own strip is taken as open at 0 dB in both: mute, fader, DCAs
/// and mute groups of a microphone are the hand's, in every phase, and say nothing about the way behind it. What was not seen is taken as
/// open where it is a level or mute, and as not there where it is a way: the rules say which ways they could not tell of.
/// </summary>
internal sealed class SignalFlow
{
    private readonly PlannedFlow _planned;
    private readonly bool[] _decides;
    private readonly Dictionary<int, int> _stripBySource = [];
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
        _planned = new PlannedFlow(plan);
        Plan = plan;
        Map = _planned.Map;
        View = new DeskState(plan.Profile);
        Live = new DeskRouting(Map, plan.Profile.Behaviour);
        _decides = new bool[plan.Profile.Settings.Count];
        foreach (var id in _planned.Settings)
            _decides[id] = true;
        _asIs = new bool[Map.Strips.Count];
        for (var strip = 0; strip < Map.Strips.Count; strip++)
        {
            var isInput = _planned.IsInput(Map.Strips[strip]);
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
        MustCarry = new MustCarryFlow(this);
        Circles = new CircleFlow(this);
        Extra = new ExtraWays(this);
        Dependent = new DependentFlow(this);
        Ratios = new RatioFlow(_planned, Live);
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
    public DeskRouting Planned => _planned.Routing;

    /// <summary>How late live ways are.</summary>
    public WayDelays Delays { get; }

    /// <summary>The strips that can stand in the middle of a way: buses, effects' returns, and inputs that can draw from a bus.</summary>
    public List<StripStages> Between { get; } = [];

    /// <summary>Reads the stages of a planned way.</summary>
    public StageReader PlannedStages => _planned.Stages;

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
        foreach (var setting in _planned.Settings)
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
        foreach (var id in _planned.OwnOf(strip))
            changed |= Take(id, state);
        return changed;
    }

    private bool Take(int setting, DeskState state)
    {
        var isFresh = state.IsFresh(setting);
        var own = _planned.OwnValue(setting);
        var isOwn = own.HasValue && !(isFresh && _planned.StripOf(setting) is >= 0 and var strip && _asIs[strip]);
        var value = isOwn ? own : isFresh ? state[setting] : _planned.UnseenValue(setting);
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
}
