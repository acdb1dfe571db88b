using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

/// <summary>Every published packet cut short and damaged: an error or a message, as a second decoder says, and never an exception.</summary>
public class OscTotalityTests
{
    public static readonly TheoryData<string> Packets = [.. OscVectors.Packets];

    [Theory]
    [MemberData(nameof(Packets))]
    public void Vector_is_read_as_the_reference_decoder_reads_it(string hex)
    {
        Agree(OscVectors.Bytes(hex));
        OscText.OfPacket(OscVectors.Bytes(hex), out var error, out var rejected);
        Assert.Equal(OscError.None, error);
        Assert.Equal(0, rejected);
    }

    [Theory]
    [MemberData(nameof(Packets))]
    public void Every_prefix_is_total(string hex)
    {
        var whole = OscVectors.Bytes(hex);
        for (var length = 0; length < whole.Length; length++)
            Agree(whole[..length]);
    }

    [Theory]
    [MemberData(nameof(Packets))]
    public void Every_byte_with_every_value_is_total(string hex)
    {
        var whole = OscVectors.Bytes(hex);
        for (var at = 0; at < whole.Length; at++)
        {
            for (var value = 0; value <= byte.MaxValue; value++)
            {
                var damaged = (byte[])whole.Clone();
                damaged[at] = (byte)value;
                Agree(damaged);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Packets))]
    public void Bytes_after_the_packet_do_not_matter(string hex)
    {
        var whole = OscVectors.Bytes(hex);
        byte[] surrounded = [0x2F, .. whole, 0x2C, 0x69, 0x00, 0x00];
        var reader = new OscPacketReader(surrounded.AsSpan(1, whole.Length));
        var lines = new List<string>();
        while (reader.Read(out var message))
            lines.Add($"{reader.TimeTag.Seconds} {reader.TimeTag.Fraction} {OscText.Of(message)}");
        Assert.Equal(OscText.OfPacket(whole, out _, out _), lines);
    }

    /// <summary>One number is read by a path of its own, which depends on the length.</summary>
    [Theory]
    [InlineData("f")]
    [InlineData("i")]
    [InlineData("c")]
    public void Message_of_every_length_with_a_null_or_a_slash_anywhere_is_total(string tag)
    {
        for (var letters = 0; letters < 80; letters++)
        {
            var whole = OneArgument(letters, tag);
            Assert.Equal(OscError.None, Agree(whole));
            for (var at = 0; at < whole.Length; at++)
            {
                foreach (var value in (byte[])[0, 1, (byte)'/', (byte)',', 0xFF])
                {
                    var damaged = (byte[])whole.Clone();
                    damaged[at] = value;
                    Agree(damaged);
                }
            }
        }
    }

    /// <summary>A message made by hand: address, padding, tag, and the bytes 3F 40 00 00.</summary>
    private static byte[] OneArgument(int letters, string tag)
    {
        var bytes = new List<byte> { (byte)'/' };
        bytes.AddRange(Enumerable.Repeat((byte)'x', letters));
        bytes.Add(0);
        while (bytes.Count % 4 != 0)
            bytes.Add(0);
        return [.. bytes, (byte)',', (byte)tag[0], 0, 0, 0x3F, 0x40, 0, 0];
    }

    internal static OscError Agree(byte[] packet)
    {
        var reference = new ReferenceDecoder();
        reference.Packet(packet);
        var lines = OscText.OfPacket(packet, out var error, out var rejected);
        Assert.Equal(reference.Messages, lines);
        Assert.Equal(reference.Rejected, rejected);
        Assert.Equal(rejected > 0, error != OscError.None);
        return error;
    }
}
