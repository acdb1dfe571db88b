using System.Buffers.Binary;
using System.Text;

namespace StateWatch.Protocol.Tests.Osc;

/// <summary>Valid packets made at random from OSC 1.0 without our writer, damaged packets, and bytes that were never a packet.</summary>
internal sealed class RandomPackets(int seed)
{
    private static readonly uint[] Words = [0, 1, 3, 4, 8, 0x10, 0x7FFFFFFC, 0x80000000, 0xFFFFFFFC, 0xFFFFFFFF, 0x23627564, 0x2C696600, 0x2F610000];
    private readonly Random _random = new(seed);

    /// <summary>Half are valid packets with one to four mutations, three eighths valid packets, one eighth noise.</summary>
    public byte[] Next() => _random.Next(8) switch
    {
        < 4 => Mutated(),
        < 7 => Valid(),
        _ => Noise(),
    };

    private byte[] Mutated()
    {
        var bytes = Valid().ToList();
        for (var left = _random.Next(1, 5); left > 0 && bytes.Count > 0; left--)
            Mutate(bytes);
        return [.. bytes];
    }

    private void Mutate(List<byte> bytes)
    {
        var at = _random.Next(bytes.Count);
        var word = at & ~3;
        switch (_random.Next(9))
        {
            case 0:
                bytes[at] ^= (byte)(1 << _random.Next(8));
                break;
            case 1:
                bytes[at] = (byte)_random.Next(256);
                break;
            case 2:
                bytes[at] = (byte)"/,#\0ifsbhtdScrmTFNI[]q"[_random.Next(22)];
                break;
            case 3:
                bytes.RemoveAt(at);
                break;
            case 4:
                bytes.Insert(at, (byte)_random.Next(256));
                break;
            case 5 when word + 4 <= bytes.Count:
                bytes.RemoveRange(word, 4);
                break;
            case 6:
                bytes.InsertRange(word, Word());
                break;
            case 7 when word + 4 <= bytes.Count:
                bytes.RemoveRange(word, 4);
                bytes.InsertRange(word, Word());
                break;
            default:
                bytes.RemoveRange(word, bytes.Count - word);
                break;
        }
    }

    private byte[] Word()
    {
        var word = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(word, Words[_random.Next(Words.Length)]);
        return word;
    }

    private byte[] Noise()
    {
        var bytes = new byte[_random.Next(0, 40)];
        _random.NextBytes(bytes);
        if (bytes.Length > 0 && _random.Next(2) == 0)
            bytes[0] = (byte)"/#"[_random.Next(2)];
        return bytes;
    }

    private byte[] Valid() => _random.Next(16) switch
    {
        < 10 => Message(),
        < 15 => Bundle(3, 0),
        _ => Deep(_random.Next(30, 36)),
    };

    private byte[] Bundle(int levels, uint notBefore)
    {
        var seconds = notBefore + (uint)_random.Next(3);
        List<byte> bytes = [.. "#bundle\0"u8, 0, 0, 0, (byte)seconds, 0, 0, 0, 2];
        for (var left = _random.Next(4); left > 0; left--)
            Element(bytes, levels > 0 && _random.Next(4) == 0 ? Bundle(levels - 1, seconds) : Message());
        return [.. bytes];
    }

    private byte[] Deep(int levels)
    {
        var bytes = Message();
        for (; levels > 0; levels--)
        {
            List<byte> outer = [.. "#bundle\0"u8, 0, 0, 0, 0, 0, 0, 0, 1];
            Element(outer, bytes);
            bytes = [.. outer];
        }

        return bytes;
    }

    private static void Element(List<byte> bundle, byte[] element)
    {
        bundle.AddRange([0, 0, (byte)(element.Length >> 8), (byte)element.Length]);
        bundle.AddRange(element);
    }

    private byte[] Message()
    {
        var bytes = new List<byte>();
        Text(bytes, "/" + Letters(_random.Next(1, 12)));
        if (_random.Next(20) == 0)
            return [.. bytes];
        var tags = new StringBuilder(",");
        var data = new List<byte>();
        var open = 0;
        for (var left = _random.Next(5); left > 0; left--)
        {
            var tag = "ifsbhtdScrmTFNI[]"[_random.Next(17)];
            if (tag == ']' && open == 0)
                tag = 'i';
            open += tag == '[' ? 1 : tag == ']' ? -1 : 0;
            tags.Append(tag);
            Argument(data, tag);
        }

        Text(bytes, tags.Append(']', open).ToString());
        return [.. bytes, .. data];
    }

    private void Argument(List<byte> data, char tag)
    {
        switch (tag)
        {
            case 's' or 'S':
                Text(data, Letters(_random.Next(9)));
                break;
            case 'b':
                var count = _random.Next(10);
                data.AddRange([0, 0, 0, (byte)count]);
                data.AddRange(Random(count));
                data.AddRange(new byte[(4 - (count % 4)) % 4]);
                break;
            case 'h' or 't' or 'd':
                data.AddRange(Random(8));
                break;
            case 'i' or 'f' or 'c' or 'r' or 'm':
                data.AddRange(Random(4));
                break;
            default:
                break;
        }
    }

    private static void Text(List<byte> bytes, string text)
    {
        bytes.AddRange(Encoding.ASCII.GetBytes(text));
        bytes.AddRange(new byte[4 - (text.Length % 4)]);
    }

    private string Letters(int count) => string.Concat(Enumerable.Range(0, count).Select(_ => "abcdefgh/*"[_random.Next(10)]));

    private byte[] Random(int count)
    {
        var bytes = new byte[count];
        _random.NextBytes(bytes);
        return bytes;
    }
}
