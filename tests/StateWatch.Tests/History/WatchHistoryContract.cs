using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Hosting;
using StateWatch.Tests.Alerts;

namespace StateWatch.Tests.History;

/// <summary>What every history must do, whatever database it uses.</summary>
public abstract class WatchHistoryContract
{
    private protected abstract IWatchHistory Open();

    [Fact]
    public void A_desk_that_was_never_stored_is_null()
    {
        using var history = Open();
        Assert.Null(history.Load("hall/desk"));
        Assert.Equal(0, history.CountWaiting("light"));
        Assert.Empty(history.Waiting("light", 10));
        Assert.Empty(history.TakeNotices());
    }

    [Fact]
    public void What_is_loaded_is_what_was_committed_also_after_opening_it_anew()
    {
        var story = new DeskStory { Cue = "Sermon", Baseline = [new BaselineLevel("room", "input/1", double.NegativeInfinity), new BaselineLevel("room", "input/2", -12.345678901234567)] };
        WatchOutput last;
        using (var history = Open())
        {
            story.Drift(0, Severity.Urgent);
            story.Wait(5);
            story.Drift(1);
            story.Ledger.Acknowledge(story.KeyOf(0), "Ada", story.Now);
            story.Ledger.Shelve(story.KeyOf(1), "Ada", "a guest brings another one", TimeSpan.FromMinutes(5), false, story.Now);
            story.Ledger.Expect("swap", "Ada", "the choir moves", [new ExpectedChange(story.KeyOf(2), ["off", "-inf dB"])], TimeSpan.FromHours(1), story.Now);
            history.Commit([story.Take()]);
            story.Wait(3);
            story.Match(0);
            story.Wait(0.5);
            last = story.Take();
            history.Commit([last]);
        }

        using var again = Open();
        var stored = again.Load("hall/desk");
        Assert.NotNull(stored);
        SameRecords.Assert(last.Ledger, stored.Ledger.Ledger);
        SameRecords.Assert(last.Standing, stored.Standing);
        SameRecords.Assert(story.Ledger.Export(story.Now).Findings.Where(static record => !record.IsQuiet), stored.Ledger.Findings);
        Assert.Equal([story.KeyOf(0), story.KeyOf(1)], stored.Words.Keys.Order(StringComparer.Ordinal));
        Assert.Null(again.Load("hall/other"));
    }

    [Fact]
    public void Words_of_what_is_over_stay_in_the_history()
    {
        var story = new DeskStory();
        using var history = Open();
        story.Drift(0);
        story.Wait(5);
        history.Commit([story.Take()]);
        var said = history.Load("hall/desk")!.Words[story.KeyOf(0)];
        story.Match(0);
        story.Wait(5);
        // Whoever watches forgets the words of what is over.
        var over = story.Take();
        history.Commit([over with { Findings = [.. over.Findings.Select(static finding => finding with { Words = null })] }]);
        Assert.Equal(said, history.Load("hall/desk")!.Words[story.KeyOf(0)]);
    }

    [Fact]
    public void A_watch_that_dies_goes_on_from_the_history_and_no_id_comes_twice()
    {
        var story = new DeskStory();
        var told = new List<string>();
        for (var life = 0; life < 4; life++)
        {
            using var history = Open();
            if (history.Load("hall/desk") is { } stored)
                story.Restart(stored, away: 20);
            story.Drift(life % 2, Severity.Urgent);
            story.Wait(10);
            history.Commit([story.Take()]);
            story.Match(life % 2);
            story.Wait(70);
            history.Commit([story.Take()]);
            told.AddRange(history.Waiting("light", 1000).Select(static waiting => waiting.Alert.Told.Id));
            history.Delivered("light", [.. history.Waiting("light", 1000).Select(static waiting => waiting.Row)]);
            Assert.Equal(0, history.CountWaiting("light"));
        }

        Assert.Equal(["1#1", "1#2", "1#1", "1#2", "2#3", "2#4", "2#3", "2#4"], told.Select(static id => id[(id.IndexOf('#', StringComparison.Ordinal) + 1)..]));
        Assert.Equal(told.Count, told.Distinct(StringComparer.Ordinal).Count());
    }

