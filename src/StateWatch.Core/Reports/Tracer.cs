using StateWatch.Core.Acoustics;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>Traces sources to feeds in one state of a desk.</summary>
public sealed class Tracer
{
    private readonly ShowPlan _plan;
    private readonly RoutingMap _map;
    private readonly DeskRouting _routing;
    private readonly DeskState _state;
    private readonly StageReader _stages;
    private readonly WaySettings _settings;
    private readonly WayDelays _delays;

    /// <summary>Computes the signal flow of a state.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="map">Its signal flow.</param>
    /// <param name="state">The state; what is not fresh counts as unseen.</param>
    public Tracer(ShowPlan plan, RoutingMap map, DeskState state)
    {
        _plan = plan;
        _map = map;
        _state = state;
        _routing = new DeskRouting(map, map.Profile.Behaviour);
        _routing.Load(state);
        _stages = new StageReader(_routing, state);
        _settings = new WaySettings(_routing, state, _stages);
        _delays = new WayDelays(map, state);
    }

    /// <summary>The settings a trace reads: what the signal flow depends on, and what may close by itself.</summary>
    public static IEnumerable<int> Inputs(RoutingMap map) =>
        new DeskRouting(map, map.Profile.Behaviour).Inputs.Concat(TraceConditions.Settings(map.Profile)).Concat(WayDelays.Settings(map)).Distinct();

    /// <summary>The answer for a pair, without its ways.</summary>
    public TracePair Answer(TraceSource from, TraceTarget to)
    {
        var legs = to.Columns.Select(column => Leg(from, column)).ToList();
        var unseen = _settings.Unseen(from.Nodes, to.Columns);
        var isCarried = legs.Exists(leg => leg.State == PairState.Carried);
        var answer = legs.Exists(leg => leg.State == PairState.Unstable) ? TraceAnswer.Unstable
            : unseen.Count > 0 && !(isCarried && HasSeenWay(from, to)) ? TraceAnswer.CannotTell
            : isCarried ? TraceAnswer.Carried : TraceAnswer.Silent;
        var level = legs.Where(leg => leg.State == PairState.Carried).Select(leg => leg.Level).DefaultIfEmpty(double.NegativeInfinity).Max();
        return new TracePair(from, to, answer, legs, level, [.. unseen.Select(id => _map.Profile.Settings[id].Path)]) { Preamp = Preamp(from) };
    }

    /// <summary>The whole of a pair: ways with their stages, or what stops it and what would open it.</summary>
    public TracePair Explain(TraceSource from, TraceTarget to)
    {
        var pair = Answer(from, to) with { Source = SourceOf(from) };
        var finder = new WayFinder(_routing);
        var ways = Ways(finder, from, to);
        if (ways.Count > 0)
        {
            var strips = ways.SelectMany(way => way.Steps).Select(step => _map.Nodes[step.From].Strip).Where(strip => strip >= 0).Distinct();
            return pair with
            {
                Ways = ways,
                MoreWays = finder.Capped || ways.Count >= WayFinder.MostWays,
                Conditions = [.. strips.SelectMany(strip => TraceConditions.Of(_plan, _map.Profile.Strips[strip], _state))],
            };
        }

        var closed = new ClosedWays(_plan, _routing, _state, _stages).Find(from.Nodes, to.Columns);
        return pair with { ClosedWays = closed, Opening = pair.Answer == TraceAnswer.Silent ? Opening(from, to, closed) : null };
    }

    private TraceLeg Leg(TraceSource from, int column)
    {
        var node = from.Nodes.MaxBy(candidate => _routing.Graph.Total(candidate)[column]);
        var signed = _routing.Graph.Signed(node)[column];
        var state = PairStates.Of(signed, _routing.Graph.Total(node)[column]);
        if (state == PairState.Cancelled && LeftOf(node, column) is > 0 and var left)
            (state, signed) = (PairState.Carried, left);
        var end = _map.Nodes[_map.Terminals[column]];
        var place = _map.Profile.Strips[end.Strip].Path + (end.Kind == NodeKind.End && end.Leg > 0 ? end.Leg == 1 ? " left" : " right" : "");
        return new TraceLeg(place, state, state switch
        {
            PairState.Carried => Decibels.OfFactor(signed),
            PairState.Unstable => double.NaN,
            _ => double.NegativeInfinity,
        });
    }

    // Ways of different delay never cancel each other, though their gains add up to nothing.
    private double LeftOf(int node, int column)
    {
        var finder = new WayFinder(_routing);
        var sum = new DelayedSum();
        foreach (var way in finder.Find(node, [column], _stages))
            sum.Add(_delays.Of(way), way.Gain);
        var left = sum.Left();
        return finder.Capped || left <= PairStates.Cancelled * _routing.Graph.Total(node)[column] ? 0 : left;
    }

    private List<Way> Ways(WayFinder finder, TraceSource from, TraceTarget to) =>
        [.. from.Nodes.SelectMany(node => finder.Find(node, to.Columns, _stages)).OrderByDescending(way => Math.Abs(way.Gain)).Take(WayFinder.MostWays)];

    private bool HasSeenWay(TraceSource from, TraceTarget to) =>
        Ways(new WayFinder(_routing), from, to).Exists(way => way.Steps.All(step => _settings.IsSeen(step.Edge)));

    private double Preamp(TraceSource from) =>
        _routing.StripAt(from.Nodes[0]) is { Source: >= 0 } strip && _routing.SocketGainOf(strip, _state) is >= 0 and var gain && _state[gain].HasValue ? _state[gain].Number : 0;

    private (string Live, string Planned)? SourceOf(TraceSource from)
    {
        if (_routing.StripAt(from.Nodes[0]) is not { Source: >= 0 } strip || _plan.For(strip.Source) is not { } planned || !_state.IsFresh(strip.Source) || planned.Allows(_state[strip.Source]))
            return null;
        return (_map.Profile.Format(_state[strip.Source]), _map.Profile.Format(planned.Planned));
    }

    private TraceOpening? Opening(TraceSource from, TraceTarget to, IReadOnlyList<ClosedWay> closed)
    {
        var search = new OpeningSearch(_plan, _routing, _state);
        var found = from.Nodes.Select(node => search.Find(node, to.Columns)).OfType<Opening>().MinBy(opening => opening.Changes.Count);
        if (found is null)
            return null;
        var settings = found.Changes.Select(change => change.Setting).ToHashSet();
        var way = closed.FirstOrDefault(way => way.Stops.All(stop => settings.Contains(stop.Setting)));
        return new TraceOpening([.. found.Changes.Select(change => Change(change.Setting, change.Value))], found.OpensBesides, found.Exact,
            Opens(found, from, to), TraceCaution.First(_plan, _map, from, to, way?.Steps[0], settings));
    }

    private List<string> Opens(Opening opening, TraceSource from, TraceTarget to)
    {
        var after = new DeskState(_map.Profile);
        for (var setting = 0; setting < after.Count; setting++)
        {
            if (_state.IsFresh(setting))
                after.Apply(setting, _state[setting]);
        }

        foreach (var (setting, value) in opening.Changes)
            after.Apply(setting, value);
        return [.. new Tracer(_plan, _map, after).Answer(from, to).Legs.Where(leg => leg.State == PairState.Carried).Select(leg => leg.Place)];
    }

    private TraceChange Change(int setting, Settings.SettingValue value)
    {
        var planned = _plan.For(setting);
        return new TraceChange(setting, _map.Profile.Format(_state[setting]), _map.Profile.Format(value), planned?.Allows(value) == true, planned?.At.ToString());
    }
}
