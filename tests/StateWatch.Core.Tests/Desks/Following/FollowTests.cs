using StateWatch.Core.Desks;
using StateWatch.Core.Tests.Simulation;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Desks.Following;

/// <summary>A desk that sends what changes, and one that does not, on good wires and bad ones.</summary>
public class FollowTests(ITestOutputHelper output)
{
    [Fact]
    public void Whole_desk_is_read_and_then_followed()
    {
        using var followed = FollowedDesk.Larch();
        var seconds = followed.RunUntilFollowing();
        output.WriteLine($"read in {seconds:0.00} s");
        Assert.Equal(["1 SessionBegan", "1 ReadEnded"], followed.Told);
        Assert.Equal([], followed.Differing());
        Assert.Equal(["larch", "2.0"], followed.Follower.Identity);
    }

    [Fact]
    public void Change_that_is_sent_is_seen_in_the_batch_it_comes_in_and_told_once()
    {
        using var followed = FollowedDesk.Larch(new WireFaults { DelayLeast = TimeSpan.FromMilliseconds(2), DelayMost = TimeSpan.FromMilliseconds(2) });
        followed.RunUntilFollowing();
        followed.Run(1);
        var fader = followed.Id("input/5/fader");
        var told = 0;
        followed.Desk.Set("input/5/fader", "-12 dB");
        var start = followed.Clock.GetTimestamp();
        followed.Run(2, () =>
        {
            if (!followed.Follower.Batch.Changed.Contains(fader))
                return;
            told++;
            // The delay of the wire, and no more.
            Assert.Equal(2 * TimeSpan.TicksPerMillisecond, followed.Clock.GetTimestamp() - start);
        });
        Assert.Equal((1, "-12.0 dB"), (told, followed.Get("input/5/fader")));
        // Making sure of it has cost one question.
        Assert.Equal(1, followed.Follower.Counters.Confirmed);
    }

