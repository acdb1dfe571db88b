using StateWatch.Links;

namespace StateWatch.Tests.Links;

public class DatagramRingTests
{
    [Fact]
    public void Datagrams_come_out_in_the_order_they_went_in()
    {
        var ring = new DatagramRing(4, 8);
        for (byte round = 0; round < 10; round++)
        {
            Assert.True(ring.TryWrite([round, 1], round));
            Assert.True(ring.TryWrite([round, 2, 2], round + 100));
            Assert.Equal(2, ring.Count);
            Assert.Equal($"{round}: {round},1", Next(ring));
            Assert.Equal($"{round + 100}: {round},2,2", Next(ring));
            Assert.False(ring.TryPeek(out _, out _));
        }
    }

    [Fact]
    public void Full_ring_refuses_until_one_is_read()
    {
        var ring = new DatagramRing(2, 4);
        Assert.True(ring.TryWrite([1], 0));
        Assert.True(ring.TryWrite([2], 0));
        Assert.False(ring.TryWrite([3], 0));
        Assert.Equal("0: 1", Next(ring));
        Assert.True(ring.TryWrite([4], 0));
        Assert.False(ring.TryWrite([5], 0));
        Assert.Equal("0: 2", Next(ring));
        Assert.Equal("0: 4", Next(ring));
    }

    [Fact]
    public void Datagram_stays_until_it_is_released()
    {
        var ring = new DatagramRing(1, 4);
        Assert.True(ring.TryWrite([7], 0));
        Assert.True(ring.TryPeek(out var first, out _));
        Assert.False(ring.TryWrite([8], 0));
        Assert.Equal(7, first[0]);
        ring.Release();
        Assert.True(ring.TryWrite([8], 0));
    }

    [Fact]
    public void Empty_and_longest_datagrams_fit_and_longer_ones_are_a_fault_of_the_caller()
    {
        var ring = new DatagramRing(2, 4);
        Assert.True(ring.TryWrite([], 5));
        Assert.True(ring.TryWrite([1, 2, 3, 4], 6));
        Assert.Equal("5: ", Next(ring));
        Assert.Equal("6: 1,2,3,4", Next(ring));
        Assert.Throws<ArgumentException>(() => ring.TryWrite([1, 2, 3, 4, 5], 7));
    }

    [Fact]
    public void Capacity_that_is_no_power_of_two_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new DatagramRing(3, 4));
        Assert.Throws<ArgumentOutOfRangeException>(() => new DatagramRing(0, 4));
    }

    [Fact]
    public async Task Two_threads_hand_everything_over_once_and_in_order()
    {
        const int count = 200_000;
        var ring = new DatagramRing(64, 8);
        var writer = Task.Run(() =>
        {
            for (var i = 0; i < count; i++)
            {
                // The value also decides the length, so that a torn entry shows.
                while (!ring.TryWrite(BitConverter.GetBytes((long)i).AsSpan(0, 4 + (i % 5)), i))
                    Thread.Yield();
            }
        }, TestContext.Current.CancellationToken);
        for (var i = 0; i < count; i++)
        {
            while (!ring.TryPeek(out _, out _))
                Thread.Yield();
            Assert.True(ring.TryPeek(out var datagram, out var at));
            Assert.Equal(i, at);
            Assert.Equal(4 + (i % 5), datagram.Length);
            Assert.Equal(i, BitConverter.ToInt32(datagram));
            ring.Release();
        }

        await writer;
        Assert.Equal(0, ring.Count);
    }

    private static string Next(DatagramRing ring)
    {
        Assert.True(ring.TryPeek(out var datagram, out var at));
        var text = $"{at}: {string.Join(',', datagram.ToArray())}";
        ring.Release();
        return text;
    }
}
