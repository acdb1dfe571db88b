using StateWatch.Core.Acoustics;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>How loud one source is at one guarded feed, or at some of its buses.</summary>
internal sealed class GuardedLevel
{
    private readonly int[] _nodes;
    private readonly int[] _columns;
    private readonly double _reference;
    private double _power = double.NaN;

    /// <summary>Finds where it enters and leaves the desk.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="guard">The guard.</param>
    /// <param name="strip">The source.</param>
    /// <param name="ways">The plan's connections.</param>
    /// <param name="routing">The flow as planned.</param>
    /// <param name="baseline">How loud it was at the end of the phase from which guards measure; null when nobody knows.</param>
    /// <param name="fact">The number of the fact that it changed.</param>
    public GuardedLevel(ShowPlan plan, PlannedGuard guard, PlannedStrip strip, PlannedWays ways, DeskRouting routing, double? baseline, int fact)
    {
        (Guard, Strip, Fact) = (guard, strip, fact);
        _nodes = LevelFlow.NodesOf(routing.Map, strip.Strip.Id);
        _columns = ColumnsOf(plan, guard, ways, routing.Map);
        Settings = [.. ways.Settings(_nodes, _columns)];
        Unplanned = [.. Settings.Where(setting => plan.For(setting) is null).Select(setting => plan.Profile.Settings[setting].Path).Order(StringComparer.Ordinal)];
        var reached = ways.From(_nodes);
        IsMade = Array.Exists(_columns, column => reached[routing.Map.Terminals[column]]);
        var planned = PowerIn(routing.Graph);
        IsAudible = planned > 0 && double.IsFinite(planned);
        IsFromBaseline = IsAudible && baseline is { } level && double.IsFinite(level);
        _reference = IsFromBaseline ? baseline!.Value : Decibels.OfPower(planned);
    }

    /// <summary>The guard's line.</summary>
    public PlannedGuard Guard { get; }

    /// <summary>The source.</summary>
    public PlannedStrip Strip { get; }

    /// <summary>The number of the fact that it changed.</summary>
    public int Fact { get; }

    /// <summary>Settings on the ways that the plan makes.</summary>
    public IReadOnlyList<int> Settings { get; }

    /// <summary>Paths of those without a planned value, so that there is no level as planned.</summary>
    public IReadOnlyList<string> Unplanned { get; }

    /// <summary>Whether the plan connects the two at all.</summary>
    public bool IsMade { get; }

    /// <summary>Whether anything arrives by the plan's levels.</summary>
    public bool IsAudible { get; }

    /// <summary>Whether it is measured from what the desk was, and not from the plan.</summary>
    public bool IsFromBaseline { get; }

    /// <summary>Whether there is anything to measure from.</summary>
    public bool IsJudged => IsMade && IsAudible && (IsFromBaseline || Unplanned.Count == 0);

    /// <summary>Gain from the source's socket to there, in dB; -inf when nothing arrives, not a number or +inf where a circle does not die away.</summary>
    public double Live => Decibels.OfPower(_power);

    /// <summary>How far that lies above what it is measured from, in dB; 0 where a circle does not die away, which is told by itself.</summary>
    public double Moved => double.IsNaN(_power) || double.IsPositiveInfinity(_power) ? 0 : Live - _reference;

    /// <summary>Its name and level, to be measured from later; null when a setting on its ways was not seen.</summary>
    public BaselineLevel? Take(DeskState state) => IsMade && _power < double.PositiveInfinity && Settings.All(state.IsFresh)
        ? new BaselineLevel(Guard.Line.LevelAt.Text, Strip.Strip.Path, Live)
        : null;

    /// <summary>Reads it from the live flow.</summary>
    /// <returns>Whether it is another one.</returns>
    public bool Read(GainGraph graph)
    {
        var power = PowerIn(graph);
        if (power.Equals(_power))
            return false;
        _power = power;
        return true;
    }

    private double PowerIn(GainGraph graph)
    {
        var power = 0.0;
        foreach (var node in _nodes)
        {
            var ways = graph.Power(node);
            foreach (var column in _columns)
                power += ways[column];
        }

        return power;
    }

    // A line may mean some buses of a feed: those columns that they reach.
    private static int[] ColumnsOf(ShowPlan plan, PlannedGuard guard, PlannedWays ways, RoutingMap map)
    {
        var number = 0;
        while (number < plan.Feeds.Count && plan.Feeds[number].Key != guard.Feed.Key)
            number++;
        int[] columns = [.. map.ColumnsOf(number)];
        if (guard.Buses.Count == guard.Feed.Buses.Count)
            return columns;
        var reached = ways.From(guard.Buses.Select(plan.Profile.FindStrip).OfType<Profiles.Strip>().SelectMany(strip => LevelFlow.NodesOf(map, strip.Id)));
        return [.. columns.Where(column => reached[map.Terminals[column]])];
    }
}
