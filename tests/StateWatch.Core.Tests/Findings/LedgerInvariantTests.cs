using CsCheck;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>What must hold of any ledger, whatever is said to it; of the many sequences of <see cref="LedgerModelTests"/> the same is true.</summary>
public class LedgerInvariantTests
{
    private const int Count = 300;
    private static readonly Gen<(int Check, int What, int Wait)> Saying = Gen.Select(Gen.Int[0, 15], Gen.Int[0, 9], Gen.Frequency((3, Gen.Const(0)), (4, Gen.Int[1, 30]), (1, Gen.Int[50, 900])));

    private static IEnumerable<(int Check, int What, int Wait)[]> Stories()
    {
        var random = new PCG(12, (ulong)TestSeed.Value);
        for (var story = 0; story < Count; story++)
            yield return Saying.Array[30, 120].Generate(random, null, out _);
    }

    private static Reading ReadingOf(int what) => what switch
    {
        < 3 => Reading.Match,
        3 => Reading.Unknown,
        _ => Reading.Drift((Severity)(1 + what % 3)),
    };

    private static Vigil Of16() => new([.. Enumerable.Range(0, 16).Select(static number => new WatchedCheck($"off:input/{number:00}", (TimerClass)(number % 3), number % 5 == 1))]);

    [Fact]
    public void What_is_not_known_never_clears()
    {
        foreach (var story in Stories())
        {
            var vigil = Of16();
            foreach (var (check, what, wait) in story)
            {
                vigil.Say(check, ReadingOf(what));
                vigil.Wait(wait / 10.0);
            }

            var before = Enumerable.Range(0, 16).Select(check => vigil[check]).ToList();
            vigil.Told();
            for (var check = 0; check < 16; check++)
                vigil.Unknown(check);
            vigil.Wait(7200);
            Assert.All(before, finding => Assert.Equal(finding.Condition, vigil[finding.Key].Condition));
            vigil.Told();
            foreach (var finding in before.Where(static finding => finding.Condition == Condition.Active))
            {
                Assert.All(vigil[finding.Key].Sinks, static sink => Assert.True(sink.Offered.IsOpen));
                Assert.True(vigil.All.Last(one => one.Key == finding.Key).Level.IsOpen);
            }
        }
    }

    [Fact]
    public void Every_episode_is_told_as_raised_or_in_a_digest()
    {
        foreach (var story in Stories())
        {
            var vigil = Of16();
            for (var step = 0; step < story.Length; step++)
            {
                var (check, what, wait) = story[step];
                vigil.Say(check, ReadingOf(what));
                vigil.Wait(wait / 10.0);
                if (step % 25 == 24)
                {
                    vigil.Restart(3);
                    vigil.Connect();
                }
            }

            for (var check = 0; check < 16; check++)
                vigil.Match(check);
            vigil.Wait(3600);
            vigil.Told();
            for (var check = 0; check < 16; check++)
            {
                var key = vigil.KeyOf(check);
                var light = vigil.All.Where(static one => one.Sink == "light").ToList();
                var told = light.Where(one => one.Key == key && one.Level.IsOpen).Select(static one => one.Level.Episode)
                    .Concat(light.SelectMany(one => one.Digest ?? []).Where(line => line.Key == key && line.Passed == 0).Select(static line => line.Level.Episode)).Distinct().Count();
                var passed = light.SelectMany(one => one.Digest ?? []).Where(line => line.Key == key).Sum(static line => line.Passed);
                Assert.True(told + passed >= vigil[check].Episode, $"{key}: {told} told, {passed} in digests, {vigil[check].Episode} episodes");
            }
        }
    }

    [Fact]
    public void One_key_has_rising_numbers_and_one_id_for_each_change()
    {
        foreach (var story in Stories())
        {
            var vigil = Of16();
            foreach (var (check, what, wait) in story)
            {
                vigil.Say(check, ReadingOf(what));
                vigil.Wait(wait / 10.0);
            }

            vigil.Told();
            foreach (var one in vigil.All.GroupBy(static one => (one.Sink, one.Key)))
            {
                var numbers = one.Select(static announcement => announcement.Level.Transition).ToList();
                Assert.Equal(numbers.Order().Distinct(), numbers);
            }
        }
    }

    [Fact]
    public void From_any_state_that_was_stored_the_same_follows()
    {
        foreach (var story in Stories().Take(60))
        {
            var ledgers = new List<FindingLedger>();
            var checks = Of16().Checks;
            var told = new List<List<string>>();
            ledgers.Add(Begin(checks));
            told.Add([]);
            var clock = 0.0;
            for (var step = 0; step < story.Length; step++)
            {
                clock += story[step].Wait / 10.0;
                if (step % 20 == 19)
                {
                    ledgers[0].Advance(At(clock));
                    Take(ledgers, told);
                    ledgers.Add(FindingLedger.Restore(ledgers[0].Export(At(clock)), checks, ["light"], At(clock)));
                    told.Add([.. told[0]]);
                }

                foreach (var ledger in ledgers)
                    ledger.Observe(story[step].Check, ReadingOf(story[step].What), At(clock));
                Take(ledgers, told);
            }

            foreach (var ledger in ledgers)
                ledger.Advance(At(clock + 2000));
            Take(ledgers, told);
            Assert.All(told, lines => Assert.Equal(told[0], lines));
            Assert.All(ledgers, ledger => Assert.Equal(Written(ledgers[0], clock + 2000), Written(ledger, clock + 2000)));
        }
    }

