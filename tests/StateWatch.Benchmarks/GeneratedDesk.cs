using StateWatch.Core.Acoustics;
using StateWatch.Core.Routing;

namespace StateWatch.Benchmarks;

/// <summary>
/// A desk of inputs, mixes and matrices whose every strip feeds as many buses whatever the size of the desk, and whose every microphone
/// hears four loudspeakers; or one whose inputs all pass the first mix on their way to every matrix. What is random is always the same.
/// </summary>
internal sealed class GeneratedDesk
{
    private const int FanOut = 4;
    private readonly int[] _inputEdges;
    private readonly int[] _busEdges;

    public GeneratedDesk(int inputs, int mixes, int matrices, int loudspeakers, bool everythingPasses = false)
    {
        var random = new Random(1);
        (Inputs, Buses, Outputs) = (inputs, mixes + matrices, matrices);
        for (var input = 0; input < inputs; input++)
        {
            for (var mix = 0; mix < mixes; mix++)
                Add(random, input, inputs + mix, everythingPasses ? mix == 0 : Near(input, mix, mixes));
        }

        for (var mix = 0; mix < mixes; mix++)
        {
            for (var matrix = 0; matrix < matrices; matrix++)
                Add(random, inputs + mix, inputs + mixes + matrix, (everythingPasses && mix == 0) || Near(mix, matrix, matrices));
        }

        for (var matrix = 0; matrix < matrices; matrix++)
        {
            Edges.Add((inputs + mixes + matrix, inputs + Buses + matrix));
            Gains.Add(1);
        }

        _busEdges = [.. Enumerable.Range(0, Edges.Count).Where(edge => Edges[edge].From == inputs && Gains[edge] != 0)];
        _inputEdges = [.. Enumerable.Range(0, Edges.Count).Where(edge => Edges[edge].From == 0 && Gains[edge] != 0)];
        Graph = new GainGraph(Nodes, Edges, [.. Enumerable.Range(inputs + Buses, Outputs)]);
        Margin = new FeedbackMargin(inputs, loudspeakers);
        for (var microphone = 0; microphone < inputs; microphone++)
        {
            for (var feed = 0; feed < loudspeakers; feed++)
                Margin.SetCoupling(microphone, feed, Near(microphone, feed, loudspeakers) ? 0.01 + 0.04 * random.NextDouble() : 0);
        }
    }

    public int Inputs { get; }

    public int Buses { get; }

    public int Outputs { get; }

    public int Nodes => Inputs + Buses + Outputs;

    public List<(int From, int To)> Edges { get; } = [];

    public List<double> Gains { get; } = [];

    public GainGraph Graph { get; }

    public FeedbackMargin Margin { get; }

    /// <summary>Everything from nothing: all gains are new.</summary>
    public LoopMargins Full(double scale)
    {
        for (var edge = 0; edge < Gains.Count; edge++)
            Graph.SetGain(edge, Gains[edge] * scale);
        Graph.Update();
        return Tell();
    }

    /// <summary>The same without margins.</summary>
    public void FullGains(double scale)
    {
        for (var edge = 0; edge < Gains.Count; edge++)
            Graph.SetGain(edge, Gains[edge] * scale);
        Graph.Update();
    }

    /// <summary>The gain of the first input: everything it sends.</summary>
    public LoopMargins ChangeInput(double scale)
    {
        foreach (var edge in _inputEdges)
            Graph.SetGain(edge, Gains[edge] * scale);
        Graph.Update();
        return Tell();
    }

    /// <summary>The fader of the first mix.</summary>
    public LoopMargins ChangeBus(double scale)
    {
        foreach (var edge in _busEdges)
            Graph.SetGain(edge, Gains[edge] * scale);
        Graph.Update();
        return Tell();
    }

    private LoopMargins Tell()
    {
        foreach (var node in Graph.Changed)
        {
            if (node < Inputs)
                Margin.SetGains(node, Graph.Total(node), Graph.Power(node));
        }

        return Margin.Update();
    }

    private void Add(Random random, int from, int to, bool open)
    {
        Edges.Add((from, to));
        Gains.Add(open ? (random.Next(4) == 0 ? -1 : 1) * (0.05 + 0.3 * random.NextDouble()) : 0);
    }

    // Four neighbours each, round the end.
    private static bool Near(int from, int to, int count) => (to - from % count + count) % count < FanOut;
}
