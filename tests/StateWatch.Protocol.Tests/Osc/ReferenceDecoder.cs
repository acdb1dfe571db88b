using System.Globalization;
using System.Numerics;
using System.Text;

namespace StateWatch.Protocol.Tests.Osc;

/// <summary>
/// A second decoder, written from OSC 1.0 alone and unlike ours: it allocates, copies, recurses and throws. It gives every message as a
/// line of text; <see cref="OscText"/> gives the same line from our reader.
/// </summary>
internal sealed class ReferenceDecoder
{
    private const int DeepestBundle = 32;

    public List<string> Messages { get; } = [];

    public int Rejected { get; private set; }

    public void Packet(byte[] packet) => Try(() =>
    {
        Demand(packet.Length > 0 && packet.Length % 4 == 0);
        if (packet[0] == '#')
            Bundle(packet, 1, BigInteger.MinusOne);
        else
            Messages.Add("0 1 " + Message(packet));
    });

    /// <summary>One message as text, or null.</summary>
    public static string? MessageOrNull(byte[] bytes)
    {
        try
        {
            Demand(bytes.Length > 0 && bytes.Length % 4 == 0);
            return Message(bytes);
        }
        catch (InvalidDataException)
        {
            return null;
        }
    }

    private void Try(Action action)
    {
        try
        {
            action();
        }
        catch (InvalidDataException)
        {
            Rejected++;
        }
    }

    private void Bundle(byte[] bytes, int depth, BigInteger notBefore)
    {
        var rest = new Queue<byte>(bytes);
        Demand(Encoding.Latin1.GetString(Take(rest, 8)) == "#bundle\0");
        var tag = Take(rest, 8);
        var time = Moment(tag);
        Demand(depth <= DeepestBundle && time >= notBefore);
        while (rest.Count > 0)
        {
            var size = (int)Big(Take(rest, 4));
            if (size < 4 || size % 4 != 0 || size > rest.Count)
            {
                Rejected++;
                return;
            }

            var element = Take(rest, size);
            Try(() =>
            {
                if (element[0] == '#')
                    Bundle(element, depth + 1, time);
                else
                    Messages.Add($"{Big(tag[..4])} {Big(tag[4..])} {Message(element)}");
            });
        }
    }

    /// <summary>2^-32 seconds since 1900, those that start below 2^31 seconds being in the era from 2036; "immediately" before all.</summary>
    private static BigInteger Moment(byte[] tag)
    {
        var value = new BigInteger(tag, isUnsigned: true, isBigEndian: true);
        if (value.IsOne)
            return BigInteger.MinusOne;
        return value < BigInteger.Pow(2, 63) ? value + BigInteger.Pow(2, 64) : value;
    }

    private static string Message(byte[] bytes)
    {
        var rest = new Queue<byte>(bytes);
        Demand(bytes[0] == '/');
        var address = Text(rest);
        if (rest.Count == 0 || rest.Peek() != ',')
            return $"{address} untyped {Convert.ToHexString(rest.ToArray())}";
        var line = new StringBuilder(address);
        var open = 0;
        foreach (var tag in Text(rest)[1..])
        {
            line.Append(' ').Append(tag).Append(tag switch
            {
                'i' or 'f' or 'c' or 'r' or 'm' => Convert.ToHexString(Take(rest, 4)),
                'h' or 'd' or 't' => Convert.ToHexString(Take(rest, 8)),
                's' or 'S' => $"\"{Text(rest)}\"",
                'b' => Blob(rest),
                'T' or 'F' or 'N' or 'I' or '[' or ']' => "",
                _ => throw new InvalidDataException(),
            });
            open += tag == '[' ? 1 : tag == ']' ? -1 : 0;
            Demand(open >= 0);
        }

        Demand(open == 0 && rest.Count == 0);
        return line.ToString();
    }

    private static string Text(Queue<byte> rest)
    {
        var text = new StringBuilder();
        while (true)
        {
            var four = Encoding.Latin1.GetString(Take(rest, 4));
            var letters = four.TrimEnd('\0');
            Demand(!letters.Contains('\0', StringComparison.Ordinal));
            text.Append(letters);
            if (letters.Length < 4)
                return text.ToString();
        }
    }

    private static string Blob(Queue<byte> rest)
    {
        var count = (int)Big(Take(rest, 4));
        Demand(count >= 0);
        var content = Take(rest, count);
        while (count++ % 4 != 0)
            Demand(Take(rest, 1)[0] == 0);
        return Convert.ToHexString(content);
    }

    private static uint Big(byte[] four) => uint.Parse(Convert.ToHexString(four), NumberStyles.HexNumber, CultureInfo.InvariantCulture);

    private static byte[] Take(Queue<byte> rest, int count)
    {
        Demand(count <= rest.Count);
        var taken = new byte[count];
        for (var i = 0; i < count; i++)
            taken[i] = rest.Dequeue();
        return taken;
    }

    private static void Demand(bool condition)
    {
        if (!condition)
            throw new InvalidDataException();
    }
}