    [Fact]
    public void What_a_sink_took_before_its_watch_died_is_known_to_the_next_one_and_not_handed_over_again()
    {
        var story = new DeskStory();
        using var history = Open();
        history.Commit([story.Take()]);
        story.Drift(0, Severity.Urgent);
        story.Wait(10);
        history.Commit([story.Take()]);
        // The outbox is told of it, and then the watch dies: its ledger never is.
        history.Delivered("light", [.. history.Waiting("light", 10).Select(static waiting => waiting.Row)]);
        var stored = history.Load("hall/desk")!;
        var sinks = stored.Ledger.Findings.Single(record => record.Key == story.KeyOf(0)).Sinks;
        Assert.Equal((true, false), (sinks.Single(static sink => sink.Sink == "light").Told.IsOpen, sinks.Single(static sink => sink.Sink == "phone").Told.IsOpen));

        // Whoever does not know for certain hands it over again: what waits or was taken is the same alert.
        story.Restart(stored, away: 20);
        story.Drift(0, Severity.Urgent);
        story.Wait(10);
        foreach (var sink in (string[])["light", "phone"])
            story.Ledger.SinkRecovered(sink, hasLostWaiting: true, story.Now);
        var again = story.Take();
        Assert.Equal([$"phone {story.KeyOf(0)}#1#1"], again.Alerts.Select(static alert => $"{alert.Told.Sink} {alert.Told.Id}"));
        var waiting = Assert.Single(history.Waiting("phone", 10));
        history.Commit([again]);
        SameRecords.Assert(new[] { waiting }, history.Waiting("phone", 10));
        Assert.Equal(0, history.CountWaiting("light"));
    }

    [Fact]
    public void What_was_lived_through_without_a_memory_goes_on_with_numbers_that_were_never_told()
    {
        using var history = Open();
        var before = new DeskStory();
        before.Drift(0, Severity.Urgent);
        before.Drift(1);
        before.Wait(10);
        before.Match(0);
        before.Wait(70);
        before.Ledger.Shelve(before.KeyOf(2), "Ada", "a guest brings another one", TimeSpan.FromHours(1), false, before.Now);
        history.Commit([before.Take()]);
        TakeAll(history);

        // The machine boots and the history cannot be read: the same findings, numbered from 1 again, are told as not recorded.
        var story = new DeskStory();
        story.Wait(600);
        story.Drift(0, Severity.Urgent);
        story.Drift(3);
        story.Wait(10);
        story.Ledger.Acknowledge(story.KeyOf(3), "Kim", story.Now);
        story.Wait(1);
        var lived = story.Take();
        Assert.Contains($"{story.KeyOf(0)}#1#1", lived.Alerts.Select(static alert => alert.Told.Id));

        var stored = history.Load("hall/desk")!;
        var joined = RecalledDesk.Join(stored, new StoredDesk(story.Ledger.Export(story.Now), lived.Standing, new Dictionary<string, AlertWords>()), lived.Standing.Since);
        Assert.True(RecalledDesk.Lines(lived, stored).Events.Where(line => line.Key == story.KeyOf(0) && line.Episode > 0).All(static line => line.Episode == 2));
        story.Restart(joined, away: 0, match: false);
        foreach (var check in (int[])[0, 1, 3])
            story.Drift(check, check == 0 ? Severity.Urgent : Severity.Warning);
        story.Settle();
        story.Wait(10);
        history.Commit([story.Take()]);
        var again = history.Load("hall/desk")!.Ledger.Findings.ToDictionary(static record => record.Key);
        Assert.Equal((2, Condition.Active), (again[story.KeyOf(0)].Episode, again[story.KeyOf(0)].Condition));
        Assert.Equal((1, LevelKind.Raised), (again[story.KeyOf(1)].Episode, again[story.KeyOf(1)].Level.Kind));
        Assert.Equal("Ada", again[story.KeyOf(2)].Shelf?.By);
        Assert.Equal("Kim", again[story.KeyOf(3)].Acknowledgement?.By);
        Assert.Equal(0, history.CountWaiting("light")); // everybody knows of all that stands

        story.Match(0);
        story.Wait(70);
        history.Commit([story.Take()]);
        var told = Assert.Single(history.Waiting("light", 10)).Alert.Told;
        Assert.Equal((story.KeyOf(0), LevelKind.None, 2), (told.Key, told.Level.Kind, told.Level.Episode));
    }

