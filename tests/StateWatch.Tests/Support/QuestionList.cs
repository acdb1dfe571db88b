using System.Text;
using System.Text.RegularExpressions;

namespace StateWatch.Tests.Support;

/// <summary>The list, written by hand, of every question that may be sent to a shipped desk.</summary>
internal sealed class QuestionList(string desk)
{
    private readonly Regex[] _patterns = [.. File.ReadLines(ShippedFiles.QuestionsOf(desk)).Where(static line => line.Length > 0 && line[0] != '#')
        .Select(static line => new Regex(line, RegexOptions.CultureInvariant, TimeSpan.FromSeconds(10)))];

    private readonly Dictionary<string, bool> _known = new(StringComparer.Ordinal);

    /// <summary>
    /// Whether a datagram is a bare question of the list. OSC 1.0: the address, one to four nulls up to a multiple of four, a comma, three nulls, the end. Read
    /// without our decoder.
    /// </summary>
    public bool Allows(ReadOnlySpan<byte> datagram)
    {
        var end = datagram.IndexOf((byte)0);
        if (end < 1)
            return false;
        var padded = (end / 4 * 4) + 4;
        if (datagram.Length != padded + 4 || datagram[end..padded].IndexOfAnyExcept((byte)0) >= 0 || !datagram[padded..].SequenceEqual(",\0\0\0"u8))
            return false;
        var address = Encoding.ASCII.GetString(datagram[..end]);
        if (!_known.TryGetValue(address, out var isAllowed))
            _known[address] = isAllowed = Array.Exists(_patterns, pattern => pattern.IsMatch(address));
        return isAllowed;
    }
}
