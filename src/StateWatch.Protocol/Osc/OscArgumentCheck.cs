using System.Buffers.Binary;

namespace StateWatch.Protocol.Osc;

/// <summary>Checks that tags and argument bytes agree, so that <see cref="OscArgumentReader"/> need not.</summary>
internal static class OscArgumentCheck
{
    /// <summary>Walks all tags over <paramref name="data"/>, whose length is a multiple of four.</summary>
    public static OscError Check(ReadOnlySpan<byte> tags, ReadOnlySpan<byte> data)
    {
        var depth = 0;
        foreach (var tag in tags)
        {
            int size;
            switch ((OscType)tag)
            {
                case OscType.Int32:
                case OscType.Float32:
                case OscType.Char:
                case OscType.Colour:
                case OscType.Midi:
                    size = sizeof(int);
                    break;
                case OscType.Int64:
                case OscType.Float64:
                case OscType.TimeTag:
                    size = sizeof(long);
                    break;
                case OscType.True:
                case OscType.False:
                case OscType.Nil:
                case OscType.Impulse:
                    continue;
                case OscType.ArrayBegin:
                    depth++;
                    continue;
                case OscType.ArrayEnd:
                    if (--depth < 0)
                        return OscError.UnbalancedArray;
                    continue;
                case OscType.String:
                case OscType.Symbol:
                    if (StringSize(data, out size) is var badString and not OscError.None)
                        return badString;
                    break;
                case OscType.Blob:
                    if (BlobSize(data, out size) is var badBlob and not OscError.None)
                        return badBlob;
                    break;
                default:
                    return OscError.UnknownTag;
            }

            if (size > data.Length)
                return OscError.ArgumentPastEnd;
            data = data[size..];
        }

        if (depth != 0)
            return OscError.UnbalancedArray;
        return data.IsEmpty ? OscError.None : OscError.TrailingBytes;
    }

    private static OscError StringSize(ReadOnlySpan<byte> data, out int size)
    {
        size = 0;
        if (data.IsEmpty)
            return OscError.ArgumentPastEnd;
        var length = data.IndexOf((byte)0);
        if (length < 0)
            return OscError.UnterminatedString;
        size = OscPadding.End(length);
        return OscPadding.IsNull(data, length) ? OscError.None : OscError.BadPadding;
    }

    private static OscError BlobSize(ReadOnlySpan<byte> data, out int size)
    {
        size = 0;
        if (data.IsEmpty)
            return OscError.ArgumentPastEnd;
        var count = BinaryPrimitives.ReadInt32BigEndian(data);
        if (count < 0 || count > data.Length - sizeof(int))
            return OscError.BlobSize;
        size = sizeof(int) + ((count + 3) & ~3);
        return (count & 3) == 0 || OscPadding.IsNull(data, sizeof(int) + count) ? OscError.None : OscError.BadPadding;
    }
}
