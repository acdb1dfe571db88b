using System.Globalization;
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
            Bundle(packet, 1, new DateTime(1, DateTimeKind.Utc));
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

    private void Bundle(byte[] bytes, int depth, DateTime notBefore)
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

    /// <summary>"Immediately" as the beginning of time; otherwise seconds from 1900, or from 2036 when below 2^31, in 1/16 ticks order.</summary>
    private static DateTime Moment(byte[] tag)
    {
        if (Convert.ToHexString(tag) == "0000000000000001")
            return new DateTime(1, DateTimeKind.Utc);
        var seconds = Big(tag[..4]);
        var start = seconds >= 0x8000_0000 ? new DateTime(1900, 1, 1) : new DateTime(2036, 2, 7, 6, 28, 16);
        return start.AddSeconds(seconds).AddTicks((long)((decimal)Big(tag[4..]) * 10_000_000 / 4_294_967_296));
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
