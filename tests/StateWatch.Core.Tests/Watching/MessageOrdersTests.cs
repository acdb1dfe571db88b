using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;
using StateWatch.Core.Watching;
using StateWatch.Protocol.Osc;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Watching;

/// <summary>Messages that call phases and cues; bytes are laid out as in the OSC 1.0 specification.</summary>
public class MessageOrdersTests
{
    private const string Lines = """
        phases: { show: { message: /show/begins }, doors: { message: [/show/phase, 2] } }
        cues:
          Sermon: { settings: { "input/1/low-cut": on }, message: /show/sermon }
          Hymn:   { settings: { "input/1/low-cut": off }, message: [/show/cue, 7, x, "8"] }
          Film:   { settings: { "input/1/low-cut": on }, message: [/show/cue, 0.1] }
          Bell:   { settings: { "input/1/low-cut": on }, message: [/show/cue, true] }
        """;

    [Theory]
    [InlineData("/show/begins\0\0\0\0,\0\0\0", "show")]
    [InlineData("/show/begins\0\0\0\0", "show")] // a sender of old that leaves the tags out
    [InlineData("/show/begins\0\0\0\0,i\0\0\0\0\0\u0001", "show")] // a button pressed
    [InlineData("/show/begins\0\0\0\0,i\0\0\0\0\0\0", null)] // and let go
    [InlineData("/show/begins\0\0\0\0,f\0\0\0\0\0\0", null)]
    [InlineData("/show/begins\0\0\0\0,F\0\0", null)]
    [InlineData("/show/begins\0\0\0\0,T\0\0", "show")]
    [InlineData("/show/begins\0\0\0\0,ii\0\0\0\0\0\0\0\0\0", "show")] // two arguments are no button
    [InlineData("/show/begins\0\0\0\0,s\0\00\0\0\0", "show")] // a text is no 0
    [InlineData("/show/phase\0,i\0\0\0\0\0\u0002", "doors")]
    [InlineData("/show/phase\0,i\0\0\0\0\0\u0003", null)]
    [InlineData("/show/phase\0,f\0\0@\0\0\0", "doors")] // 2.0 as a float is 40000000
    [InlineData("/show/phase\0,\0\0\0", null)]
    [InlineData("/show/phase\0,ii\0\0\0\0\u0002\0\0\0\u0002", null)]
    [InlineData("/show/sermon\0\0\0\0,\0\0\0", "Sermon")]
    [InlineData("/show/*\0,\0\0\0", null)] // a pattern calls nothing
    [InlineData("/show/cue\0\0\0,iss\0\0\0\0\0\0\0\u0007x\0\0\08\0\0\0", "Hymn")]
    [InlineData("/show/cue\0\0\0,isi\0\0\0\0\0\0\0\u0007x\0\0\0\0\0\0\u0008", null)] // "8" is a text
    [InlineData("/show/cue\0\0\0,T\0\0", "Bell")]
    [InlineData("/show\0\0\0,\0\0\0", null)]
    [InlineData("/show/begins/it\0,\0\0\0", null)]
    public void Message_calls_what_the_plan_says(string packet, string? called)
    {
        var orders = MessageOrders.Of(Written.Plan(Lines).Document)!;
        Assert.Equal(OscError.None, OscReader.ReadMessage([.. packet.Select(static character => (byte)character)], out var message));
        var order = orders.Find(message);
        Assert.Equal(called, order switch { PhaseOrder phase => phase.Phase.Word(), CueOrder cue => cue.Cue, _ => null });
        Assert.Equal(called is null ? null : "message", order?.By);
    }

    [Fact]
    public void Number_is_the_same_as_float_and_as_double()
    {
        var orders = MessageOrders.Of(Written.Plan(Lines).Document)!;
        foreach (var isDouble in (bool[])[false, true])
        {
            var buffer = new byte[64];
            var writer = new OscWriter(buffer);
            writer.StartMessage("/show/cue"u8, isDouble ? "d"u8 : "f"u8);
            if (isDouble)
                writer.Float64(0.1);
            else
                writer.Float32(0.1f);
            Assert.Equal(OscError.None, writer.Finish(out var length));
            Assert.Equal(OscError.None, OscReader.ReadMessage(buffer.AsSpan(0, length), out var message));
            Assert.Equal(new CueOrder("Film", "message"), orders.Find(message));
        }
    }

    [Fact]
    public void Plan_without_messages_listens_to_nothing() => Assert.Null(MessageOrders.Of(Written.Plan("cues: { A: { settings: { input/1/low-cut: on } } }").Document));

    [Fact]
    public void Whatever_bytes_come_it_is_one_of_the_plans_messages_or_none_and_nothing_is_allocated()
    {
        var orders = MessageOrders.Of(Written.Plan(Lines).Document)!;
        var numbers = new SeededNumbers((ulong)TestSeed.Value);
        byte[][] seeds = [.. ((string[])["/show/begins\0\0\0\0,i\0\0\0\0\0\u0001", "/show/cue\0\0\0,iss\0\0\0\0\0\0\0\u0007x\0\0\08\0\0\0", "/show/phase\0,f\0\0@\0\0\0", "/some/desk/1/level\0\0,f\0\0@\0\0\0"]).Select(static text => text.Select(static character => (byte)character).ToArray())];
        byte[][] packets = [.. Enumerable.Range(0, 4_000).Select(number =>
        {
            var packet = (byte[])seeds[number % seeds.Length].Clone();
            for (var i = 0; i < numbers.NextBelow(4); i++)
                packet[numbers.NextBelow(packet.Length)] = (byte)numbers.NextBelow(256);
            return numbers.NextBelow(10) == 0 ? packet[..(4 * numbers.NextBelow(packet.Length / 4 + 1))] : packet;
        })];
        var (read, found) = (0, 0);
        Look();
        Assert.True(read > 1_000 && found > 300 && found < read, $"{read} messages, {found} orders");
        Assert.Equal(0, Allocations.Least(Look));

        void Look()
        {
            foreach (var packet in packets)
            {
                if (OscReader.ReadMessage(packet, out var message) != OscError.None)
                    continue;
                read++;
                found += orders.Find(message) is null ? 0 : 1;
            }
        }
    }
}
