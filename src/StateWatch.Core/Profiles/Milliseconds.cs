using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Profiles;

/// <summary>Reads a time under a key, such as <c>150 ms</c> or <c>3 s</c>, within its row's range.</summary>
internal static class Milliseconds
{
    /// <summary>The time, or the row's default when it is not there or faulty; zero without a default.</summary>
    public static TimeSpan Read(MapReader reader, string key) =>
        TryRead(reader, key) ?? (ValueText.TryParseNumber(reader.Table[key].Default, Unit.Millisecond, out var fallback) ? TimeSpan.FromMilliseconds(fallback) : TimeSpan.Zero);

    /// <summary>The time, or null when it is not there or faulty.</summary>
    public static TimeSpan? TryRead(MapReader reader, string key, bool required = false)
    {
        var range = (QuantityShape)reader.Table[key].Shape;
        if ((required ? reader.RequireScalar(key) : reader.Scalar(key)) is not { } scalar)
            return null;
        if (!ValueText.TryParseNumber(scalar.Text, Unit.Millisecond, out var value))
            reader.Diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a time", $"write it like {reader.Table[key].Example}");
        else if (value < range.Least || value > range.Most)
            reader.Diagnostics.Add(DocumentCodes.OutOfRange, scalar.At, $"{scalar.Text} is outside {range.Least} ms to {range.Most} ms", null);
        else
            return TimeSpan.FromMilliseconds(value);
        return null;
    }
}