    /// <summary>A round of 2 s, of 500 ms for what is asked often, and one time-out: nobody sends anything unasked.</summary>
    [Theory]
    [InlineData("input/9/fader", "-12 dB", 2.2)]
    [InlineData("desk/oscillator", "on", 0.7)]
    [InlineData("socket/stage-40/phantom", "on", 0.7)]
    public void Change_on_a_desk_that_sends_nothing_is_seen_within_its_round(string path, string value, double bound)
    {
        using var followed = new FollowedDesk(new VirtualDesk(ShippedDesk.Of("ouzel-64").Profile));
        followed.RunUntilFollowing();
        followed.Run(0.3);
        followed.Desk.Set(path, value);
        var changed = followed.Desk.Get(path);
        output.WriteLine($"{followed.RunUntil(() => followed.Get(path) == changed, bound):0.000} s");
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    public void After_a_round_of_quiet_the_state_is_that_of_a_fresh_read_whatever_the_wire_did(int number)
    {
        var seed = (ulong)(TestSeed.Value + number);
        using var followed = FollowedDesk.Larch(FollowedDesk.Lossy, seed);
        followed.RunUntilFollowing();
        var numbers = new SeededNumbers(seed);
        for (var i = 0; i < 200; i++)
        {
            var setting = followed.Profile.Settings[numbers.NextBelow(followed.Profile.Settings.Count)];
            if (setting.Codec.Words.Any())
                followed.Desk.Set(setting.Path, setting.Codec.Words.ElementAt(numbers.NextBelow(setting.Codec.Words.Count())));
            // A fader on its way: many messages, the last of which may be lost or overtaken.
            for (var step = 0; step < 5; step++)
            {
                followed.Desk.Set("input/7/fader", $"-{numbers.NextBelow(30)} dB");
                followed.Run(0.01);
            }
        }

        var fader = followed.Desk.Get("input/7/fader");
        output.WriteLine($"fader right after {followed.RunUntil(() => followed.Get("input/7/fader") == fader, 1.5):0.000} s, {followed.Differing().Count()} changes missed so far");
        followed.Run(31);
        Assert.Equal([], followed.Differing());
        Assert.Equal(["1 SessionBegan", "1 ReadEnded"], followed.Told);
        using var again = new MemoryDeskReader(followed.Desk);
        var fresh = new DeskState(followed.Profile);
        Assert.Equal(ReadEnd.Complete, new FullRead(followed.Profile, fresh, again, Enumerable.Range(0, fresh.Count)).Run(cancel: TestContext.Current.CancellationToken).End);
        Assert.DoesNotContain(Enumerable.Range(0, fresh.Count), id => fresh[id] != followed.State[id]);
    }

    [Fact]
    public void Every_change_is_told_and_nothing_is_told_that_did_not_change()
    {
        using var followed = FollowedDesk.Larch(FollowedDesk.Lossy, 7);
        var seen = new DeskState(followed.Profile);
        var numbers = new SeededNumbers(7);
        for (var i = 0; i < 300; i++)
        {
            var setting = followed.Profile.Settings[numbers.NextBelow(followed.Profile.Settings.Count)];
            if (setting.Codec.Words.Any())
                followed.Desk.Set(setting.Path, setting.Codec.Words.ElementAt(numbers.NextBelow(setting.Codec.Words.Count())));
            followed.Desk.Silent = i is > 100 and < 140 or > 200 and < 260;
            followed.Run(0.1, () => Mirror(followed, seen));
        }

        Assert.True(followed.Follower.Session >= 2);
    }

    [Fact]
    public void Question_that_the_desk_does_not_answer_is_given_up_and_found_when_it_does()
    {
        using var followed = FollowedDesk.Larch(FollowedDesk.Lossy, 3);
        var path = "socket/stage-7/phantom";
        followed.Desk.Unanswered = new HashSet<int> { followed.Id(path) };
        followed.RunUntilFollowing();
        Assert.Equal((false, UnseenReason.NoReply), (followed.State.IsFresh(followed.Id(path)), followed.State.ReasonUnseen(followed.Id(path))));
        Assert.Equal(FollowPhase.Following, followed.Follower.Phase);
        followed.Run(65);
        Assert.Equal("unseen", followed.Get(path));
        Assert.Equal(1, followed.Follower.Session);
        followed.Desk.Unanswered = new HashSet<int>();
        followed.RunUntil(() => followed.Get(path) != "unseen", 65);
        // And it may cease to answer later.
        followed.Desk.Unanswered = new HashSet<int> { followed.Id(path) };
        followed.RunUntil(() => followed.Get(path) == "unseen", 35);
        Assert.Equal(UnseenReason.NoReply, followed.State.ReasonUnseen(followed.Id(path)));
    }

    /// <summary>Slower than the 150 ms after which a question is asked again.</summary>
    [Fact]
    public void Desk_that_always_answers_late_is_followed_all_the_same()
    {
        var late = new WireFaults { DelayLeast = TimeSpan.FromMilliseconds(200), DelayMost = TimeSpan.FromMilliseconds(290) };
        using var followed = new FollowedDesk(FollowedDesk.LarchDesk(), WireFaults.None, 5, late);
        followed.RunUntilFollowing(30);
        Assert.Equal([], followed.Differing());
        followed.Desk.Set("input/5/fader", "-12 dB");
        followed.RunUntil(() => followed.Get("input/5/fader") == followed.Desk.Get("input/5/fader"), 0.35);
        followed.Run(40);
        Assert.Equal([], followed.Differing());
        Assert.Equal(["1 SessionBegan", "1 ReadEnded"], followed.Told);
    }

    [Fact]
    public void Batch_takes_at_most_256_datagrams()
    {
        using var followed = FollowedDesk.Larch();
        followed.RunUntilFollowing();
        var message = Convert.FromHexString("2F6469616C2F31002C000000");
        for (var i = 0; i < 1000; i++)
            followed.Link.SendUnasked(message);
        var before = followed.Link.Counters.Received;
        long most = 0, total = 0, batches = 0;
        followed.Run(0.05, () =>
        {
            var taken = followed.Link.Counters.Received - before - total;
            (most, total, batches) = (Math.Max(most, taken), total + taken, batches + 1);
        });
        Assert.Equal(256, most);
        Assert.True(total >= 1000 && batches >= 4);
    }

    // What is told must be enough to keep a copy; what is told as changed must differ from the copy.
    private static void Mirror(FollowedDesk followed, DeskState seen)
    {
        var follower = followed.Follower;
        if (follower.Batch.GenerationBegan)
            seen.StartGeneration();
        foreach (var setting in follower.Batch.Changed)
        {
            if (followed.State.IsFresh(setting))
                _ = seen.Apply(setting, followed.State[setting]);
            else
                seen.MarkUnseen(setting, followed.State.ReasonUnseen(setting));
        }

        for (var id = 0; id < seen.Count; id++)
        {
            if (seen.IsFresh(id) != followed.State.IsFresh(id) || seen[id] != followed.State[id])
                Assert.Fail($"{followed.Profile.Settings[id].Path} has changed, and nobody was told");
        }
    }
}
