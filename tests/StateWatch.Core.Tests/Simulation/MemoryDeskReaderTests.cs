using StateWatch.Core.Links;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

public class MemoryDeskReaderTests
{
    private const string HumIsOff = "2F68756D000000002C460000";

    private static readonly int Hum = SmallDesk.FernProfile.Settings[SmallDesk.FernProfile.Find("desk/oscillator")].Endpoint;

    private static readonly WireFaults Bad = new()
    {
        Loss = 0.3,
        Duplicates = 0.2,
        DelayLeast = TimeSpan.FromMilliseconds(1),
        DelayMost = TimeSpan.FromMilliseconds(5),
        Reordered = 0.1,
    };

    [Fact]
    public void Time_moves_to_the_answer_and_no_further()
    {
        var delay = new WireFaults { DelayLeast = TimeSpan.FromMilliseconds(3) };
        using var link = new MemoryDeskReader(SmallDesk.Create(), delay, delay);
        var log = new AnswerLog();
        Assert.True(link.Ask(Hum));
        Assert.Equal(0, link.Clock.GetTimestamp());
        Assert.Equal(1, link.Receive(Milliseconds(100), log));
        Assert.Equal([HumIsOff], log.Hex);
        Assert.Equal([Milliseconds(6)], log.Times);
        Assert.Equal(Milliseconds(6), link.Clock.GetTimestamp());
    }

    [Fact]
    public void Time_moves_to_the_deadline_when_nothing_comes()
    {
        var delay = new WireFaults { DelayLeast = TimeSpan.FromMilliseconds(30) };
        using var link = new MemoryDeskReader(SmallDesk.Create(), delay, delay);
        var log = new AnswerLog();
        Assert.True(link.Ask(Hum));
        Assert.Equal(0, link.Receive(Milliseconds(59), log));
        Assert.Equal(Milliseconds(59), link.Clock.GetTimestamp());
        Assert.Equal(0, link.Receive(Milliseconds(10), log));
        Assert.Equal(Milliseconds(59), link.Clock.GetTimestamp());
        Assert.Equal(1, link.Receive(Milliseconds(60), log));
    }

    [Fact]
    public void Question_is_answered_with_what_is_so_when_it_arrives()
    {
        var desk = SmallDesk.Create();
        using var link = new MemoryDeskReader(desk, new WireFaults { DelayLeast = TimeSpan.FromMilliseconds(10) });
        var log = new AnswerLog();
        Assert.True(link.Ask(Hum));
        Assert.Equal(0, link.Receive(Milliseconds(5), log));
        desk.Set("desk/oscillator", "on");
        Assert.Equal(1, link.Receive(Milliseconds(20), log));
        Assert.Equal(["2F68756D000000002C540000"], log.Hex);
    }

    [Fact]
    public void All_that_is_there_is_handed_over_together()
    {
        using var link = new MemoryDeskReader(SmallDesk.Create());
        var log = new AnswerLog();
        for (var i = 0; i < 5; i++)
            Assert.True(link.Ask(Hum));
        Assert.Equal(5, link.Receive(0, log));
        Assert.Equal(new LinkCounters(Sent: 5, Received: 5, 0, 0, 0, 0), link.Counters);
    }

    [Fact]
    public void Foreign_datagrams_are_counted_and_not_handed_over()
    {
        using var link = new MemoryDeskReader(SmallDesk.Create());
        var log = new AnswerLog();
        link.SendForeign([1, 2, 3, 4]);
        Assert.Equal(0, link.Receive(Milliseconds(1), log));
        link.SendForeign([1, 2, 3, 4]);
        link.SendUnasked([5, 6, 7, 8]);
        Assert.Equal(1, link.Receive(Milliseconds(2), log));
        Assert.Equal(["05060708"], log.Hex);
        Assert.Equal(new LinkCounters(0, Received: 1, Foreign: 2, 0, 0, 0), link.Counters);
    }

    [Fact]
    public void Refusing_link_sends_nothing_and_counts()
    {
        using var link = new MemoryDeskReader(SmallDesk.Create()) { Refusing = true };
        Assert.False(link.Ask(Hum));
        Assert.Equal(new LinkCounters(0, 0, 0, 0, 0, Refused: 1), link.Counters);
        Assert.Equal(0, link.SentDatagrams.Count);
    }

    [Fact]
    public void Identity_is_asked_by_its_own_number()
    {
        using var link = new MemoryDeskReader(SmallDesk.Create());
        var log = new AnswerLog();
        Assert.True(link.Ask(IDeskReader.IdentityQuestion));
        Assert.Equal(1, link.Receive(0, log));
        Assert.Equal("2F77686F00000000" + "2C737300" + "6665726E00000000" + "332E3000", log.Hex[0]);
        using var nameless = new MemoryDeskReader(new VirtualDesk(SmallDesk.OrderingProfile));
        Assert.Throws<ArgumentOutOfRangeException>(() => nameless.Ask(IDeskReader.IdentityQuestion));
    }

    [Fact]
    public void Same_seed_gives_the_same_answers_at_the_same_times()
    {
        var first = AskEverything(11);
        var again = AskEverything(11);
        Assert.Equal(first.Hex, again.Hex);
        Assert.Equal(first.Times, again.Times);
        Assert.NotEqual(first.Times, AskEverything(12).Times);
    }

    [Fact]
    public void Everything_sent_is_kept_and_is_a_question_of_the_profile()
    {
        var desk = SmallDesk.Create();
        var before = desk.Fingerprint;
        using var link = new MemoryDeskReader(desk, Bad, Bad, seed: 4);
        foreach (var endpoint in desk.Profile.Endpoints)
            Assert.True(link.Ask(endpoint.Id));
        _ = link.Receive(Milliseconds(100), new AnswerLog());
        Assert.Equal(desk.Profile.Endpoints.Select(endpoint => Convert.ToHexString(endpoint.Question)), link.SentDatagrams.ToArrays().Select(Convert.ToHexString));
        Assert.Equal(0, link.SentDatagrams.Missed);
        Assert.Equal((before, 0L), (desk.Fingerprint, desk.Counters.Sets));
    }

    private static AnswerLog AskEverything(ulong seed)
    {
        using var link = new MemoryDeskReader(SmallDesk.Create(), Bad, Bad, seed);
        var log = new AnswerLog();
        foreach (var endpoint in SmallDesk.FernProfile.Endpoints)
        {
            Assert.True(link.Ask(endpoint.Id));
            _ = link.Receive(link.Clock.GetTimestamp() + Milliseconds(1), log);
        }

        while (link.Receive(link.Clock.GetTimestamp() + Milliseconds(100), log) > 0)
        {
        }

        return log;
    }

    private static long Milliseconds(int count) => TimeSpan.FromMilliseconds(count).Ticks;
}