    [Theory]
    [InlineData("UPDATE finding SET record = '{'")]
    [InlineData("UPDATE desk SET ledger = '{'")]
    [InlineData("UPDATE desk SET ledger = 'null', standing = 'x'")]
    public void Finding_whose_record_cannot_be_read_goes_on_with_its_numbers(string spoil)
    {
        using var history = Open();
        var story = new DeskStory();
        story.Tell(ShowEventKind.PhaseBegan, "show");
        story.Drift(0, Severity.Urgent);
        story.Wait(10);
        story.Match(0);
        story.Wait(70);
        story.Drift(0, Severity.Urgent);
        story.Drift(1);
        story.Wait(10);
        history.Commit([story.Take()]); // raised, cleared, raised again; and another that stands
        TakeAll(history);
        Run(spoil);

        var stored = history.Load("hall/desk")!;
        Assert.NotEmpty(history.TakeNotices());
        Assert.Equal(StateWatch.Core.Plans.Phase.Show, stored.Standing.Phase);
        story.Restart(stored, away: 20, match: false);
        story.Drift(0, Severity.Urgent);
        story.Settle();
        story.Wait(10);
        history.Commit([story.Take()]);
        Assert.Equal([$"{story.KeyOf(1)}#1#2"], history.Waiting("light", 10).Select(static waiting => waiting.Alert.Told.Id)); // the first is known, the other is over
        TakeAll(history);
        story.Match(0);
        story.Wait(70);
        story.Drift(0, Severity.Urgent);
        story.Wait(10);
        history.Commit([story.Take()]);
        Assert.Equal([$"{story.KeyOf(0)}#2#4", $"{story.KeyOf(0)}#3#5"], history.Waiting("light", 10).Select(static waiting => waiting.Alert.Told.Id));
    }

    [Fact]
    public void What_waits_keeps_its_order_and_every_word_until_it_is_delivered()
    {
        using var history = Open();
        var story = new DeskStory();
        var alerts = new List<Alert>();
        for (var check = 0; check < 6; check++)
        {
            story.Drift(check, Severity.Urgent);
            story.Wait(6);
            var output = story.Take();
            alerts.AddRange(output.Alerts);
            history.Commit([output]);
        }

        var light = alerts.Where(static alert => alert.Told.Sink == "light").ToList();
        Assert.Equal(6, light.Count);
        var waiting = history.Waiting("light", 4);
        SameRecords.Assert(light.Take(4), waiting.Select(static one => one.Alert));
        Assert.All(waiting, static one => Assert.Equal(0, one.Gap));
        Assert.Equal(waiting.Select(static one => one.Row).Order(), waiting.Select(static one => one.Row));

        history.Delivered("light", [waiting[0].Row, waiting[2].Row]);
        SameRecords.Assert(new[] { light[1], light[3], light[4], light[5] }, history.Waiting("light", 10).Select(static one => one.Alert));
        Assert.Equal((4, 6), (history.CountWaiting("light"), history.CountWaiting("phone")));
        history.Delivered("phone", [waiting[1].Row]); // not its own: changes nothing
        Assert.Equal((4, 6), (history.CountWaiting("light"), history.CountWaiting("phone")));

        // What is refused waits no more; handed over again, it waits again, for it was never taken.
        history.Refused("phone", [waiting[1].Row]);
        history.Refused("light", [waiting[1].Row]);
        Assert.Equal((3, 6), (history.CountWaiting("light"), history.CountWaiting("phone")));
        var anew = light[1] with { Told = light[1].Told with { At = light[1].Told.At with { Wall = light[1].Told.At.Wall + TimeSpan.FromHours(1) } } };
        story.Wait(10);
        history.Commit([story.Take() with { Alerts = [anew] }]);
        SameRecords.Assert(new[] { light[3], light[4], light[5], anew }, history.Waiting("light", 10).Select(static one => one.Alert));
    }

