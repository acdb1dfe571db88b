using System.Runtime.InteropServices;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Routing;

public class GainGraphUpdateTests
{
    [Theory]
    [InlineData(4, 4, 2, 0.5, 400)]
    [InlineData(16, 8, 4, 0.25, 200)]
    [InlineData(64, 32, 16, 0.05, 10)]
    public void A_change_gives_to_the_last_bit_what_a_fresh_computation_gives(int inputs, int mixes, int matrices, double density, int desks)
    {
        var random = new Random(TestSeed.Value + inputs);
        for (var number = 0; number < desks; number++)
        {
            var desk = new RandomGraph(random, inputs, mixes, matrices, density, 0.6);
            var graph = desk.Build();
            for (var round = 0; round < 12; round++)
            {
                for (var change = random.Next(1, 5); change > 0; change--)
                    ChangeOne(random, desk, graph);
                graph.Update();
                AssertSame(desk.Build(), graph);
            }
        }
    }

    [Fact]
    public void Replugging_gives_to_the_last_bit_what_a_fresh_computation_gives()
    {
        var random = new Random(TestSeed.Value + 1);
        for (var number = 0; number < 300; number++)
        {
            var desk = new RandomGraph(random, 6, 6, 3, 0.4, 0.6);
            var graph = desk.Build();
            for (var round = 0; round < 8; round++)
            {
                // An output takes another bus, or none; or a bus comes back into an input.
                var edge = random.Next(2) == 0 ? desk.Edges.Count - 1 - random.Next(desk.Outputs) : random.Next(desk.Edges.Count);
                var from = random.Next(-1, desk.Inputs + desk.Buses);
                desk.Edges[edge] = (from, desk.Edges[edge].To);
                graph.Plug(edge, from);
                ChangeOne(random, desk, graph);
                graph.Update();
                AssertSame(desk.Build(), graph);
            }
        }
    }

    [Fact]
    public void Only_what_a_change_reaches_is_said_to_have_changed()
    {
        // Two inputs into one mix, a third into another.
        var graph = new GainGraph(7, [(0, 3), (1, 3), (2, 4), (3, 5), (4, 6)], [5, 6]);
        for (var edge = 0; edge < 5; edge++)
            graph.SetGain(edge, 0.5);
        graph.Update();
        graph.SetGain(0, 0.25);
        graph.Update();
        Assert.Equal([0], graph.Changed.ToArray());
        graph.SetGain(3, 1);
        graph.Update();
        Assert.Equal([0, 1, 3], graph.Changed.ToArray().Order());
        graph.Update();
        Assert.Equal(0, graph.Changed.Length);
    }

    [Fact]
    public void A_circle_that_does_not_die_away_is_unstable_for_all_that_pass_it_and_for_nobody_else()
    {
        // 0 -> 1 <-> 2 -> 4; 0 -> 3 -> 5.
        var graph = new GainGraph(6, [(0, 1), (1, 2), (2, 1), (2, 4), (0, 3), (3, 5)], [4, 5]);
        foreach (var (edge, gain) in new[] { (0, 0.1), (1, 1.0), (2, 1.0), (3, 0.5), (4, 0.3), (5, 1.0) })
            graph.SetGain(edge, gain);
        graph.Update();
        Assert.True(double.IsPositiveInfinity(graph.Total(0)[0]));
        Assert.True(double.IsPositiveInfinity(graph.Power(0)[0]));
        Assert.True(double.IsNaN(graph.Signed(0)[0]));
        Assert.Equal(0.3, graph.Total(0)[1]);
        // 0.5 each way round: 1/(1 - 0.25) of the straight way.
        graph.SetGain(1, 0.5);
        graph.SetGain(2, 0.5);
        graph.Update();
        Assert.Equal(0.1 * 0.5 * 0.5 / 0.75, graph.Total(0)[0], 1e-15);
        // Each turn is a way of its own: 1/16 of the power of the one before.
        Assert.Equal(0.1 * 0.1 * 0.25 * 0.25 / (1 - 0.25 * 0.25), graph.Power(0)[0], 1e-15);
        Assert.Equal(1, graph.Circles);
    }

    [Fact]
    public void Two_ways_of_one_level_add_3_dB_of_power_whatever_their_polarity()
    {
        // 0 -> 1 -> 3 and 0 -> 2 -> 3.
        var graph = new GainGraph(4, [(0, 1), (0, 2), (1, 3), (2, 3)], [3]);
        foreach (var (edge, gain) in new[] { (0, 0.5), (1, -0.5), (2, 1.0), (3, 1.0) })
            graph.SetGain(edge, gain);
        graph.Update();
        Assert.Equal(0, graph.Signed(0)[0]);
        Assert.Equal(1, graph.Total(0)[0]);
        Assert.Equal(0.5, graph.Power(0)[0]);
    }

    [Fact]
    public void An_update_allocates_nothing()
    {
        var random = new Random(TestSeed.Value + 2);
        var desk = new RandomGraph(random, 32, 16, 8, 0.3, 0.2);
        var graph = desk.Build();
        for (var i = 0; i < 200; i++)
            Step(i);
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (var i = 0; i < 200; i++)
                Step(i);
        }));

        void Step(int i)
        {
            graph.SetGain(i % desk.Edges.Count, i % 3 == 0 ? 0 : 0.1 + i % 7 * 0.01);
            graph.SetGain(i * 31 % desk.Edges.Count, i % 4 == 0 ? 0 : 0.1);
            graph.Update();
        }
    }

    private static void ChangeOne(Random random, RandomGraph desk, GainGraph graph)
    {
        var edge = random.Next(desk.Edges.Count);
        desk.Gains[edge] = random.Next(3) == 0 ? 0 : RandomGraph.Gain(random, 0.6);
        graph.SetGain(edge, desk.Gains[edge]);
    }

    private static void AssertSame(GainGraph fresh, GainGraph updated)
    {
        for (var node = 0; node < fresh.Nodes; node++)
        {
            Assert.True(MemoryMarshal.AsBytes(fresh.Signed(node)).SequenceEqual(MemoryMarshal.AsBytes(updated.Signed(node))), $"signed gains of node {node}");
            Assert.True(MemoryMarshal.AsBytes(fresh.Total(node)).SequenceEqual(MemoryMarshal.AsBytes(updated.Total(node))), $"total gains of node {node}");
            Assert.True(MemoryMarshal.AsBytes(fresh.Power(node)).SequenceEqual(MemoryMarshal.AsBytes(updated.Power(node))), $"power sums of node {node}");
        }
    }
}
