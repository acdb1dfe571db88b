using System.Text;
using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Tests.Simulation;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Desks.Following;

/// <summary>What becomes of the link: a desk that is silent, comes back, is another one, forgets us, or is shouted down.</summary>
public class FollowLinkTests
{
    [Fact]
    public void Desk_that_never_answers_is_told_once_after_its_time_and_asked_on()
    {
        using var followed = FollowedDesk.Larch();
        followed.Desk.Silent = true;
        followed.Run(2.9);
        Assert.Empty(followed.Told);
        followed.Run(60);
        Assert.Equal(["0 DeskSilent"], followed.Told);
        // Four times a second is who it is, and nothing else.
        Assert.InRange(followed.Link.SentDatagrams.Count, 240, 260);
        Assert.All(followed.Link.SentDatagrams.ToArrays(), bytes => Assert.Equal(followed.Profile.Identity!.Question, bytes));
        followed.Desk.Silent = false;
        followed.RunUntilFollowing();
        Assert.Equal(["0 DeskSilent", "1 SessionBegan", "1 ReadEnded"], followed.Told);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Desk_that_restarts_is_lost_whole_and_read_anew(int lossy)
    {
        using var followed = FollowedDesk.Larch(lossy == 1 ? FollowedDesk.Lossy : null, 11);
        followed.RunUntilFollowing();
        followed.Run(20);
        var generation = followed.State.Generation;
        followed.Desk.Silent = true;
        // Three seconds since something was heard, and it was heard a second ago at the most.
        followed.RunUntil(() => followed.Follower.Phase == FollowPhase.Lost, 3.05);
        Assert.True(followed.Follower.Batch.GenerationBegan && followed.State.Generation > generation);
        Assert.DoesNotContain(Enumerable.Range(0, followed.State.Count), followed.State.IsFresh);
        followed.Desk.Reset();
        followed.Run(5);
        followed.Desk.Silent = false;
        followed.RunUntilFollowing();
        Assert.Equal([], followed.Differing());
        Assert.Equal(["1 SessionBegan", "1 ReadEnded", "1 DeskSilent", "2 SessionBegan", "2 ReadEnded"], followed.Told);
    }

    [Fact]
    public void Moment_of_silence_that_is_shorter_loses_nothing()
    {
        using var followed = FollowedDesk.Larch();
        followed.RunUntilFollowing();
        for (var i = 0; i < 20; i++)
        {
            followed.Desk.Silent = true;
            followed.Run(2.5);
            followed.Desk.Silent = false;
            followed.Run(2.5);
        }

        Assert.Equal(["1 SessionBegan", "1 ReadEnded"], followed.Told);
        Assert.Equal([], followed.Differing());
    }

    [Fact]
    public void Other_desk_at_the_same_address_is_noticed_and_none_of_its_values_is_taken()
    {
        using var followed = FollowedDesk.Larch();
        followed.RunUntilFollowing();
        followed.Run(5);
        followed.Desk.Silent = true;
        followed.RunUntil(() => followed.Follower.Phase == FollowPhase.Lost, 5);
        followed.Desk.IdentityAnswer = ["larch", "3.0"];
        followed.Desk.Silent = false;
        followed.Run(30, () => Assert.DoesNotContain(Enumerable.Range(0, followed.State.Count), followed.State.IsFresh));
        Assert.Equal(["1 SessionBegan", "1 ReadEnded", "1 DeskSilent", "1 AnotherDesk"], followed.Told);
        Assert.Equal(["larch", "3.0"], followed.Follower.Identity);
        followed.Desk.IdentityAnswer = ["larch", "2.5"];
        followed.RunUntilFollowing();
        Assert.Equal(2, followed.Follower.Session);
        Assert.Equal([], followed.Differing());
    }

    /// <summary>Exchanged between two datagrams: it is asked who it is once a second, a third of the time after which it counts as lost.</summary>
    [Fact]
    public void Other_desk_is_noticed_without_any_silence_too()
    {
        using var followed = FollowedDesk.Larch();
        followed.RunUntilFollowing();
        followed.Run(5);
        followed.Desk.IdentityAnswer = ["birch", "2.4"];
        followed.RunUntil(() => followed.Follower.Phase == FollowPhase.Lost, 1.05);
        Assert.Equal("1 AnotherDesk", followed.Told[^1]);
    }

    [Fact]
    public void Flood_of_messages_of_others_and_of_unknown_ones_costs_no_change()
    {
        using var followed = FollowedDesk.Larch();
        var forger = new Forger(followed.Link);
        followed.RunUntilFollowing();
        var other = new VirtualDesk(followed.Profile);
        var unknown = Questions.Bare(Encoding.ASCII.GetBytes("/nobody/knows"));
        for (var i = 0; i < 100; i++)
        {
            foreach (var endpoint in followed.Profile.Endpoints.Skip(i % 7).Take(400))
                other.Handle(endpoint.Question, forger);
            for (var j = 0; j < 400; j++)
                followed.Link.SendUnasked(unknown);
            followed.Desk.Set("input/3/fader", $"-{i % 40} dB");
            followed.Run(0.1);
            Assert.Equal(followed.Desk.Get("input/3/fader"), followed.Get("input/3/fader"));
        }

        Assert.Equal((40_000, 40_000), (followed.Link.Counters.Foreign, followed.Follower.Decoded.Unknown));
        Assert.Equal(["1 SessionBegan", "1 ReadEnded"], followed.Told);
        Assert.Equal([], followed.Differing());
    }

    /// <summary>Only the questions are lost: what the desk sends by itself is not taken for its life once it has forgotten us.</summary>
    [Fact]
    public void Chatter_that_the_profile_does_not_know_is_no_sign_of_life()
    {
        using var followed = FollowedDesk.Larch();
        followed.RunUntilFollowing();
        followed.Desk.Silent = true;
        var dial = Questions.Bare(Encoding.ASCII.GetBytes("/dial/1"));
        for (var i = 0; i < 40; i++)
        {
            followed.Link.SendUnasked(dial);
            followed.Run(0.1);
        }

        Assert.Equal(FollowPhase.Lost, followed.Follower.Phase);
    }

    [Fact]
    public void Keep_alive_that_is_no_longer_answered_means_reading_again()
    {
        using var link = new DeafTo("2F62656E63682F7461727279", FollowedDesk.LarchDesk());
        link.Followed.RunUntilFollowing();
        link.Followed.Run(20);
        link.IsDeaf = true;
        link.Followed.RunUntil(() => link.Followed.Told.Contains("1 SubscriptionLost"), 10.1);
        link.Followed.RunUntil(() => link.Followed.Follower.Session == 2, 0.5);
        // In the new session none was answered: it is not read again and again, but asked in rounds of a second.
        link.Followed.Run(60);
        Assert.Equal(["1 SessionBegan", "1 ReadEnded", "1 SubscriptionLost", "2 SessionBegan", "2 ReadEnded", "2 SubscriptionLost"], link.Followed.Told);
        link.Followed.Desk.Set("input/3/fader", "-17 dB");
        link.Followed.RunUntil(() => link.Followed.Get("input/3/fader") == link.Followed.Desk.Get("input/3/fader"), 1.2);
        link.IsDeaf = false;
        link.Followed.Run(4);
        var asked = link.Followed.Follower.Counters.Asked;
        link.Followed.Run(10);
        Assert.InRange(link.Followed.Follower.Counters.Asked - asked, 100, 2000);
    }

    [Theory]
    [InlineData("larch-48", 4000, 64)]
    [InlineData("ouzel-64", 6000, 48)]
    public void Pace_and_window_of_the_profile_are_kept(string name, int perSecond, int inFlight)
    {
        using var link = new DeafTo("", new VirtualDesk(ShippedDesk.Of(name).Profile));
        link.Followed.RunUntilFollowing();
        link.Followed.Run(10);
        // A burst of sixteen at the most is caught up with.
        var asked = link.AskedAt;
        for (var i = perSecond + 17; i < asked.Count; i++)
            Assert.True(asked[i] - asked[i - perSecond - 17] >= TimeSpan.TicksPerSecond * 0.99, $"question {i} was too early");
        var (before, start) = (asked.Count, link.Followed.Clock.GetTimestamp());
        link.IsDeaf = true;
        link.Followed.Run(3.5);
        Assert.Equal(FollowPhase.Lost, link.Followed.Follower.Phase);
        var timeOut = link.Followed.Profile.Link.TimeOut.Ticks;
        for (var i = before + inFlight; i < asked.Count; i++)
            Assert.True(asked[i] - asked[i - inFlight] >= timeOut, $"more than {inFlight} were in flight");
        // Once it seems to be silent it is only asked who it is, and to keep sending: once in a time-out each.
        var kinds = link.Followed.Profile.Follow.KeepAlive is null ? 1 : 2;
        Assert.InRange(asked.Count(at => at > start + (3 * timeOut)), 10, kinds * ((3.5 * TimeSpan.TicksPerSecond / timeOut) + 2));
    }

    [Fact]
    public void Link_without_an_identity_begins_with_whatever_is_known()
    {
        var profile = SmallDesk.OrderingProfile;
        using var followed = new FollowedDesk(new VirtualDesk(profile));
        followed.RunUntilFollowing();
        followed.Desk.Silent = true;
        followed.RunUntil(() => followed.Follower.Phase == FollowPhase.Lost, 3.1);
        followed.Desk.Silent = false;
        followed.RunUntilFollowing();
        Assert.Equal(["1 SessionBegan", "1 ReadEnded", "1 DeskSilent", "2 SessionBegan", "2 ReadEnded"], followed.Told);
        Assert.Equal([], followed.Differing());
    }

    private sealed class Forger(MemoryDeskReader link) : IReplySink
    {
        public void Reply(ReadOnlySpan<byte> answer) => link.SendForeign(answer);
    }
}
