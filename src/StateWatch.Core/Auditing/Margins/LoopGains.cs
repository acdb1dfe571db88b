using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>
/// What a desk does from every microphone of a plan to every loudspeaker: sums of magnitudes and of squares. Of a loudspeaker feed with
/// several outputs the loudest counts: a microphone panned to one side is as loud there as a coupling that was measured with all of them.
/// </summary>
internal sealed class LoopGains
{
    private readonly int[] _nodes;
    private readonly int[][] _columns;
    private readonly double[] _total;
    private readonly double[] _power;

    public LoopGains(ShowPlan plan, RoutingMap map)
    {
        _nodes = [.. plan.Microphones.Select(microphone => map.NodeOf(microphone.Strip.Id))];
        _columns = [.. plan.Loudspeakers.Select(loudspeaker => ColumnsOf(plan, map, loudspeaker))];
        _total = new double[_nodes.Length * _columns.Length];
        _power = new double[_total.Length];
    }

    /// <summary>How many microphones there are.</summary>
    public int Microphones => _nodes.Length;

    /// <summary>How many loudspeakers there are.</summary>
    public int Loudspeakers => _columns.Length;

    /// <summary>Sum of the magnitudes of all ways.</summary>
    public double Total(int microphone, int loudspeaker) => _total[microphone * Loudspeakers + loudspeaker];

    /// <summary>Sum of their squares.</summary>
    public double Power(int microphone, int loudspeaker) => _power[microphone * Loudspeakers + loudspeaker];

    /// <summary>The columns of a loudspeaker.</summary>
    public IReadOnlyList<int> ColumnsOf(int loudspeaker) => _columns[loudspeaker];

    /// <summary>The node of a microphone.</summary>
    public int NodeOf(int microphone) => _nodes[microphone];

    /// <summary>Reads all gains.</summary>
    public void Read(GainGraph graph)
    {
        for (var microphone = 0; microphone < Microphones; microphone++)
        {
            for (var loudspeaker = 0; loudspeaker < Loudspeakers; loudspeaker++)
                (_total[microphone * Loudspeakers + loudspeaker], _power[microphone * Loudspeakers + loudspeaker]) = Of(graph, microphone, loudspeaker);
        }
    }

    /// <summary>Whether any pair is louder than in another reading.</summary>
    public bool IsLouderThan(LoopGains other)
    {
        for (var pair = 0; pair < _total.Length; pair++)
        {
            if (_total[pair] > other._total[pair] * (1 + 1e-9))
                return true;
        }

        return false;
    }

    /// <summary>The gains of one pair in a graph.</summary>
    public (double Total, double Power) Of(GainGraph graph, int microphone, int loudspeaker)
    {
        var (total, power) = (0.0, 0.0);
        if (_nodes[microphone] < 0)
            return (total, power);
        foreach (var column in _columns[loudspeaker])
        {
            total = Math.Max(total, graph.Total(_nodes[microphone])[column]);
            power = Math.Max(power, graph.Power(_nodes[microphone])[column]);
        }

        return (total, power);
    }

    // A feed with a loudspeaker for each bus has an output for each bus, or several times as many in the same order.
    private static int[] ColumnsOf(ShowPlan plan, RoutingMap map, Loudspeaker loudspeaker)
    {
        var columns = map.ColumnsOf(loudspeaker.Feed);
        var buses = plan.Feeds[loudspeaker.Feed].Buses.Count;
        return loudspeaker.Position == 0 || columns.Count % buses != 0 ? [.. columns] : [.. columns.Where((_, index) => index % buses == loudspeaker.Position - 1)];
    }
}
