using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// How loud sources are at the feeds that guards name, by whatever way: levels, taps, connections and DCAs as the desk has them. Mutes are taken as open
/// and pans and patches as planned, since they are no level and have rules of their own; what comes back from effects is left out. What was not seen is
/// taken as open where it is a level, and as not there where it is a way. Ways add by power (Ballou, Handbook for Sound Engineers: incoherent sums).
/// </summary>
internal sealed class LevelFlow
{
    private readonly SettingValue[] _unseen = [];
    private readonly bool[] _decides = [];
    private readonly PendingSet _waiting = new(0);
    private readonly DeskState? _view;
    private readonly DeskRouting? _live;
    private readonly DerivedFacts _facts;
    private readonly GuardedLevel[] _levels = [];
    private bool _isLoaded;

    /// <summary>Prepares the guards of a plan; touch all and update before anything is asked.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="map">What sits where.</param>
    /// <param name="facts">Where facts are numbered.</param>
    /// <param name="baseline">What guards measure from; null where only the plan is known.</param>
    public LevelFlow(ShowPlan plan, RoutingMap map, DerivedFacts facts, IReadOnlyList<BaselineLevel>? baseline)
    {
        _facts = facts;
        IsWatch = baseline is not null;
        // Every plan has one, every cue makes a plan anew, and a routing graph is large.
        if (plan.Guards.Count == 0)
            return;
        _unseen = new SettingValue[plan.Profile.Settings.Count];
        _decides = new bool[_unseen.Length];
        _waiting = new PendingSet(_unseen.Length);
        _view = new DeskState(plan.Profile);
        _live = new DeskRouting(map, plan.Profile.Behaviour, cutsEffects: true);
        var planned = Prepare(plan, map, _view, _live);
        var routing = new DeskRouting(map, plan.Profile.Behaviour, cutsEffects: true);
        routing.Load(planned);
        var ways = new PlannedWays(plan, routing, planned);
        var known = new Dictionary<(string, string), double>();
        foreach (var level in baseline ?? [])
            known.TryAdd((level.Feed, level.Source), level.Level);
        var pairs = plan.Guards.SelectMany(guard => guard.Strips.Select(strip => (guard, strip))).ToList();
        var first = facts.Reserve(pairs.Count);
        _levels = [.. pairs.Select((pair, index) => new GuardedLevel(plan, pair.guard, pair.strip, ways, routing,
            known.TryGetValue((pair.guard.Line.LevelAt.Text, pair.strip.Strip.Path), out var level) ? level : null, first + index))];
    }

    /// <summary>Every source of every guard, in the order of the plan.</summary>
    public IReadOnlyList<GuardedLevel> All => _levels;

    /// <summary>Whether a watch asks, which knows how long something lasts; a sweep sees one moment.</summary>
    public bool IsWatch { get; }

    /// <summary>Settings on the ways of all guards, to be read in every phase: a level that was not seen cannot be measured from later.</summary>
    public IEnumerable<int> Wanted => All.SelectMany(static level => level.Settings);

    /// <summary>The nodes of a strip.</summary>
    public static int[] NodesOf(RoutingMap map, int strip) => map.Strips.FirstOrDefault(stages => stages.Strip == strip)?.Nodes ?? [];

    /// <summary>Notes that a setting has another value, or is fresh or no longer so.</summary>
    public void Touch(int setting)
    {
        if (_levels.Length > 0 && _decides[setting])
            _waiting.Add(setting);
    }

    /// <summary>Notes that every setting may have another value.</summary>
    public void TouchAll()
    {
        for (var setting = 0; setting < _decides.Length; setting++)
            Touch(setting);
    }

    /// <summary>Computes what the noted changes reach, and notes the levels that changed. Allocates nothing after the first time, but for circles larger than there ever were.</summary>
    public void Update(DeskState state)
    {
        if (_view is null || _live is null)
            return;
        var changed = !_isLoaded;
        foreach (var setting in _waiting.Take())
            changed |= Take(setting, state, _view, _live);
        if (!changed)
            return;
        if (_isLoaded)
            _live.Update(_view);
        else
            _live.Load(_view);
        _isLoaded = true;
        foreach (var level in _levels)
        {
            if (level.Read(_live.Graph))
                _facts.Mark(level.Fact);
        }
    }

    private bool Take(int setting, DeskState state, DeskState view, DeskRouting live)
    {
        var value = state.IsFresh(setting) ? state[setting] : _unseen[setting];
        if (view[setting] == value)
            return false;
        if (value.HasValue)
            view.Apply(setting, value);
        else
            view.MarkUnseen(setting, UnseenReason.NotAsked);
        live.Touch(setting);
        return true;
    }

    // Puts into the view what does not move there, and gives the state as planned.
    private DeskState Prepare(ShowPlan plan, RoutingMap map, DeskState view, DeskRouting live)
    {
        var planned = new DeskState(plan.Profile);
        var isFixed = Fixed(map);
        foreach (var id in live.Inputs)
        {
            _unseen[id] = NeutralValue.Of(plan.Profile.Settings[id]);
            _decides[id] = !isFixed[id];
            var value = plan.For(id)?.Planned ?? _unseen[id];
            if (!value.HasValue)
                continue;
            planned.Apply(id, value);
            if (isFixed[id])
                view.Apply(id, value);
        }

        foreach (var (setting, open) in OpenMutes.Of(map))
        {
            if (!open.HasValue)
                continue;
            planned.Apply(setting, open);
            view.Apply(setting, open);
        }

        return planned;
    }

    private static bool[] Fixed(RoutingMap map)
    {
        var isFixed = new bool[map.Profile.Settings.Count];
        foreach (var (setting, _) in OpenMutes.Of(map))
            isFixed[setting] = true;
        foreach (var strip in map.Strips)
            Fix([strip.Source, strip.DirectOut, strip.Polarity, .. strip.MuteGroups.Select(static group => group.Member)]);
        foreach (var output in map.Outputs)
            Fix([output.Source, output.Polarity]);
        foreach (var edge in map.Edges)
            Fix(edge.Kind == EdgeKind.Talk ? [edge.On, edge.Level] : [edge.Pan, edge.PanFollow, edge.Link]);
        return isFixed;

        void Fix(int[] settings)
        {
            foreach (var setting in settings.Where(static setting => setting >= 0))
                isFixed[setting] = true;
        }
    }
}