    [Fact]
    public void Coalescing_keeps_the_newest_of_each_finding_and_counts_the_gap()
    {
        using var history = Open();
        var story = new DeskStory();
        story.Drift(0);
        story.Drift(1);
        story.Wait(10);
        story.Match(0);
        story.Wait(70);
        story.Drift(0);
        story.Wait(10);
        history.Commit([story.Take()]); // raised 0, raised 1, cleared 0, raised 0
        Assert.Equal(4, history.CountWaiting("light"));
        Assert.Equal(0, history.Coalesce("light", 4));
        Assert.Equal(2, history.Coalesce("light", 3));
        var waiting = history.Waiting("light", 10);
        Assert.Equal([(story.KeyOf(1), 0), (story.KeyOf(0), 2)], waiting.Select(static one => (one.Alert.Told.Key, one.Gap)));
        Assert.Equal((LevelKind.Raised, 2), (waiting[1].Alert.Told.Level.Kind, waiting[1].Alert.Told.Level.Episode));
        Assert.Equal(4, history.CountWaiting("phone"));

        story.Match(0);
        story.Wait(70);
        history.Commit([story.Take()]);
        Assert.Equal(1, history.Coalesce("light", 1)); // what was thrown away before still counts
        Assert.Equal([(story.KeyOf(1), 0), (story.KeyOf(0), 3)], history.Waiting("light", 10).Select(static one => (one.Alert.Told.Key, one.Gap)));
    }

    [Fact]
    public void Digests_supersede_nothing_and_go_last_the_oldest_first()
    {
        using var history = Open();
        var story = new DeskStory();
        var (raised, cleared) = (Some.Alert("light", Some.Key(1, story.Desk), 1), Some.Alert("light", Some.Key(1, story.Desk), 2));
        Alert[] digests = [.. Enumerable.Range(1, 3).Select(number => DigestOf(story.Desk, number))];
        story.Drift(0);
        story.Wait(10);
        history.Commit([story.Take() with { Alerts = [digests[0], raised, digests[1], cleared, digests[2]] }]);

        Assert.Equal(1, history.Coalesce("light", 4));
        SameRecords.Assert(new[] { digests[0], digests[1], cleared, digests[2] }, history.Waiting("light", 10).Select(static one => one.Alert));
        Assert.Equal([0, 0, 1, 0], history.Waiting("light", 10).Select(static one => one.Gap));
        Assert.Equal(2, history.Coalesce("light", 2));
        SameRecords.Assert(new[] { cleared, digests[2] }, history.Waiting("light", 10).Select(static one => one.Alert));
        Assert.Equal(1, history.Coalesce("light", 1));
        SameRecords.Assert(new[] { cleared }, history.Waiting("light", 10).Select(static one => one.Alert));
        Assert.Equal(0, history.Coalesce("light", 0));
    }

    [Fact]
    public void Several_desks_are_committed_as_one_and_stay_apart()
    {
        using var history = Open();
        DeskStory[] stories = [new("hall/desk"), new("hall/monitors")];
        foreach (var story in stories)
        {
            story.Drift(2);
            story.Wait(10);
        }

        history.Commit([.. stories.Select(static story => story.Take())]);
        foreach (var story in stories)
            Assert.Equal([story.KeyOf(2)], history.Load(story.Desk)!.Ledger.Findings.Select(static record => record.Key));
        Assert.Equal(stories.Select(static story => story.KeyOf(2)), history.Waiting("light", 10).Select(static waiting => waiting.Alert.Told.Key));
    }

