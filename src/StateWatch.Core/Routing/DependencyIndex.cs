namespace StateWatch.Core.Routing;

/// <summary>Which strips and edges a setting decides, as compressed rows.</summary>
internal sealed class DependencyIndex
{
    private readonly int[][] _strips;
    private readonly int[][] _edges;
    private readonly bool[] _patch;
    private readonly Dictionary<int, int> _outputOfNode = [];

    public DependencyIndex(RoutingMap map)
    {
        var count = map.Profile.Settings.Count;
        var strips = new Dictionary<int, List<int>>();
        var edges = new Dictionary<int, List<int>>();
        _patch = new bool[count];
        int[] gains = [.. map.Profile.Settings.Where(setting => setting.Kind.StripKind == "socket" && setting.Kind.Suffix == "gain").Select(setting => setting.Id)];
        for (var strip = 0; strip < map.Strips.Count; strip++)
            AddStrip(map, strip, gains, strips);
        for (var edge = 0; edge < map.Edges.Count; edge++)
        {
            var info = map.Edges[edge];
            foreach (var setting in (ReadOnlySpan<int>)[info.On, info.Level, info.Tap, info.Side == 0 ? -1 : info.Pan, info.PanFollow, info.Link])
                Add(edges, setting, edge);
        }

        for (var i = 0; i < map.Outputs.Count; i++)
        {
            var output = map.Outputs[i];
            _outputOfNode[output.Node] = i;
            if (output.Source >= 0)
                _patch[output.Source] = true;
            foreach (var setting in (ReadOnlySpan<int>)[output.On, output.Polarity])
            {
                Add(edges, setting, output.SourceEdge);
                Add(edges, setting, output.DirectEdge);
            }
        }

        _strips = Flatten(strips, count);
        _edges = Flatten(edges, count);
        Settings = [.. Enumerable.Range(0, count).Where(setting => _strips[setting].Length > 0 || _edges[setting].Length > 0 || _patch[setting])];
    }

    /// <summary>Every setting that decides anything.</summary>
    public IReadOnlyList<int> Settings { get; }

    /// <summary>Strips whose gains a setting decides.</summary>
    public ReadOnlySpan<int> StripsOf(int setting) => _strips[setting];

    /// <summary>Edges whose gain a setting decides besides its strip's.</summary>
    public ReadOnlySpan<int> EdgesOf(int setting) => _edges[setting];

    /// <summary>Whether a setting is a patch.</summary>
    public bool IsPatch(int setting) => _patch[setting];

    /// <summary>The output of a node, as index among the outputs.</summary>
    public int OutputOfNode(int node) => _outputOfNode[node];

    private void AddStrip(RoutingMap map, int strip, int[] gains, Dictionary<int, List<int>> strips)
    {
        var stages = map.Strips[strip];
        foreach (var setting in (ReadOnlySpan<int>)[stages.On, stages.Fader, stages.Trim, stages.Polarity, stages.Source])
            Add(strips, setting, strip);
        foreach (var (member, on, fader) in stages.Dcas)
        {
            foreach (var setting in (ReadOnlySpan<int>)[member, on, fader])
                Add(strips, setting, strip);
        }

        foreach (var (member, active) in stages.MuteGroups)
        {
            Add(strips, member, strip);
            Add(strips, active, strip);
        }

        foreach (var setting in (ReadOnlySpan<int>)[stages.Source, stages.DirectOut, stages.DirectOutTap])
        {
            if (setting >= 0)
                _patch[setting] = true;
        }

        // Any socket's gain may be this strip's: its source says which.
        if (stages.Source < 0)
            return;
        foreach (var setting in gains)
            Add(strips, setting, strip);
    }

    private static void Add(Dictionary<int, List<int>> rows, int setting, int target)
    {
        if (setting < 0)
            return;
        if (!rows.TryGetValue(setting, out var row))
            rows.Add(setting, row = []);
        if (row.Count == 0 || row[^1] != target)
            row.Add(target);
    }

    private static int[][] Flatten(Dictionary<int, List<int>> rows, int count)
    {
        var flat = new int[count][];
        for (var setting = 0; setting < count; setting++)
            flat[setting] = rows.TryGetValue(setting, out var row) ? [.. row] : [];
        return flat;
    }
}
