using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Tests.Watching;

/// <summary>Whoever is told something late is told it in the words of when it was found.</summary>
public class WordsTests
{
    private const string Tap = "input/12/send/mix/3/tap";

    [Fact]
    public void Sink_that_was_down_hears_of_a_clearing_in_the_words_of_the_raise()
    {
        using var show = WatchedShow.Midwinter();
        var before = show.Get(Tap);
        show.Set(Tap, "post-fader");
        show.Run(10);
        Assert.True(Sink(show, isUp: false).IsDone);
        show.Set(Tap, before);
        show.Run(120);
        Assert.Single(show.Alerts);
        Assert.True(Sink(show, isUp: true).IsDone);
        show.Run(5);
        Assert.Equal([LevelKind.Raised, LevelKind.None], show.Alerts.Select(static alert => alert.Told.Level.Kind));
        Assert.Equal(show.Alerts.First().Words, show.Alerts.Last().Words);
    }

    [Fact]
    public void What_came_and_went_is_told_in_the_digest_in_the_words_of_when_it_was_there()
    {
        using var show = WatchedShow.Midwinter();
        var before = show.Get(Tap);
        Assert.True(Sink(show, isUp: false).IsDone);
        show.Set(Tap, "post-fader");
        show.Run(10);
        var said = Assert.Single(show.Watch.Status.Standing).Words!;
        show.Set(Tap, before);
        show.Run(120);
        Assert.True(Sink(show, isUp: true).IsDone);
        show.Run(70);
        var digest = Assert.Single(show.Alerts);
        Assert.Equal(said, Assert.Single(digest.DigestWords));
        Assert.Equal("post-fader", digest.DigestWords[0]!.Live);
    }

    [Fact]
    public void Finding_that_is_raised_again_after_a_restart_is_stored_in_words_of_its_own()
    {
        using var show = WatchedShow.Midwinter();
        var before = show.Get(Tap);
        show.Set(Tap, "post-fader");
        show.Run(10);
        var old = Assert.Single(show.Watch.Status.Standing).Words!;
        show.Set(Tap, before);
        show.Run(30);
        // A history keeps the words of what is over.
        var stored = show.Watch.Export() with { Words = new Dictionary<string, AlertWords>(StringComparer.Ordinal) { [show.Alerts.First().Told.Key] = old with { Live = "long ago" } } };
        using var again = new WatchedShow(show.Desk, WatchedShow.PlanOf(DemoShow.PlanText), Phase.Show, stored, new Simulator.MemoryDeskReader(show.Desk), []);
        again.Run(5);
        show.Set(Tap, "post-fader");
        again.Run(10);
        Assert.Equal("post-fader", Assert.Single(again.Watch.Status.Standing).Words!.Live);
    }

    [Fact]
    public void Fault_of_the_watch_itself_is_cleared_in_its_words_when_a_sink_is_back()
    {
        var clock = new Simulator.VirtualClock(new DateTimeOffset(2026, 11, 25, 9, 0, 0, TimeSpan.Zero));
        var self = new SelfWatch("chapel", clock, ["light"], null);
        var words = new AlertWords("sink-not-delivering", "the light takes nothing", "Nobody sees what is found.", "Look at its network.");
        self.Report("sink-not-delivering:light", Core.Auditing.Severity.Warning, words);
        Wait();
        _ = self.Take();
        self.Order(new SinkOrder("light", false, false));
        self.Clear("sink-not-delivering:light");
        Wait();
        _ = self.Take();
        self.Order(new SinkOrder("light", true, false));
        Wait();
        Assert.Equal(words, Assert.Single(self.Take()!.Alerts).Words);

        void Wait()
        {
            clock.AdvanceTo(clock.GetTimestamp() + (2 * TimeSpan.TicksPerSecond));
            self.Tick();
        }
    }

    private static OrderResult Sink(WatchedShow show, bool isUp) => show.Order(reply => new SinkOrder("light", isUp, false) { Reply = reply });
}
