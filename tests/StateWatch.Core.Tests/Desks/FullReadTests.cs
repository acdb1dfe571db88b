using System.Text;
using System.Text.RegularExpressions;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Desks.Following;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Desks;

/// <summary>Reading a whole virtual Larch 48, in virtual time, over wires as bad as they get.</summary>
public class FullReadTests(ITestOutputHelper output)
{
    private static readonly IReadOnlyList<int> Everything = [.. Enumerable.Range(0, DemoShow.Profile.Settings.Count)];

    private static readonly WireFaults Bad = FollowedDesk.Lossy;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    public void Bad_wire_still_gives_every_value(int seed)
    {
        var desk = CleanDesk();
        var (state, report, reader) = Read(desk, Bad, (ulong)(TestSeed.Value + seed));
        output.WriteLine($"seed {TestSeed.Value + seed}: {report.Asked} datagrams for {report.Questions} questions in {report.Elapsed.TotalSeconds:0.00} s of virtual time");
        Assert.Equal((ReadEnd.Complete, DemoShow.Profile.Endpoints.Count), (report.End, report.Answered));
        Assert.All(Everything, id => Assert.True(state.IsFresh(id)));
        Assert.All(Everything, id => Assert.Equal(desk[id], state[id]));
        Assert.True(report.Asked > report.Questions && reader.Counters.Received > 0);
        Assert.Empty(new Auditor(DemoShow.Plan(Phase.Doors)).Judge(state).Findings);
    }

    [Fact]
    public void Good_wire_needs_each_question_once()
    {
        var (_, report, reader) = Read(CleanDesk(), WireFaults.None, 1);
        Assert.Equal((ReadEnd.Complete, report.Questions + 1), (report.End, report.Asked));
        Assert.Equal(report.Asked, reader.Counters.Sent);
        Assert.Equal(["larch", "2.0"], report.Identity);
        // 4000 questions a second, and no more than a burst of 16 ahead.
        Assert.InRange(report.Elapsed.TotalSeconds, (report.Questions - 17) / 4000.0, report.Questions / 4000.0 + 0.2);
    }

    [Fact]
    public void Silent_desk_is_given_up_within_its_patience()
    {
        var desk = CleanDesk();
        desk.Silent = true;
        var (state, report, _) = Read(desk, WireFaults.None, 1);
        Assert.Equal((ReadEnd.Silent, 0), (report.End, report.Answered));
        Assert.Equal(FullRead.PatienceOf(DemoShow.Profile.Link).TotalSeconds, report.Elapsed.TotalSeconds, 3);
        Assert.Equal(1.0, FullRead.PatienceOf(DemoShow.Profile.Link).TotalSeconds);
        Assert.All(Everything, id => Assert.Equal((false, UnseenReason.NotAsked), (state.IsFresh(id), state.ReasonUnseen(id))));
    }

    [Fact]
    public void Unanswered_tenth_is_listed_as_no_reply_and_all_else_is_read()
    {
        var desk = CleanDesk();
        desk.Unanswered = DemoShow.Profile.Endpoints.Where(endpoint => endpoint.Id % 10 == 3).Select(endpoint => endpoint.Slots[0].Setting).ToHashSet();
        var (state, report, _) = Read(desk, Bad, (ulong)TestSeed.Value);
        Assert.Equal((ReadEnd.Partial, report.Questions - desk.Unanswered.Count), (report.End, report.Answered));
        foreach (var setting in DemoShow.Profile.Settings)
        {
            var withheld = setting.Endpoint % 10 == 3;
            Assert.Equal(!withheld, state.IsFresh(setting.Id));
            if (withheld)
                Assert.Equal(UnseenReason.NoReply, state.ReasonUnseen(setting.Id));
        }

        Assert.Empty(new Auditor(DemoShow.Plan(Phase.Doors)).Judge(state).Findings);
    }

