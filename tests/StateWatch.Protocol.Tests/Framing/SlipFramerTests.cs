using StateWatch.Protocol.Framing;
using StateWatch.Protocol.Tests.Osc;

namespace StateWatch.Protocol.Tests.Framing;

/// <summary>RFC 1055 bytes; OSC 1.1 (Freed and Schmeder, NIME 2009) asks for an END at both ends of each packet.</summary>
public class SlipFramerTests
{
    private const string Packet = "2F 78 00 00 2C 69 00 00 00 C0 DB 01";
    private const string Framed = "C0 2F 78 00 00 2C 69 00 00 00 DB DC DB DD 01 C0";

    [Theory]
    [InlineData(Packet, Framed)]
    [InlineData("01 02 03 04 05 06", "C0 01 02 03 04 05 06 C0")] // The example in the documentation of a SLIP library.
    [InlineData("C0 DB", "C0 DB DC DB DD C0")]
    [InlineData("", "C0 C0")]
    public void Packet_is_framed_to_these_bytes_and_read_back(string packet, string framed)
    {
        var expected = OscVectors.Bytes(framed);
        var destination = new byte[SlipFramer.MaximumEncodedLength(OscVectors.Bytes(packet).Length)];
        Assert.Equal(FramingError.None, SlipFramer.Encode(OscVectors.Bytes(packet), destination, out var written));
        Assert.Equal(expected, destination[..written]);
        Assert.Equal(packet.Length == 0 ? [] : [packet], ReadAll(out _, expected));
        for (var room = 0; room < expected.Length; room++)
            Assert.Equal(FramingError.DestinationTooSmall, SlipFramer.Encode(OscVectors.Bytes(packet), new byte[room], out _));
    }

    [Theory]
    [InlineData("C0 C0 C0", FramingError.None, 0)]
    [InlineData(Framed + Framed, FramingError.None, 0, Packet, Packet)]
    [InlineData("C0 01 C0 02 C0", FramingError.None, 0, "01", "02")]
    [InlineData("C0 01 DB 41 02 C0 03 C0", FramingError.BadEscape, 1, "03")]
    [InlineData("C0 01 DB C0 03 C0", FramingError.BadEscape, 1, "03")]
    [InlineData("C0 01 DB DB DC 05 C0 03 C0", FramingError.BadEscape, 1, "03")]
    [InlineData("41 42 " + Framed, FramingError.NoiseBeforeFirstEnd, 1, Packet)]
    [InlineData("DB DC 42 " + Framed, FramingError.NoiseBeforeFirstEnd, 1, Packet)]
    [InlineData("C0 01 02 03 04 05 06 07 08 09 0A 0B 0C C0", FramingError.None, 0, "01 02 03 04 05 06 07 08 09 0A 0B 0C")]
    [InlineData("C0 01 02 03 04 05 06 07 08 09 0A 0B 0C 0D C0 03 C0", FramingError.PacketTooLong, 1, "03")]
    [InlineData("C0 01 02 03 04 05 06 07 08 09 0A 0B 0C DB DC DB DD C0 03 C0", FramingError.PacketTooLong, 1, "03")]
    public void Stream_gives_these_packets_wherever_it_is_split(string stream, FramingError error, int rejected, params string[] packets)
    {
        var bytes = OscVectors.Bytes(stream);
        for (var first = 0; first <= bytes.Length; first++)
        {
            for (var second = first; second <= bytes.Length; second++)
            {
                Assert.Equal(packets, ReadAll(out var framer, bytes[..first], bytes[first..second], bytes[second..]));
                Assert.Equal(error, framer.Error);
                Assert.Equal(rejected, framer.Rejected);
            }
        }
    }

    [Theory]
    [InlineData("", FramingError.None)]
    [InlineData("41", FramingError.None)]
    [InlineData("C0", FramingError.None)]
    [InlineData("C0 01", FramingError.Truncated)]
    [InlineData("C0 DB", FramingError.Truncated)]
    [InlineData("C0 01 C0", FramingError.None)]
    [InlineData("C0 01 DB 41", FramingError.None)]
    public void Stream_that_ends_inside_a_packet_is_truncated(string stream, FramingError expected)
    {
        ReadAll(out var framer, OscVectors.Bytes(stream));
        Assert.Equal(expected, framer.End());
    }

    [Fact]
    public void Random_packets_in_random_chunks_come_out_whole()
    {
        var random = new Random(TestSeed.Value);
        for (var round = 0; round < 500; round++)
        {
            var stream = new List<byte>();
            var expected = new List<string>();
            for (var i = 0; i < 5; i++)
            {
                var packet = new byte[random.Next(1, 13)];
                for (var at = 0; at < packet.Length; at++)
                    packet[at] = (byte)(random.Next(3) == 0 ? random.Next(0xC0, 0xE0) : random.Next(256));
                expected.Add(Hex(packet));
                var framed = new byte[SlipFramer.MaximumEncodedLength(packet.Length)];
                SlipFramer.Encode(packet, framed, out var written);
                stream.AddRange(framed[..written]);
            }

            var chunks = new List<byte[]>();
            for (var at = 0; at < stream.Count;)
            {
                var size = Math.Min(random.Next(1, 9), stream.Count - at);
                chunks.Add([.. stream.GetRange(at, size)]);
                at += size;
            }

            Assert.Equal(expected, ReadAll(out _, [.. chunks]));
        }
    }

    private static List<string> ReadAll(out SlipFramer framer, params byte[][] chunks)
    {
        var packets = new List<string>();
        framer = new SlipFramer(new byte[12]);
        foreach (var bytes in chunks)
        {
            ReadOnlySpan<byte> chunk = bytes;
            while (framer.Read(ref chunk, out var packet))
                packets.Add(Hex(packet));
        }

        return packets;
    }

    private static string Hex(ReadOnlySpan<byte> bytes) =>
        string.Join(' ', Convert.ToHexString(bytes).Chunk(2).Select(pair => new string(pair)));
}