    [Fact]
    public void A_finding_that_became_quiet_is_forgotten_and_one_that_had_an_episode_is_not()
    {
        using var history = Open();
        var story = new DeskStory();
        story.Drift(0);
        story.Drift(1);
        history.Commit([story.Take()]);
        Assert.Equal(2, history.Load("hall/desk")!.Ledger.Findings.Count);
        story.Match(0);
        story.Wait(10);
        story.Match(1);
        story.Wait(70);
        history.Commit([story.Take()]);
        var left = Assert.Single(history.Load("hall/desk")!.Ledger.Findings);
        Assert.Equal((story.KeyOf(1), Condition.Normal, 1), (left.Key, left.Condition, left.Episode));
    }

    [Fact]
    public void Line_of_the_show_keeps_the_phase_of_its_own_moment_however_late_it_is_stored()
    {
        using var history = Open();
        var story = new DeskStory { Phase = Phase.Build };
        story.Tell(ShowEventKind.WatchBegan, "Midwinter");
        story.Phase = Phase.Show;
        story.Tell(ShowEventKind.PhaseBegan, "show");
        history.Commit([story.Take()]);
        using var read = Read();
        Assert.Equal([(Phase.Build, "Midwinter"), (Phase.Show, "Midwinter")], read.ShowEvents(null, DateTimeOffset.MaxValue).Select(static line => (line.Event.Phase, line.Event.Show)));
    }

    [Fact]
    public void Texts_that_are_no_texts_are_stored_as_far_as_they_can_be()
    {
        using var history = Open();
        var story = new DeskStory { Cue = "half \uD83D of a pair, and \0 zero" };
        story.Move("input/1/name", "a\0b", "\uDC00\u0007\"'; DROP TABLE finding; --");
        story.Tell(ShowEventKind.CueBegan, "\uD83D\0", "\uDFFF");
        history.Commit([story.Take()]);
        Assert.Equal("half \uFFFD of a pair, and \0 zero", history.Load("hall/desk")!.Standing.Cue);
        Assert.Empty(history.TakeNotices());
    }