    [Theory]
    [InlineData("birch", "2.4")]
    [InlineData("larch", "3.0")]
    [InlineData("larch")]
    [InlineData("larches", "2.4")]
    public void Another_desk_is_not_read(params string[] identity)
    {
        var desk = CleanDesk();
        desk.IdentityAnswer = identity;
        var (state, report, reader) = Read(desk, WireFaults.None, 1);
        Assert.Equal(ReadEnd.AnotherDesk, report.End);
        Assert.Equal(identity, report.Identity);
        Assert.Equal(1, reader.Counters.Sent);
        Assert.DoesNotContain(Everything, state.IsFresh);
    }

    [Theory]
    [InlineData("larch", "2.4")]
    [InlineData("LARCH", "2.")]
    [InlineData("larch", "2.4.1", "more")]
    public void Expected_desk_is_read(params string[] identity)
    {
        var desk = CleanDesk();
        desk.IdentityAnswer = identity;
        Assert.Equal(ReadEnd.Complete, Read(desk, WireFaults.None, 1).Report.End);
    }

    [Fact]
    public void Desk_that_falls_silent_is_told_from_one_that_never_answered()
    {
        var desk = CleanDesk();
        var state = new DeskState(DemoShow.Profile);
        using var reader = new MemoryDeskReader(desk);
        var read = new FullRead(DemoShow.Profile, state, reader, Everything);
        var report = read.Run((answered, _) => desk.Silent |= answered > 500, TestContext.Current.CancellationToken);
        Assert.Equal(ReadEnd.FellSilent, report.End);
        Assert.InRange(report.Answered, 500, 1000);
        Assert.InRange(report.Elapsed.TotalSeconds, 1, 1.5);
        Assert.True(state.IsFresh(0));
    }

    [Fact]
    public void Refusing_network_ends_as_silent()
    {
        using var reader = new MemoryDeskReader(CleanDesk()) { Refusing = true };
        var report = new FullRead(DemoShow.Profile, new DeskState(DemoShow.Profile), reader, Everything).Run(cancel: TestContext.Current.CancellationToken);
        Assert.Equal(ReadEnd.Silent, report.End);
        Assert.True(reader.Counters.Refused > 0);
    }

    [Fact]
    public void Late_answers_are_accepted()
    {
        // Slower than the 150 ms time-out: every question is asked again before its first answer comes.
        var late = new WireFaults { DelayLeast = TimeSpan.FromMilliseconds(200), DelayMost = TimeSpan.FromMilliseconds(400) };
        var desk = CleanDesk();
        var (state, report, _) = Read(desk, late, (ulong)TestSeed.Value, answersOnly: true);
        Assert.Equal(ReadEnd.Complete, report.End);
        Assert.All(Everything, id => Assert.Equal(desk[id], state[id]));
    }

    [Fact]
    public void Foreign_datagrams_are_counted_and_change_nothing()
    {
        var desk = CleanDesk();
        var other = new VirtualDesk(DemoShow.Profile);
        using var reader = new MemoryDeskReader(desk);
        var forged = new Forger(reader);
        foreach (var endpoint in DemoShow.Profile.Endpoints)
            other.Handle(endpoint.Question, forged);
        var state = new DeskState(DemoShow.Profile);
        var read = new FullRead(DemoShow.Profile, state, reader, Everything);
        Assert.Equal(ReadEnd.Complete, read.Run(cancel: TestContext.Current.CancellationToken).End);
        Assert.Equal(DemoShow.Profile.Endpoints.Count, reader.Counters.Foreign);
        Assert.All(Everything, id => Assert.Equal(desk[id], state[id]));
    }

