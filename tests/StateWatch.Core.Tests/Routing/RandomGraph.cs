namespace StateWatch.Core.Tests.Routing;

/// <summary>A graph of inputs, mixes and matrices in the shape of a desk, with buses that may feed each other in any order.</summary>
internal sealed class RandomGraph
{
    public RandomGraph(Random random, int inputs, int mixes, int matrices, double density, double loudest)
    {
        Inputs = inputs;
        Buses = mixes + matrices;
        Outputs = matrices;
        for (var from = 0; from < inputs + Buses; from++)
        {
            for (var to = inputs; to < inputs + Buses; to++)
            {
                // Sends into an earlier bus, or into itself, are rare but there.
                var rare = from >= inputs && to <= from ? 0.15 : 1;
                Edges.Add((from, to));
                Gains.Add(random.NextDouble() < density * rare ? Gain(random, loudest) : 0);
            }
        }

        for (var output = 0; output < Outputs; output++)
        {
            Edges.Add((inputs + mixes + output, inputs + Buses + output));
            Gains.Add(1);
        }
    }

    public int Inputs { get; }

    public int Buses { get; }

    public int Outputs { get; }

    public int Nodes => Inputs + Buses + Outputs;

    public List<(int From, int To)> Edges { get; } = [];

    public List<double> Gains { get; } = [];

    public int[] Terminals => [.. Enumerable.Range(Inputs + Buses, Outputs)];

    public StateWatch.Core.Routing.GainGraph Build()
    {
        var graph = new StateWatch.Core.Routing.GainGraph(Nodes, Edges, Terminals);
        for (var edge = 0; edge < Gains.Count; edge++)
            graph.SetGain(edge, Gains[edge]);
        graph.Update();
        return graph;
    }

    /// <summary>A send between -60 dB and the loudest, of either polarity.</summary>
    public static double Gain(Random random, double loudest) =>
        (random.Next(4) == 0 ? -1 : 1) * Math.Pow(10, (random.NextDouble() * 60 - 60) / 20) * loudest;
}
