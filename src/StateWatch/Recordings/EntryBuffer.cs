using System.Buffers;
using System.Text;

namespace StateWatch.Recordings;

/// <summary>Entries of a recording, one behind the other, until somebody takes them.</summary>
internal sealed class EntryBuffer
{
    private const int LongestVarint = 10;

    private readonly ArrayBufferWriter<byte> _bytes = new(65_536);
    private readonly ArrayBufferWriter<byte> _payload = new(1024);

    private int _zeros;

    /// <summary>What was written.</summary>
    public ReadOnlySpan<byte> Written => _bytes.WrittenSpan;

    /// <summary>Forgets what was written.</summary>
    public void Clear() => _bytes.ResetWrittenCount();

    /// <summary>A number within the entry that is being written; at its end zeros are left out.</summary>
    public EntryBuffer Add(long value)
    {
        if (value == 0)
        {
            _zeros++;
            return this;
        }

        WriteZeros();
        // Small numbers are short, whatever their sign.
        Varint(_payload, (ulong)((value << 1) ^ (value >> 63)));
        return this;
    }

    /// <summary>Bytes within the entry that is being written.</summary>
    public EntryBuffer Add(ReadOnlySpan<byte> bytes)
    {
        WriteZeros();
        _payload.Write(bytes);
        return this;
    }

    /// <summary>A text, to the end of the entry that is being written.</summary>
    public EntryBuffer Add(string text)
    {
        WriteZeros();
        _ = Encoding.UTF8.GetBytes(text, _payload);
        return this;
    }

    /// <summary>Ends the entry.</summary>
    public void End(EntryKind kind)
    {
        _bytes.Write([(byte)kind]);
        Varint(_bytes, (ulong)_payload.WrittenCount);
        _bytes.Write(_payload.WrittenSpan);
        _payload.ResetWrittenCount();
        _zeros = 0;
    }

    private void WriteZeros()
    {
        for (; _zeros > 0; _zeros--)
            _payload.Write<byte>([0]);
    }

    private static void Varint(ArrayBufferWriter<byte> to, ulong value)
    {
        var span = to.GetSpan(LongestVarint);
        var length = 0;
        for (; value >= 0x80; value >>= 7)
            span[length++] = (byte)(value | 0x80);
        span[length++] = (byte)value;
        to.Advance(length);
    }
}
