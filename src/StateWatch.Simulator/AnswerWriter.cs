using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Simulator;

/// <summary>Writes what a desk says: one message with all arguments of an address. The buffer is reused, so nothing is allocated.</summary>
internal sealed class AnswerWriter(DeskProfile profile)
{
    // The most bytes a UDP datagram carries over IPv4: 65535 less the IP header (20) and the UDP header (8).
    private const int LongestDatagram = 65_507;
    // A profile's arguments run from 0 to 63.
    private const int MostArguments = 64;
    private const byte IntTag = (byte)'i';

    private readonly byte[] _buffer = new byte[LongestDatagram];
    private readonly byte[] _tags = new byte[MostArguments];

    /// <summary>The message of an address; valid until the next call. Empty when it would be no OSC or longer than a datagram.</summary>
    public ReadOnlySpan<byte> Write(Endpoint endpoint, SettingValue[] values)
    {
        var slots = endpoint.Slots;
        var tags = _tags.AsSpan(0, slots[^1].Argument + 1);
        tags.Fill(IntTag);
        foreach (var slot in slots)
        {
            if (slot.Bit < 0)
                tags[slot.Argument] = profile.Settings[slot.Setting].Codec.Tag(values[slot.Setting]);
        }

        var writer = new OscWriter(_buffer);
        writer.StartMessage(endpoint.Address, tags);
        var next = 0;
        for (var argument = 0; argument < tags.Length; argument++)
        {
            var first = next;
            while (next < slots.Length && slots[next].Argument == argument)
                next++;
            WriteArgument(slots.AsSpan(first..next), values, ref writer);
        }

        return writer.Finish(out var length) == OscError.None ? _buffer.AsSpan(0, length) : [];
    }

    /// <summary>A message of strings.</summary>
    /// <inheritdoc cref="Write(Endpoint, SettingValue[])"/>
    public ReadOnlySpan<byte> Write(byte[] address, byte[][] texts)
    {
        if (texts.Length > _tags.Length)
            return [];
        var tags = _tags.AsSpan(0, texts.Length);
        tags.Fill((byte)'s');
        var writer = new OscWriter(_buffer);
        writer.StartMessage(address, tags);
        foreach (var text in texts)
            writer.String(text);
        return writer.Finish(out var length) == OscError.None ? _buffer.AsSpan(0, length) : [];
    }

    private void WriteArgument(ReadOnlySpan<Slot> slots, SettingValue[] values, ref OscWriter writer)
    {
        // The slots of one argument come in order of their bit, so a whole value (-1) is the first.
        if (slots.Length > 0 && slots[0].Bit < 0)
        {
            profile.Settings[slots[0].Setting].Codec.Encode(values[slots[0].Setting], ref writer);
            return;
        }

        // An argument nobody mapped is sent as 0.
        var bits = 0u;
        foreach (var slot in slots)
        {
            if (values[slot.Setting].IsOn)
                bits |= 1u << slot.Bit;
        }

        writer.Int32(unchecked((int)bits));
    }
}
