namespace StateWatch.Core.Routing;

/// <summary>Which nodes lead to another one.</summary>
internal static class NodeReach
{
    /// <summary>Everything from which edges that may be walked lead to an end; the end too.</summary>
    /// <param name="graph">The graph.</param>
    /// <param name="end">The end.</param>
    /// <param name="mayWalk">Whether an edge may be walked.</param>
    public static bool[] To(GainGraph graph, int end, Func<int, bool> mayWalk)
    {
        var reachable = new bool[graph.Nodes];
        var waiting = new Queue<int>([end]);
        reachable[end] = true;
        while (waiting.TryDequeue(out var node))
        {
            foreach (var edge in graph.EdgesInto(node))
            {
                var from = graph.SourceOf(edge);
                if (reachable[from] || !mayWalk(edge))
                    continue;
                reachable[from] = true;
                waiting.Enqueue(from);
            }
        }

        return reachable;
    }
}