    [Fact]
    public void In_what_order_unrelated_checks_are_handed_in_or_listed_changes_nothing()
    {
        foreach (var story in Stories().Take(100))
        {
            var (one, other) = (Of16(), Of16());
            var mirrored = new Vigil([.. one.Checks.Reverse()]);
            foreach (var moment in Moments(story))
            {
                foreach (var (check, what) in moment.Sayings)
                    one.Say(check, ReadingOf(what));
                foreach (var (check, what) in moment.Sayings.AsEnumerable().Reverse())
                {
                    other.Say(check, ReadingOf(what));
                    mirrored.Say(15 - check, ReadingOf(what));
                }

                foreach (var vigil in (Vigil[])[one, other, mirrored])
                    vigil.Wait(moment.Wait);
            }

            Assert.Equal(one.Told(), other.Told());
            Assert.Equal(one.All.Select(static a => (a.Id, a.At)), other.All.Select(static a => (a.Id, a.At)));
            mirrored.Told();
            Assert.Equal(one.All.Select(static a => (a.Id, a.At)), mirrored.All.Select(static a => (a.Id, a.At)));
            Assert.Equal(one.Ledger.Standing().Select(LedgerWords.Of), mirrored.Ledger.Standing().Select(LedgerWords.Of));
        }
    }

    [Fact]
    public void What_is_stored_piece_by_piece_is_what_is_stored_whole()
    {
        foreach (var story in Stories().Take(60))
        {
            var vigil = Of16();
            var stored = new Dictionary<string, FindingRecord>(StringComparer.Ordinal);
            foreach (var (check, what, wait) in story)
            {
                vigil.Say(check, ReadingOf(what));
                vigil.Wait(wait / 10.0);
                foreach (var record in vigil.Ledger.TakeChanged())
                    stored[record.Key] = record;
            }

            // That something went off plan of late is forgotten without a word; it is looked at only together with the time. Nor is each look at what is damped
            // written, which comes a second after the last: a watch that goes on looks at once.
            foreach (var record in vigil.Ledger.Export(vigil.Now).Findings.Where(static record => !record.IsQuiet))
                Assert.Equal(Written(record with { IsRecent = false, NextLook = default }), Written(stored[record.Key] with { IsRecent = false, NextLook = default }));
        }
    }

    [Fact]
    public void Saying_again_what_is_known_and_letting_time_pass_allocates_nothing()
    {
        var vigil = Vigil.OfMany(500);
        vigil.Drift(3);
        vigil.Wait(10);
        vigil.Told();
        var (clock, drift, match) = (vigil.Now, Reading.Drift(Severity.Urgent), Reading.Match);
        var step = 0;
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (var round = 0; round < 100; round++)
            {
                var now = new Moment(clock.Clock + TimeSpan.FromMilliseconds(++step), clock.Wall);
                for (var check = 0; check < 500; check++)
                    vigil.Ledger.Observe(check, check == 3 ? drift : match, now);
                vigil.Ledger.Advance(now);
                _ = vigil.Ledger.NextDue;
            }
        }));
    }

    private static FindingLedger Begin(IReadOnlyList<WatchedCheck> checks)
    {
        var ledger = new FindingLedger("hall/desk", checks, ["light"], At(0));
        ledger.Start(At(0));
        ledger.LinkUp(1, At(0));
        ledger.SnapshotDone(1, At(0));
        return ledger;
    }

    private static void Take(List<FindingLedger> ledgers, List<List<string>> told)
    {
        for (var ledger = 0; ledger < ledgers.Count; ledger++)
        {
            told[ledger].AddRange(ledgers[ledger].Announcements.Select(static one => $"{one.At.Clock} {LedgerWords.Of(one)}"));
            ledgers[ledger].ClearOutputs();
        }
    }

    private static Moment At(double seconds) => new(TimeSpan.FromSeconds(seconds), new DateTimeOffset(2026, 11, 25, 9, 0, 0, TimeSpan.Zero) + TimeSpan.FromSeconds(seconds));

    private static List<string> Written(FindingLedger ledger, double seconds) => [.. ledger.Export(At(seconds)).Findings.Select(Written)];

    // A record prints all of its properties, so nothing that is remembered is left out here.
    private static string Written(FindingRecord record) => $"{record} {string.Join(' ', record.Sinks)}";

    private static IEnumerable<(List<(int Check, int What)> Sayings, double Wait)> Moments((int Check, int What, int Wait)[] story)
    {
        // Of one check only the last word of a moment counts as unrelated to the others.
        var said = new Dictionary<int, int>();
        foreach (var (check, what, wait) in story)
        {
            said[check] = what;
            if (wait == 0)
                continue;
            yield return ([.. said.OrderBy(static pair => pair.Key).Select(static pair => (pair.Key, pair.Value))], wait / 10.0);
            said.Clear();
        }
    }
}
