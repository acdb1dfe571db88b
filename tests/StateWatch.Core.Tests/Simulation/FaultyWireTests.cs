using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

public class FaultyWireTests
{
    private const int Count = 10_000;
    private const long Step = 1000;

    private static readonly WireFaults Bad = new()
    {
        Loss = 0.1,
        Duplicates = 0.05,
        DelayLeast = TimeSpan.FromMilliseconds(1),
        DelayMost = TimeSpan.FromMilliseconds(4),
        Reordered = 0.02,
    };

    [Fact]
    public void Clean_wire_carries_everything_at_once_and_in_order()
    {
        var arrivals = Run(WireFaults.None, 1, out _);
        Assert.Equal(Enumerable.Range(0, Count), arrivals.Select(arrival => arrival.Number));
        Assert.All(arrivals, arrival => Assert.Equal(arrival.Number * Step, arrival.At));
    }

    [Fact]
    public void Same_seed_gives_the_same_arrivals_and_another_seed_others()
    {
        var first = Run(Bad, 42, out _);
        Assert.Equal(first, Run(Bad, 42, out _));
        Assert.NotEqual(first, Run(Bad, 43, out _));
    }

    [Fact]
    public void Faults_come_as_often_as_they_should()
    {
        var arrivals = Run(Bad, 42, out var wire);
        // Six standard deviations of binomials with n = 10 000: 180 for p = 0.1, 124 for p = 0.05 of the 9000 that are not lost.
        Assert.InRange(wire.Lost, 1000 - 180, 1000 + 180);
        Assert.InRange(wire.Doubled, 450 - 124, 450 + 124);
        Assert.Equal(Count - wire.Lost + wire.Doubled, arrivals.Count);
        Assert.Equal(Count - wire.Lost, arrivals.DistinctBy(arrival => arrival.Number).Count());
        Assert.Equal(0, wire.UnderWay);
    }

    [Fact]
    public void Delays_stay_within_their_limits()
    {
        var faults = new WireFaults { DelayLeast = TimeSpan.FromMilliseconds(1), DelayMost = TimeSpan.FromMilliseconds(4) };
        var arrivals = Run(faults, 9, out _);
        Assert.All(arrivals, arrival => Assert.InRange(arrival.At - (arrival.Number * Step), 10_000, 40_000));
        // A queue keeps its order, whatever the delays.
        Assert.Equal(Enumerable.Range(0, Count), arrivals.Select(arrival => arrival.Number));
    }

    [Fact]
    public void Datagrams_that_are_held_back_are_overtaken()
    {
        var arrivals = Run(new WireFaults { Reordered = 0.02 }, 3, out _);
        var late = arrivals.Where((arrival, index) => index > 0 && arrival.Number < arrivals[index - 1].Number).Count();
        Assert.InRange(late, 1, Count / 20);
        Assert.Equal(Enumerable.Range(0, Count), arrivals.Select(arrival => arrival.Number).Order());
    }

    [Fact]
    public void Certain_loss_loses_everything_and_certain_doubling_doubles_everything()
    {
        Assert.Empty(Run(new WireFaults { Loss = 1 }, 1, out _));
        Assert.Equal(2 * Count, Run(new WireFaults { Duplicates = 1 }, 1, out _).Count);
    }

    [Fact]
    public void One_fault_does_not_shift_the_others()
    {
        var lossOnly = Run(new WireFaults { Loss = 0.1 }, 42, out _).Select(arrival => arrival.Number).ToHashSet();
        Assert.True(lossOnly.SetEquals(Run(Bad, 42, out _).Select(arrival => arrival.Number)));
    }

    [Fact]
    public void Full_wire_loses_what_is_more()
    {
        var wire = new FaultyWire(new WireFaults { DelayLeast = TimeSpan.FromSeconds(1) }, 1);
        for (var i = 0; i < FaultyWire.Capacity + 3; i++)
            wire.Send([1], 0);
        Assert.Equal(3, wire.Lost);
        Assert.Equal(FaultyWire.Capacity, wire.UnderWay);
    }

    private static List<(int Number, long At)> Run(WireFaults faults, ulong seed, out FaultyWire wire)
    {
        wire = new FaultyWire(faults, seed);
        var arrivals = new List<(int, long)>();
        for (var i = 0; i < Count; i++)
        {
            wire.Send(BitConverter.GetBytes(i), i * Step);
            Take(wire, i * Step, arrivals);
        }

        Take(wire, long.MaxValue - 1, arrivals);
        return arrivals;
    }

    private static void Take(FaultyWire wire, long now, List<(int, long)> arrivals)
    {
        while (wire.TryTake(now, out var datagram))
        {
            arrivals.Add((BitConverter.ToInt32(datagram.Bytes), datagram.Due));
            datagram.Return();
        }
    }
}
