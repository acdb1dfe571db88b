using StateWatch.Protocol.Framing;
using StateWatch.Protocol.Tests.Osc;

namespace StateWatch.Protocol.Tests.Framing;

/// <summary>OSC 1.0, "OSC Packets": over a stream each packet follows its size as an int32.</summary>
public class LengthPrefixFramerTests
{
    private const string Framed = "00 00 00 0C " + OscVectors.OneInt;

    [Fact]
    public void Packet_is_framed_to_the_published_bytes()
    {
        var destination = new byte[16];
        Assert.Equal(FramingError.None, LengthPrefixFramer.Encode(OscVectors.Bytes(OscVectors.OneInt), destination, out var written));
        Assert.Equal(OscVectors.Bytes(Framed), destination[..written]);
    }

    [Fact]
    public void Two_frames_in_one_read_give_two_packets() =>
        Assert.Equal([OscVectors.OneInt, OscVectors.OneFloat], ReadAll(64, out _, Framed + "00 00 00 0C" + OscVectors.OneFloat));

    [Fact]
    public void Stream_split_anywhere_in_three_gives_the_same_packets()
    {
        var stream = OscVectors.Bytes(Framed + "00 00 00 0C" + OscVectors.OneFloat);
        for (var first = 0; first <= stream.Length; first++)
        {
            for (var second = first; second <= stream.Length; second++)
            {
                var packets = ReadAll(12, out var framer, stream[..first], stream[first..second], stream[second..]);
                Assert.Equal([OscVectors.OneInt, OscVectors.OneFloat], packets);
                Assert.Equal(FramingError.None, framer.End());
            }
        }
    }

    [Theory]
    [InlineData("00 00 00 00", FramingError.SizeZero)]
    [InlineData("FF FF FF FC", FramingError.SizeNegative)]
    [InlineData("80 00 00 00", FramingError.SizeNegative)]
    [InlineData("00 00 00 07", FramingError.SizeNotMultipleOfFour)]
    [InlineData("00 00 00 44", FramingError.PacketTooLong)]
    [InlineData("7F FF FF FC", FramingError.PacketTooLong)]
    public void Bad_size_stops_the_framer_for_good(string size, FramingError expected)
    {
        Assert.Equal([OscVectors.OneInt], ReadAll(64, out var framer, Framed + size + Framed));
        Assert.Equal(expected, framer.Error);
        ReadOnlySpan<byte> more = OscVectors.Bytes(Framed);
        Assert.False(framer.Read(ref more, out _));
        Assert.Equal(expected, framer.End());
    }

    [Fact]
    public void Packet_as_long_as_the_buffer_is_taken() =>
        Assert.Equal([OscVectors.Oscillator], ReadAll(32, out _, "00 00 00 20 " + OscVectors.Oscillator));

    [Fact]
    public void Stream_that_ends_inside_a_frame_is_truncated_and_between_frames_is_not()
    {
        var stream = OscVectors.Bytes(Framed + Framed);
        for (var length = 0; length <= stream.Length; length++)
        {
            ReadAll(64, out var framer, stream[..length]);
            Assert.Equal(length % 16 == 0 ? FramingError.None : FramingError.Truncated, framer.End());
        }
    }

    [Fact]
    public void Encoder_names_faults()
    {
        Assert.Equal(FramingError.SizeZero, LengthPrefixFramer.Encode([], new byte[16], out _));
        Assert.Equal(FramingError.SizeNotMultipleOfFour, LengthPrefixFramer.Encode(new byte[3], new byte[16], out _));
        for (var room = 0; room < 16; room++)
            Assert.Equal(FramingError.DestinationTooSmall, LengthPrefixFramer.Encode(new byte[12], new byte[room], out _));
    }

    [Fact]
    public void Encoder_may_work_in_place()
    {
        var buffer = new byte[16];
        OscVectors.Bytes(OscVectors.OneInt).CopyTo(buffer, 0);
        Assert.Equal(FramingError.None, LengthPrefixFramer.Encode(buffer.AsSpan(0, 12), buffer, out _));
        Assert.Equal(OscVectors.Bytes(Framed), buffer);
    }

    [Fact]
    public void Every_error_is_described_by_a_sentence_of_its_own()
    {
        var sentences = Enum.GetValues<FramingError>().Select(error => error.Describe()).ToList();
        Assert.Equal(sentences.Count, sentences.Distinct().Count());
        Assert.All(sentences, sentence => Assert.EndsWith(".", sentence, StringComparison.Ordinal));
        Assert.DoesNotContain(((FramingError)255).Describe(), sentences);
    }

    private static List<string> ReadAll(int maximum, out LengthPrefixFramer framer, string hex) =>
        ReadAll(maximum, out framer, OscVectors.Bytes(hex));

    private static List<string> ReadAll(int maximum, out LengthPrefixFramer framer, params byte[][] chunks)
    {
        var packets = new List<string>();
        framer = new LengthPrefixFramer(new byte[maximum]);
        foreach (var bytes in chunks)
        {
            ReadOnlySpan<byte> chunk = bytes;
            while (framer.Read(ref chunk, out var packet))
                packets.Add(string.Join(' ', Convert.ToHexString(packet).Chunk(2).Select(pair => new string(pair))));
        }

        return packets;
    }
}
