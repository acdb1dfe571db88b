using System.Globalization;
using System.Text;
using StateWatch.Core.Profiles;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Desks;

/// <summary>Compares what a desk says of itself with what the profile expects.</summary>
public static class IdentityCheck
{
    private const int MostArguments = 16;

    /// <summary>The arguments as text, for messages.</summary>
    public static IReadOnlyList<string> Read(in OscMessage message)
    {
        var texts = new List<string>();
        var arguments = message.Arguments;
        while (texts.Count < MostArguments && arguments.Read(out var argument))
        {
            if (argument.Type is OscType.String or OscType.Symbol)
                texts.Add(Encoding.UTF8.GetString(argument.Bytes[..Math.Min(argument.Bytes.Length, 64)]));
            else if (argument.TryGetNumber(out var number))
                texts.Add(number.ToString(CultureInfo.InvariantCulture));
            else
                texts.Add("");
        }

        return texts;
    }

    /// <summary>Whether the answer is the expected desk's.</summary>
    public static bool Matches(Identity identity, IReadOnlyList<string> answer)
    {
        for (var i = 0; i < identity.Expected.Count; i++)
        {
            if (i >= answer.Count || !Wildcard(identity.Expected[i], answer[i]))
                return false;
        }

        return true;
    }

    // '*' stands for any run of characters; linear in practice, as each star only ever moves forward.
    private static bool Wildcard(string pattern, string text)
    {
        int p = 0, t = 0, star = -1, mark = 0;
        while (t < text.Length)
        {
            if (p < pattern.Length && pattern[p] == '*')
            {
                star = p++;
                mark = t;
            }
            else if (p < pattern.Length && char.ToLowerInvariant(pattern[p]) == char.ToLowerInvariant(text[t]))
            {
                p++;
                t++;
            }
            else if (star >= 0)
            {
                p = star + 1;
                t = ++mark;
            }
            else
            {
                return false;
            }
        }

        while (p < pattern.Length && pattern[p] == '*')
            p++;
        return p == pattern.Length;
    }
}
