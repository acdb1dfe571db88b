using System.Text;
using StateWatch.Core.Tests.Simulation;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Desks.Following;

/// <summary>Following a desk can never change it, and costs no memory by the message.</summary>
public class FollowOnlyReadsTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData("larch-48", 1)]
    [InlineData("ouzel-64", 2)]
    public void Sixty_seconds_send_nothing_but_questions_of_the_shipped_list(string name, ulong seed)
    {
        var shipped = ShippedDesk.Of(name);
        var desk = new VirtualDesk(shipped.Profile);
        using var followed = new FollowedDesk(desk, FollowedDesk.Lossy, seed);
        followed.RunUntilFollowing();
        for (var i = 0; i < 12; i++)
        {
            desk.Set("input/3/fader", $"-{i} dB");
            if (i is 4)
                desk.Recall([]);
            desk.Silent = i is 8;
            var (revision, fingerprint) = (desk.Revision, desk.Fingerprint);
            followed.Run(5);
            Assert.Equal((revision, fingerprint), (desk.Revision, desk.Fingerprint));
        }

        Assert.Equal((0L, 0L, 0L), (desk.Counters.Sets, desk.Counters.Unknown, desk.Counters.Malformed));
        Assert.Equal(0, followed.Link.SentDatagrams.Missed);
        var addresses = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var datagram in followed.Link.SentDatagrams.ToArrays())
        {
            // OSC 1.0 by hand: an address, one to four nulls, then "," and three nulls, and nothing more.
            var address = Encoding.ASCII.GetString(datagram, 0, Array.IndexOf(datagram, (byte)0));
            Assert.Equal([.. Encoding.ASCII.GetBytes(address), .. new byte[4 - (address.Length % 4)], (byte)',', 0, 0, 0], datagram);
            addresses[address] = addresses.GetValueOrDefault(address) + 1;
        }

        Assert.Equal([], addresses.Keys.Where(address => !Array.Exists(shipped.Questions, pattern => pattern.IsMatch(address))));
        output.WriteLine($"{followed.Link.SentDatagrams.Count} questions, {addresses.Count} different; {followed.Follower.Counters}");
        Assert.Equal(shipped.Profile.Endpoints.Count + (shipped.Profile.Follow.KeepAlive is null ? 1 : 2), addresses.Count);
    }

    [Theory]
    [InlineData("larch-48")]
    [InlineData("ouzel-64")]
    public void Following_allocates_nothing_by_the_message(string name)
    {
        var desk = new VirtualDesk(ShippedDesk.Of(name).Profile);
        using var followed = new FollowedDesk(desk);
        followed.RunUntilFollowing();
        var fader = desk.Profile.Find("input/3/fader");
        var back = desk[fader];
        Assert.True(desk.Profile.Settings[fader].Codec.TryParse("-12 dB", out var low, out _));
        // Once around, so that queues and pools are as long as they get. The test's own log of what was sent grows in leaps: the least counts.
        Follow(35);
        var before = followed.Follower.Counters.Asked;
        var bytes = Allocations.Least(() => Follow(5));
        var asked = followed.Follower.Counters.Asked - before;
        output.WriteLine($"{bytes} bytes for about {asked} questions in all");
        Assert.True(asked > 100);
        Assert.Equal(0, bytes);

        void Follow(int seconds)
        {
            var until = followed.Clock.GetTimestamp() + (seconds * TimeSpan.TicksPerSecond);
            for (var i = 0; followed.Clock.GetTimestamp() < until; i++)
            {
                if (i % 50 == 0)
                    desk.Set(fader, i % 100 == 0 ? low : back);
                followed.Follower.Next(until);
            }
        }
    }
}
