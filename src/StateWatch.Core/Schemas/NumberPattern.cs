using System.Globalization;
using System.Text;

namespace StateWatch.Core.Schemas;

/// <summary>Regular expressions (ECMA-262) for whole numbers of a range, since a schema's minimum does not count for texts.</summary>
public static class NumberPattern
{
    /// <summary>An expression that matches the range's numbers without sign and leading zeros, and nothing else; it needs anchors around it.</summary>
    /// <param name="least">The smallest, not negative.</param>
    /// <param name="most">The largest.</param>
    public static string Of(int least, int most)
    {
        var text = new StringBuilder("(");
        // The number behind the largest one of 32 bits needs more bits.
        long at = least;
        while (at <= most)
        {
            // Blocks of ten, a hundred … that begin here, end within the range and have no shorter numbers in them.
            var size = 1L;
            var places = 0;
            while (at % (size * 10) == 0 && at >= size * 10 && at + size * 10 - 1 <= most)
            {
                size *= 10;
                places++;
            }

            var first = at / size % 10;
            var last = Math.Min(9, first + (most - at + 1) / size - 1);
            text.Append(text.Length > 1 ? "|" : "");
            if (at / size >= 10)
                text.Append(CultureInfo.InvariantCulture, $"{at / size / 10}");
            text.Append(first == last ? $"{first}" : $"[{first}-{last}]");
            if (places > 0)
                text.Append(CultureInfo.InvariantCulture, $"[0-9]{{{places}}}");
            at += (last - first + 1) * size;
        }

        return text.Append(')').ToString();
    }
}
