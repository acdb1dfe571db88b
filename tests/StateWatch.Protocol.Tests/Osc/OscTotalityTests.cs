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
