using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>The time zones a machine knows, by their names in the IANA time zone database (<c>Europe/Lisbon</c>).</summary>
/// <param name="find">The zone of a name, or null.</param>
/// <param name="names">All names there are; empty when the machine has no such data.</param>
public sealed class ZoneData(Func<string, TimeZoneInfo?> find, Func<IReadOnlyList<string>> names)
{
    /// <summary>What this machine knows.</summary>
    public static ZoneData Machine { get; } = new(
        name => TimeZoneInfo.TryFindSystemTimeZoneById(name, out var zone) ? zone : null,
        () => [.. TimeZoneInfo.GetSystemTimeZones().Select(zone => zone.Id)]);

    /// <summary>A machine without such data.</summary>
    public static ZoneData None { get; } = new(_ => null, () => []);

    /// <summary>Reads a plan's <c>zone:</c>.</summary>
    /// <returns>The zone, or null when the plan names none, nobody knows it, or the machine knows no zones at all; the last two are told.</returns>
    public TimeZoneInfo? Read(ScalarNode? scalar, DiagnosticBag diagnostics)
    {
        if (scalar is null)
            return null;
        // A name is looked up as a file: nothing else than a name may get there.
        if (IsName(scalar.Text) && find(scalar.Text) is { } zone)
            return zone;
        var known = names().Where(name => name.Contains('/', StringComparison.Ordinal)).ToList();
        if (known.Count == 0)
            diagnostics.Add(PlanCodes.NoZoneData, scalar.At, $"this machine has no time zone data, so '{scalar.Text}' could not be looked up", "days are those of this machine's local time; install its time zone data (often a package called tzdata)");
        else
            diagnostics.Add(PlanCodes.UnknownZone, scalar.At, $"'{scalar.Text}' is not a time zone of the IANA database", "write it like Europe/Lisbon", NearestWord.Among(scalar.Text, known));
        return null;
    }

    private static bool IsName(string text)
    {
        foreach (var character in text)
        {
            if (!char.IsAsciiLetterOrDigit(character) && character is not ('/' or '_' or '+' or '-'))
                return false;
        }

        return text.Length is > 0 and <= 64 && char.IsAsciiLetter(text[0]);
    }
}
