using StateWatch.Core.Desks;
using StateWatch.Core.Settings;
using StateWatch.Core.Tests.Simulation;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Desks.Following;

/// <summary>Messages after which the desk must be read again.</summary>
public class ReadAgainTests
{
    private const string Profile = """
        format: statewatch/desk/1
        desk: Sedge 2
        link: { osc: udp, to: 127.0.0.1:9051 }
        strips: { input: 8 }
        codecs:
          flag:  { wire: int, switch: [0, 1] }
          words: { wire: string, length: 8 }
        settings:
          "input/{i}/on":   { at: "/reed/{i}/live", args: [flag] }
          "input/{i}/name": { at: "/reed/{i}/words", args: [words] }
          "desk/scene":     { at: "/pond/page", args: [words] }
        follow:
          keep-alive: { ask: /pond/stay, every: 1 s, lasts: 4 s }
        invalidate:
          - { on: /pond/turned, reread: "input/*/on", settle: 200 ms }
          - { on: /pond/page, reread: all, settle: 400 ms }
        """;

    [Fact]
    public void Recall_that_sends_no_changes_is_read_whole_after_it_has_settled()
    {
        using var followed = FollowedDesk.Larch();
        followed.RunUntilFollowing();
        followed.Run(5);
        var generation = followed.State.Generation;
        followed.Desk.Recall(followed.Profile.Settings.Where(setting => setting.Kind.Shape.EndsWith("/fader", StringComparison.Ordinal)).Select(setting => (setting.Id, SettingValue.Level(-20))));
        var start = followed.Clock.GetTimestamp();
        followed.RunUntil(() => followed.Follower.Phase == FollowPhase.Reading, 0.01);
        // From here on no value of before counts.
        Assert.True(followed.Follower.Batch.GenerationBegan && followed.State.Generation > generation);
        Assert.Equal(0, followed.Follower.Batch.Notices.Single(notice => notice.Event == FollowEvent.ReadAgain).Rule);
        var asked = followed.Follower.Counters.Asked;
        // A quiet desk is asked whether it is there, once in a time-out, and nothing else.
        followed.Run(0.49);
        Assert.True(followed.Follower.Counters.Asked - asked < 10, "Something was read before it had settled.");
        followed.RunUntilFollowing(2);
        Assert.Equal([], followed.Differing());
        Assert.Equal(["1 SessionBegan", "1 ReadEnded", "1 ReadAgain", "1 ReadEnded"], followed.Told);
        Assert.True(followed.Clock.GetTimestamp() - start >= 0.5 * TimeSpan.TicksPerSecond);
    }

    [Fact]
    public void Part_is_out_of_date_until_it_is_read_and_the_rest_stays_fresh()
    {
        using var followed = new FollowedDesk(new VirtualDesk(SmallDesk.Read(Profile)));
        followed.RunUntilFollowing();
        followed.Run(2);
        followed.Desk.Recall([(followed.Id("input/2/on"), SettingValue.Switch(true))]);
        followed.RunUntil(() => followed.Told.Contains("1 ReadAgain"), 0.01);
        Assert.Equal(Enumerable.Range(1, 8).Select(number => $"input/{number}/on"), followed.Differing());
        Assert.Equal(UnseenReason.OutOfDate, followed.State.ReasonUnseen(followed.Id("input/1/on")));
        Assert.Equal(8, followed.Follower.Batch.Changed.Length);
        Assert.Equal(FollowPhase.Following, followed.Follower.Phase);
        var seconds = followed.RunUntil(() => !followed.Differing().Any(), 0.3);
        Assert.True(seconds >= 0.19, $"read after {seconds} s");
    }

    /// <summary>Our own question for it is answered again and again; only another value means that something has happened.</summary>
    [Fact]
    public void Address_of_a_setting_counts_only_when_its_value_changes()
    {
        using var followed = new FollowedDesk(new VirtualDesk(SmallDesk.Read(Profile)));
        followed.RunUntilFollowing();
        followed.Run(120);
        Assert.Equal(["1 SessionBegan", "1 ReadEnded"], followed.Told);
        followed.Desk.Set("desk/scene", "Act 2");
        followed.RunUntil(() => followed.Told.Contains("1 ReadAgain"), 0.01);
        Assert.Equal(FollowPhase.Reading, followed.Follower.Phase);
        followed.RunUntilFollowing(1);
        Assert.Equal([], followed.Differing());
    }

    /// <summary>It waits again for each message, but for ten times as long at the most, so that it is read at last.</summary>
    [Fact]
    public void Desk_that_does_not_come_to_rest_is_read_all_the_same()
    {
        using var followed = FollowedDesk.Larch();
        followed.RunUntilFollowing();
        followed.Run(5);
        followed.Told.Clear();
        var asked = followed.Follower.Counters.Asked;
        for (var i = 0; i < 48; i++)
        {
            followed.Desk.Recall([]);
            followed.Run(0.1);
        }

        Assert.True(followed.Follower.Counters.Asked - asked < 50, "Something was read before it had settled.");
        Assert.Equal(["1 ReadAgain"], followed.Told);
        followed.Run(0.5);
        Assert.True(followed.Follower.Counters.Asked - asked > 500);
        followed.RunUntilFollowing(2);
        Assert.Equal([], followed.Differing());
    }
}