    [Fact]
    public void Cancelled_read_says_so_by_what_it_did_not_see()
    {
        var state = new DeskState(DemoShow.Profile);
        using var reader = new MemoryDeskReader(CleanDesk());
        using var cancel = new CancellationTokenSource();
        var report = new FullRead(DemoShow.Profile, state, reader, Everything).Run((answered, _) =>
        {
            if (answered > 100)
                cancel.Cancel();
        }, cancel.Token);
        Assert.Equal(ReadEnd.Partial, report.End);
        Assert.InRange(report.Answered, 100, 300);
        Assert.Equal(report.Answered, DemoShow.Profile.Endpoints.Count(endpoint => state.IsFresh(endpoint.Slots[0].Setting)));
        var reasons = Everything.Where(id => !state.IsFresh(id)).GroupBy(state.ReasonUnseen).ToDictionary(group => group.Key, group => group.Count());
        Assert.True(reasons[UnseenReason.NotAsked] > 5000 && reasons.GetValueOrDefault(UnseenReason.NoReply) < 500);
    }

    [Fact]
    public void Reading_changes_nothing_and_sends_only_known_questions()
    {
        var desk = CleanDesk();
        desk.Unanswered = new HashSet<int> { DemoShow.Profile.Find("socket/stage-7/phantom") };
        var (revision, fingerprint) = (desk.Revision, desk.Fingerprint);
        var (_, _, reader) = Read(desk, Bad, (ulong)TestSeed.Value);
        Assert.Equal((revision, fingerprint), (desk.Revision, desk.Fingerprint));
        Assert.Equal(0, desk.Counters.Sets);
        Assert.Equal(0, desk.Counters.Malformed);
        Assert.Equal(0, desk.Counters.Unknown);
        Assert.Equal(0, reader.SentDatagrams.Missed);
        var patterns = DemoShow.QuestionsText.Split('\n').Where(line => line.StartsWith('^')).Select(line => new Regex(line.Trim(), RegexOptions.CultureInvariant, TimeSpan.FromSeconds(5))).ToList();
        Assert.True(patterns.Count > 20);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var datagram in reader.SentDatagrams.ToArrays())
        {
            // OSC 1.0 by hand: an address, one to four nulls, then "," and three nulls, and nothing more.
            var end = Array.IndexOf(datagram, (byte)0);
            var address = Encoding.ASCII.GetString(datagram, 0, end);
            byte[] whole = [.. Encoding.ASCII.GetBytes(address), .. new byte[4 - address.Length % 4], (byte)',', 0, 0, 0];
            Assert.Equal(whole, datagram);
            if (seen.Add(address))
                Assert.Contains(patterns, pattern => pattern.IsMatch(address));
        }

        Assert.Equal(DemoShow.Profile.Endpoints.Count + 1, seen.Count);
    }

    [Fact]
    public void Second_read_forgets_what_the_first_one_saw()
    {
        var desk = CleanDesk();
        var state = new DeskState(DemoShow.Profile);
        using var first = new MemoryDeskReader(desk);
        _ = new FullRead(DemoShow.Profile, state, first, Everything).Run(cancel: TestContext.Current.CancellationToken);
        desk.Silent = true;
        using var second = new MemoryDeskReader(desk);
        Assert.Equal(ReadEnd.Silent, new FullRead(DemoShow.Profile, state, second, Everything).Run(cancel: TestContext.Current.CancellationToken).End);
        Assert.DoesNotContain(Everything, state.IsFresh);
    }

    private static VirtualDesk CleanDesk()
    {
        var desk = new VirtualDesk(DemoShow.Profile);
        var clean = DemoShow.CleanDesk();
        foreach (var setting in DemoShow.Profile.Settings)
            desk.Set(setting.Id, clean[setting.Id]);
        return desk;
    }

    private static (DeskState State, ReadReport Report, MemoryDeskReader Reader) Read(VirtualDesk desk, WireFaults faults, ulong seed, bool answersOnly = false)
    {
        var state = new DeskState(DemoShow.Profile);
        var reader = new MemoryDeskReader(desk, answersOnly ? WireFaults.None : faults, faults, seed);
        using (reader)
            return (state, new FullRead(DemoShow.Profile, state, reader, Everything).Run(cancel: TestContext.Current.CancellationToken), reader);
    }

    private sealed class Forger(MemoryDeskReader reader) : IReplySink
    {
        public void Reply(ReadOnlySpan<byte> answer) => reader.SendForeign(answer);
    }
}