    [Fact]
    public void Commit_of_nothing_and_tidying_of_nothing_are_no_faults()
    {
        using var history = Open();
        history.Commit([]);
        history.Delivered("light", []);
        Assert.Contains("nothing had to be removed", history.Tidy(DeskStory.Morning, true), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_too_old_is_removed_and_what_stands_or_waits_is_kept()
    {
        using var history = Open();
        var story = new DeskStory();
        story.Drift(0); // stays
        story.Drift(1); // is over soon
        story.See(100, 90, 1);
        story.Wait(10);
        story.Match(1);
        story.Wait(70);
        story.Tell(ShowEventKind.PhaseBegan, "show");
        history.Commit([story.Take()]);
        history.Delivered("light", [.. history.Waiting("light", 10).Select(static waiting => waiting.Row)]);
        var counts = Counts();
        Assert.True(counts is { Changes: 3, Coverage: 1, Shows: 1, Events: > 5, Announcements: 3 }, counts.ToString());

        Assert.Contains("nothing had to be removed", history.Tidy(story.Now.Wall + TimeSpan.FromDays(89), true), StringComparison.Ordinal);
        Assert.Equal(counts, Counts());
        Assert.Contains("older than 90 days were removed", history.Tidy(story.Now.Wall + TimeSpan.FromDays(91), true), StringComparison.Ordinal);

        var left = Counts();
        Assert.True(left is { Changes: 0, Coverage: 0, Shows: 0, Events: > 0, Announcements: 3 }, left.ToString());
        Assert.Equal(3, history.CountWaiting("phone"));
        Assert.Equal(2, history.Load("hall/desk")!.Ledger.Findings.Count);
        using var read = Read();
        Assert.All(read.Events(null, DateTimeOffset.MaxValue), line => Assert.Equal(story.KeyOf(0), line.Key));
        history.Delivered("phone", [.. history.Waiting("phone", 10).Select(static waiting => waiting.Row)]);
        history.Tidy(story.Now.Wall + TimeSpan.FromDays(91), true);
        Assert.Equal(0, Counts().Announcements);
    }

    [Fact]
    public void What_was_taken_in_a_digest_before_the_watch_died_is_known_to_the_next_one()
    {
        var story = new DeskStory();
        using var history = Open();
        history.Commit([story.Take()]);
        story.Drift(0);
        story.Drift(1);
        story.Wait(10);
        var output = story.Take();
        var lines = output.Alerts.Where(static alert => alert.Told.Sink == "light").Select(static alert => new DigestLine(alert.Told.Key, alert.Told.Level, 0, alert.Told.Level.Severity)).ToArray();
        var digest = new Alert(new Announcement("light", "hall/desk/digest", new Level(LevelKind.None, Severity.Warning, 0, 1), Condition.Normal, story.Now) { Digest = [lines[0], lines[1] with { Passed = 1 }] }, "Midwinter", story.Phase, null);
        history.Commit([output with { Alerts = [digest] }]);
        TakeAll(history); // and then it dies: its ledger is not told

        var stored = history.Load("hall/desk")!.Ledger.Findings;
        Assert.Equal([true, false], stored.Select(static record => record.Sinks.Single(static sink => sink.Sink == "light").Told.IsOpen)); // what only came and went tells no level
        Assert.All(stored, static record => Assert.False(record.Sinks.Single(static sink => sink.Sink == "phone").Told.IsOpen));
    }

    [Fact]
    public void Clock_that_cannot_be_trusted_makes_nothing_old()
    {
        using var history = Open();
        var story = new DeskStory();
        story.See(100, 90, 1);
        story.Tell(ShowEventKind.PhaseBegan, "show");
        history.Commit([story.Take()]);
        var counts = Counts();
        Assert.Contains("clock of this machine is not synchronised", history.Tidy(story.Now.Wall + TimeSpan.FromDays(4000), false), StringComparison.Ordinal);
        Assert.Equal(counts, Counts());
    }

    [Fact]
    public void More_than_goes_in_one_step_is_removed()
    {
        using var history = Open();
        var story = new DeskStory();
        for (var sample = 0; sample < Retention.Step + 7; sample++)
        {
            story.See(100, 90, 1);
            story.Wait(1);
        }

        history.Commit([story.Take()]);
        Assert.Contains("rows older than 90 days were removed", history.Tidy(story.Now.Wall + TimeSpan.FromDays(91), true), StringComparison.Ordinal);
        Assert.Equal(0, Counts().Coverage);
    }

    private protected abstract HistoryReader Read();

    /// <summary>Changes what is stored behind the history's back.</summary>
    private protected abstract void Run(string sql);

    private static void TakeAll(IWatchHistory history)
    {
        foreach (var sink in (string[])["light", "phone"])
            history.Delivered(sink, [.. history.Waiting(sink, 1000).Select(static waiting => waiting.Row)]);
    }

    private (int Changes, int Coverage, int Shows, int Events, int Announcements) Counts()
    {
        using var read = Read();
        return (read.Changes(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue).Count, read.Coverage(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue).Count, read.ShowEvents(null, DateTimeOffset.MaxValue).Count,
            read.Events(null, DateTimeOffset.MaxValue).Count, read.Announcements(null, DateTimeOffset.MinValue, DateTimeOffset.MaxValue).Count);
    }

    private static Alert DigestOf(string desk, int number)
    {
        var digest = Some.Digest("light", number, (Some.Key(number, desk), 1));
        return digest with { Told = digest.Told with { Key = $"{desk}/digest" } };
    }
}
