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
        while (least <= most)
        {
            // Blocks of ten, a hundred … that begin here, end within the range and have no shorter numbers in them.
            var size = 1;
            var places = 0;
            while (least % (size * 10) == 0 && least >= size * 10 && (long)least + size * 10 - 1 <= most)
            {
                size *= 10;
                places++;
            }

            var first = least / size % 10;
            var last = Math.Min(9, first + (most - least + 1) / size - 1);
            text.Append(text.Length > 1 ? "|" : "");
            if (least / size >= 10)
                text.Append(CultureInfo.InvariantCulture, $"{least / size / 10}");
            text.Append(first == last ? $"{first}" : $"[{first}-{last}]");
            if (places > 0)
                text.Append(CultureInfo.InvariantCulture, $"[0-9]{{{places}}}");
            least += (last - first + 1) * size;
        }

        return text.Append(')').ToString();
    }
}
