using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;

namespace StateWatch.Protocol.Osc;

/// <content>One call for each type that has data (OSC 1.0, "OSC Arguments").</content>
[SuppressMessage("Naming", "CA1720", Justification = "These are the names the specification gives its types.")]
public ref partial struct OscWriter
{
    /// <summary>Writes the argument of an <c>i</c>.</summary>
    public void Int32(int value) => PutWord(OscType.Int32, value);

    /// <summary>Writes the argument of an <c>f</c>.</summary>
    public void Float32(float value) => PutWord(OscType.Float32, BitConverter.SingleToInt32Bits(value));

    /// <summary>Writes the argument of an <c>h</c>.</summary>
    public void Int64(long value) => PutLong(OscType.Int64, value);

    /// <summary>Writes the argument of a <c>d</c>.</summary>
    public void Float64(double value) => PutLong(OscType.Float64, BitConverter.DoubleToInt64Bits(value));

    /// <summary>Writes the argument of a <c>t</c>.</summary>
    public void TimeTag(OscTimeTag value) => PutLong(OscType.TimeTag, unchecked((long)value.Bits));

    /// <summary>Writes the argument of a <c>c</c>.</summary>
    /// <param name="code">The ASCII code, in the lowest byte of 32 bits; other bits go out as they are.</param>
    public void Char(int code) => PutWord(OscType.Char, code);

    /// <summary>Writes the argument of an <c>r</c>.</summary>
    /// <param name="rgba">Red in the highest byte, then green, blue, alpha.</param>
    public void Colour(uint rgba) => PutWord(OscType.Colour, unchecked((int)rgba));

    /// <summary>Writes the argument of an <c>m</c>.</summary>
    /// <param name="port">Port id.</param>
    /// <param name="status">Status byte.</param>
    /// <param name="data1">First data byte.</param>
    /// <param name="data2">Second data byte; 0 where the message has none.</param>
    public void Midi(byte port, byte status, byte data1, byte data2) =>
        PutWord(OscType.Midi, (port << 24) | (status << 16) | (data1 << 8) | data2);

    /// <summary>Writes the argument of an <c>s</c>.</summary>
    /// <param name="value">ASCII by the standard; other bytes go out as they are; no nulls.</param>
    public void String(scoped ReadOnlySpan<byte> value)
    {
        if (Expect(OscType.String))
            PutString(value);
    }

    /// <summary>Writes the argument of an <c>S</c>.</summary>
    /// <param name="value">ASCII by the standard; other bytes go out as they are; no nulls.</param>
    public void Symbol(ReadOnlySpan<byte> value)
    {
        if (Expect(OscType.Symbol))
            PutString(value);
    }

    /// <summary>Writes the argument of a <c>b</c>.</summary>
    public void Blob(ReadOnlySpan<byte> content)
    {
        if (!Expect(OscType.Blob))
            return;
        if (content.Length > _buffer.Length)
        {
            Fail(OscError.BufferTooSmall);
            return;
        }

        if (!Reserve(sizeof(int) + ((content.Length + 3) & ~3), out var place))
            return;
        BinaryPrimitives.WriteInt32BigEndian(place, content.Length);
        content.CopyTo(place[sizeof(int)..]);
        place[(sizeof(int) + content.Length)..].Clear();
    }

    private void PutWord(OscType type, int bits)
    {
        if (Expect(type) && Reserve(sizeof(int), out var place))
            BinaryPrimitives.WriteInt32BigEndian(place, bits);
    }

    private void PutLong(OscType type, long bits)
    {
        if (Expect(type) && Reserve(sizeof(long), out var place))
            BinaryPrimitives.WriteInt64BigEndian(place, bits);
    }

    private void PutString(scoped ReadOnlySpan<byte> value)
    {
        if (value.Contains((byte)0))
        {
            Fail(OscError.NullInString);
            return;
        }

        if (value.Length >= _buffer.Length)
        {
            Fail(OscError.BufferTooSmall);
            return;
        }

        if (!Reserve(OscPadding.End(value.Length), out var place))
            return;
        value.CopyTo(place);
        place[value.Length..].Clear();
    }

    private bool Expect(OscType type)
    {
        if (Error != OscError.None)
            return false;
        if (!_inMessage)
        {
            Fail(OscError.NoMessage);
            return false;
        }

        if (_tag == _tagsEnd)
        {
            Fail(OscError.TooManyArguments);
            return false;
        }

        if (_buffer[_tag] != (byte)type)
        {
            Fail(OscError.ArgumentNotAsTagged);
            return false;
        }

        _tag++;
        SkipTagsWithoutData();
        return true;
    }

    private void SkipTagsWithoutData()
    {
        while (_tag < _tagsEnd && !OscTags.HasData(_buffer[_tag]))
            _tag++;
    }
}
