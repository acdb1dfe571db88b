using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Routing;

/// <summary>
/// The signal flow of a desk as far as its profile tells: every strip, output and talk circuit, and every way there could be between
/// them. Made once for a profile and a plan; immutable. The plan adds what no setting tells: which bus feeds which effect, and which
/// outputs and buses are feeds.
/// </summary>
public sealed class RoutingMap
{
    internal RoutingMap(DeskProfile profile, IReadOnlyList<RoutingNode> nodes, IReadOnlyList<RoutingEdge> edges, IReadOnlyList<int> terminals,
        IReadOnlyList<StripStages> strips, IReadOnlyList<OutputStages> outputs, IReadOnlyDictionary<int, int[]> columnsOfFeed, int[] nodeOfStrip)
    {
        Profile = profile;
        Nodes = nodes;
        Edges = edges;
        Terminals = terminals;
        Strips = strips;
        Outputs = outputs;
        _columnsOfFeed = columnsOfFeed;
        _nodeOfStrip = nodeOfStrip;
        _depends = new Lazy<DependencyIndex>(() => new DependencyIndex(this));
        _levels = new Lazy<LevelFactors>(() => new LevelFactors(profile));
        _points = new Lazy<PointTable>(() => new PointTable(this));
    }

    private readonly IReadOnlyDictionary<int, int[]> _columnsOfFeed;
    private readonly int[] _nodeOfStrip;
    private readonly Lazy<DependencyIndex> _depends;
    private readonly Lazy<LevelFactors> _levels;
    private readonly Lazy<PointTable> _points;

    /// <summary>The desk.</summary>
    public DeskProfile Profile { get; }

    /// <summary>All nodes.</summary>
    public IReadOnlyList<RoutingNode> Nodes { get; }

    /// <summary>All ways there could be; those of one node stand together.</summary>
    public IReadOnlyList<RoutingEdge> Edges { get; }

    /// <summary>The node of each column: planned outputs, and ends of buses without one.</summary>
    public IReadOnlyList<int> Terminals { get; }

    /// <summary>The strips that carry audio.</summary>
    public IReadOnlyList<StripStages> Strips { get; }

    /// <summary>The output sockets.</summary>
    public IReadOnlyList<OutputStages> Outputs { get; }

    /// <summary>Which strips and edges a setting decides; made once for all flows of the map, live and as planned.</summary>
    internal DependencyIndex Depends => _depends.Value;

    /// <summary>The factor of every level.</summary>
    internal LevelFactors Levels => _levels.Value;

    /// <summary>What patch points mean.</summary>
    internal PointTable Points => _points.Value;

    /// <summary>The columns of a feed, by its number in the plan: one for each of its outputs, or for each leg of its buses.</summary>
    public IReadOnlyList<int> ColumnsOf(int feed) => _columnsOfFeed.TryGetValue(feed, out var columns) ? columns : [];

    /// <summary>The (first) node of a strip, or -1 when it carries no audio.</summary>
    public int NodeOf(int strip) => _nodeOfStrip[strip];

    /// <summary>Makes the map.</summary>
    /// <param name="profile">The desk.</param>
    /// <param name="plan">The plan.</param>
    public static RoutingMap Of(DeskProfile profile, ShowPlan plan) => new RoutingMapBuilder(profile, plan).Build();
}
