using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

public class OscBundleTests
{
    private const string BadMessage = "2F 61 00 00 2C 71 00 00";

    // 2000-01-01T00:00:00.5Z and half a second later.
    private const string Timed = "23 62 75 6E 64 6C 65 00 BC 17 C2 00 80 00 00 00";
    private const string TimedLater = "23 62 75 6E 64 6C 65 00 BC 17 C2 01 00 00 00 00";

    [Fact]
    public void Empty_bundle_has_no_messages_and_no_error()
    {
        Assert.Empty(OscText.OfPacket(OscVectors.Bytes(OscVectors.EmptyBundle), out var error, out _));
        Assert.Equal(OscError.None, error);
    }

    [Fact]
    public void Messages_come_in_packet_order()
    {
        Assert.Equal(
            ["0 1 /a i00000001", "0 1 /b f3F000000"],
            OscText.OfPacket(OscVectors.Bytes(OscVectors.TwoMessages), out _, out _));
    }

    [Fact]
    public void Message_in_a_nested_bundle_is_read_with_its_depth()
    {
        var reader = new OscPacketReader(OscVectors.Bytes(OscVectors.Nested));
        Assert.True(reader.Read(out var message));
        Assert.Equal("/a"u8, message.Address);
        Assert.Equal(2, reader.Depth);
        Assert.False(reader.Read(out _));
        Assert.False(reader.Read(out _));
    }

    [Fact]
    public void Message_on_its_own_is_immediate()
    {
        var reader = new OscPacketReader(OscVectors.Bytes(OscVectors.OneInt));
        Assert.True(reader.Read(out _));
        Assert.Equal(OscTimeTag.Immediately, reader.TimeTag);
        Assert.Equal(0, reader.Depth);
        Assert.False(reader.Read(out _));
    }

    [Fact]
    public void Time_tag_is_that_of_the_innermost_bundle_and_comes_back_after_it()
    {
        var element = " 00 00 00 0C " + OscVectors.OneInt;
        var packet = Timed + element + " 00 00 00 20 " + TimedLater + element + element;
        Assert.Equal(
            [
                "3155673600 2147483648 /a i00000001",
                "3155673601 0 /a i00000001",
                "3155673600 2147483648 /a i00000001",
            ],
            OscText.OfPacket(OscVectors.Bytes(packet), out var error, out _));
        Assert.Equal(OscError.None, error);
    }

    [Fact]
    public void Bad_message_is_rejected_and_the_next_is_read()
    {
        var packet = OscVectors.EmptyBundle + " 00 00 00 08 " + BadMessage + " 00 00 00 0C " + OscVectors.OneInt
            + " 00 00 00 04 62 62 62 62 00 00 00 0C " + OscVectors.OneFloat;
        var reader = new OscPacketReader(OscVectors.Bytes(packet));
        Assert.True(reader.Read(out var message));
        Assert.Equal("/a"u8, message.Address);
        Assert.True(reader.Read(out message));
        Assert.Equal("/b"u8, message.Address);
        Assert.False(reader.Read(out _));
        Assert.Equal(OscError.UnknownTag, reader.Error);
        Assert.Equal(20, reader.ErrorOffset);
        Assert.Equal(2, reader.Rejected);
    }

    [Fact]
    public void Bad_element_size_rejects_the_rest_of_that_bundle_only()
    {
        var inner = OscVectors.EmptyBundle + " 00 00 00 0C " + OscVectors.OneInt + " 00 00 00 FF " + OscVectors.OneFloat;
        var packet = OscVectors.EmptyBundle + " 00 00 00 30 " + inner + " 00 00 00 0C " + OscVectors.OneFloat;
        Assert.Equal(
            ["0 1 /a i00000001", "0 1 /b f3F000000"],
            OscText.OfPacket(OscVectors.Bytes(packet), out var error, out var rejected));
        Assert.Equal(OscError.ElementSize, error);
        Assert.Equal(1, rejected);
    }

    [Fact]
    public void Earlier_nested_bundle_is_rejected_and_the_rest_is_read()
    {
        var packet = TimedLater + " 00 00 00 20 " + Timed + " 00 00 00 0C " + OscVectors.OneInt + " 00 00 00 0C " + OscVectors.OneFloat;
        Assert.Equal(["3155673601 0 /b f3F000000"], OscText.OfPacket(OscVectors.Bytes(packet), out var error, out var rejected));
        Assert.Equal(OscError.NestedTimeTagEarlier, error);
        Assert.Equal(1, rejected);
    }

    [Theory]
    [InlineData(32, OscError.None, 1)]
    [InlineData(33, OscError.TooDeep, 0)]
    public void Thirty_two_bundles_deep_is_read_and_thirty_three_is_not(int depth, OscError expected, int messages)
    {
        var packet = OscVectors.Bytes(OscVectors.OneInt);
        for (var i = 0; i < depth; i++)
            packet = [.. OscVectors.Bytes(OscVectors.EmptyBundle), 0, 0, (byte)(packet.Length >> 8), (byte)packet.Length, .. packet];
        Assert.Equal(messages, OscText.OfPacket(packet, out var error, out _).Count);
        Assert.Equal(expected, error);
    }

    /// <summary>
    /// OSC 1.0 page of examples: a bundle of three patterns makes six calls; 1 x 2! x 3! = 12 orders are legal, those that keep the
    /// order of the patterns.
    /// </summary>
    [Fact]
    public void Patterns_of_a_bundle_reach_their_methods_in_packet_order()
    {
        string[] methods = ["/third/c", "/second/2", "/third/a", "/first/this/one", "/third/b", "/second/1"];
        var buffer = new byte[256];
        var writer = new OscWriter(buffer);
        writer.StartBundle(OscTimeTag.Immediately);
        writer.StartMessage("/first/this/one"u8, ""u8);
        writer.StartMessage("/second/[1-2]"u8, ""u8);
        writer.StartMessage("/third/*"u8, ""u8);
        writer.EndBundle();
        Assert.Equal(OscError.None, writer.Finish(out var length));

        var calls = new List<string>();
        var reader = new OscPacketReader(buffer.AsSpan(0, length));
        while (reader.Read(out var message))
        {
            foreach (var method in methods)
            {
                if (OscPattern.Matches(message.Address, System.Text.Encoding.ASCII.GetBytes(method)))
                    calls.Add(method);
            }
        }

        Assert.Equal("/first/this/one", calls[0]);
        Assert.Equal(["/second/1", "/second/2"], calls[1..3].Order());
        Assert.Equal(["/third/a", "/third/b", "/third/c"], calls[3..].Order());
    }
}
