using System.Buffers.Binary;

namespace StateWatch.Protocol.Osc;

/// <summary>Walks the arguments of a checked message in order; array marks come as arguments of their own.</summary>
public ref struct OscArgumentReader
{
    private readonly ReadOnlySpan<byte> _bytes;
    private readonly int _tagsEnd;
    private int _tag;
    private int _data;

    internal OscArgumentReader(ReadOnlySpan<byte> bytes, int tagsStart, int tagsLength, int dataStart)
    {
        _bytes = bytes;
        _tag = tagsStart;
        _tagsEnd = tagsStart + tagsLength;
        _data = dataStart;
    }

    /// <summary>The next argument; false after the last.</summary>
    public bool Read(out OscArgument argument)
    {
        if (_tag >= _tagsEnd)
        {
            argument = default;
            return false;
        }

        var type = (OscType)_bytes[_tag++];
        switch (type)
        {
            case OscType.Float32:
            case OscType.Int32:
            case OscType.Char:
                argument = new OscArgument(type, BinaryPrimitives.ReadInt32BigEndian(_bytes[_data..]));
                _data += sizeof(int);
                break;
            case OscType.Int64:
            case OscType.Float64:
            case OscType.TimeTag:
                argument = new OscArgument(type, BinaryPrimitives.ReadInt64BigEndian(_bytes[_data..]));
                _data += sizeof(long);
                break;
            case OscType.Colour:
            case OscType.Midi:
                var four = _bytes.Slice(_data, sizeof(int));
                argument = new OscArgument(type, BinaryPrimitives.ReadInt32BigEndian(four), four);
                _data += sizeof(int);
                break;
            case OscType.String:
            case OscType.Symbol:
                var length = _bytes[_data..].IndexOf((byte)0);
                argument = new OscArgument(type, _bytes.Slice(_data, length));
                _data += (length + 4) & ~3;
                break;
            case OscType.Blob:
                var count = BinaryPrimitives.ReadInt32BigEndian(_bytes[_data..]);
                argument = new OscArgument(type, _bytes.Slice(_data + sizeof(int), count));
                _data += sizeof(int) + ((count + 3) & ~3);
                break;
            default:
                argument = new OscArgument(type, 0L);
                break;
        }

        return true;
    }
}
