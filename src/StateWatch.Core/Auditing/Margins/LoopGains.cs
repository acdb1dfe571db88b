using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>What a desk does from every microphone of a plan to every loudspeaker: sums of magnitudes and of squares.</summary>
internal sealed class LoopGains
{
    private readonly int[][] _nodes;
    private readonly int[][] _columns;
    private readonly double[] _total;
    private readonly double[] _power;

    public LoopGains(ShowPlan plan, RoutingMap map)
    {
        _nodes = [.. plan.Microphones.Select(microphone => LoopEnds.NodesOf(map, microphone))];
        _columns = [.. plan.Loudspeakers.Select(loudspeaker => LoopEnds.ColumnsOf(plan, map, loudspeaker))];
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

    /// <summary>Where a pair enters and leaves the desk.</summary>
    public LoopEnds EndsOf(int microphone, int loudspeaker) => new(_nodes[microphone], _columns[loudspeaker]);

    /// <summary>Reads all gains.</summary>
    public void Read(GainGraph graph)
    {
        for (var microphone = 0; microphone < Microphones; microphone++)
        {
            for (var loudspeaker = 0; loudspeaker < Loudspeakers; loudspeaker++)
                (_total[microphone * Loudspeakers + loudspeaker], _power[microphone * Loudspeakers + loudspeaker]) = EndsOf(microphone, loudspeaker).GainIn(graph);
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
}
