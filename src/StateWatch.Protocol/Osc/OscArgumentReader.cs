using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace StateWatch.Protocol.Osc;

/// <summary>Walks the arguments of a checked message in order; array marks come as arguments of their own.</summary>
public ref struct OscArgumentReader
{
    private readonly ReadOnlySpan<byte> _bytes;
    private readonly int _tagsEnd;
    private int _tag;
    private int _data;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal OscArgumentReader(ReadOnlySpan<byte> bytes, int tagsStart, int tagsEnd, int dataStart)
    {
        _bytes = bytes;
        _tag = tagsStart;
        _tagsEnd = tagsEnd;
        _data = dataStart;
    }

    /// <summary>The next argument; false after the last.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Read(out OscArgument argument)
    {
        if (_tag >= _tagsEnd)
        {
            argument = default;
            return false;
        }

        var type = (OscType)_bytes[_tag];
        if (type == OscType.Float32)
        {
            argument = new OscArgument(OscType.Float32, _bytes.Slice(_data, sizeof(float)));
            _tag = unchecked(_tag + 1);
            _data = unchecked(_data + sizeof(float));
            return true;
        }

        var place = Find(_bytes, type, _data);
        argument = new OscArgument(type, _bytes.Slice(place.Start, place.Length));
        _tag = unchecked(_tag + 1);
        _data = unchecked(_data + place.Size);
        return true;
    }

    private static Place Find(ReadOnlySpan<byte> bytes, OscType type, int data)
    {
        switch (type)
        {
            case OscType.Int32:
            case OscType.Float32:
            case OscType.Char:
            case OscType.Colour:
            case OscType.Midi:
                return new Place(data, sizeof(int), sizeof(int));
            case OscType.Int64:
            case OscType.Float64:
            case OscType.TimeTag:
                return new Place(data, sizeof(long), sizeof(long));
            case OscType.String:
            case OscType.Symbol:
                var length = bytes[data..].IndexOf((byte)0);
                return new Place(data, length, OscPadding.End(length));
            case OscType.Blob:
                var count = BinaryPrimitives.ReadInt32BigEndian(bytes[data..]);
                return new Place(data + sizeof(int), count, sizeof(int) + ((count + 3) & ~3));
            default:
                return new Place(data, 0, 0);
        }
    }

    /// <summary>Where an argument's content is, and how many bytes it takes with count and padding; returned in registers.</summary>
    [StructLayout(LayoutKind.Sequential)]
    private readonly record struct Place(int Start, int Length, int Size);
}
