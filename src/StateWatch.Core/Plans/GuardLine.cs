using System.Globalization;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>How far the level of sources at a feed may move.</summary>
/// <param name="LevelAt">The feed, or some of its buses.</param>
/// <param name="Of">A role, or the name of an input.</param>
/// <param name="Up">How far up, in dB, 0 or more; null when it is free.</param>
/// <param name="Down">How far down, in dB, 0 or more; null when it is free.</param>
/// <param name="For">How long it must last before a watch tells it; a sweep judges the moment.</param>
public sealed record GuardLine(ScalarNode LevelAt, ScalarNode Of, double? Up, double? Down, TimeSpan For)
{
    /// <summary>Reads <c>guard: [{ level-at: room, of: talker, up: 4 dB, for: 15 s }]</c>.</summary>
    internal static List<GuardLine> Read(IReadOnlyList<Node>? items, DiagnosticBag diagnostics)
    {
        var lines = new List<GuardLine>();
        foreach (var item in items ?? [])
        {
            if (item is not MapNode map)
            {
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"a guard is {item.Shape}", "write { level-at: room, of: talker, up: 4 dB }");
                continue;
            }

            var reader = new MapReader(map, PlanKeys.Guard, diagnostics);
            var (feed, of) = (reader.RequireScalar("level-at"), reader.RequireScalar("of"));
            var (up, down) = (ReadLimit(reader.Scalar("up"), diagnostics), ReadLimit(reader.Scalar("down"), diagnostics));
            var time = ReadTime(reader.Scalar("for"), diagnostics);
            reader.Finish();
            if (feed is null || of is null)
                continue;
            if (up is null && down is null)
                diagnostics.Add(PlanCodes.Redundant, map.At, "this guard says neither how far up nor how far down, so it guards nothing", "add up: 4 dB, or down: 6 dB, or both");
            lines.Add(new GuardLine(feed, of, up, down, time));
        }

        return lines;
    }

    // A limit that cannot be read is told; it then counts as one, so that nothing follows from it.
    private static double? ReadLimit(ScalarNode? scalar, DiagnosticBag diagnostics)
    {
        if (scalar is null or { Text: "free" })
            return null;
        if (ValueText.TryParseNumber(scalar.Text, Unit.Decibel, out var limit) && limit >= 0 && double.IsFinite(limit))
            return limit;
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not how far a level may move", "write it like 4 dB, or free", NearestWord.Among(scalar.Text, ["free"]));
        return 0;
    }

    private static TimeSpan ReadTime(ScalarNode? scalar, DiagnosticBag diagnostics)
    {
        if (scalar is null)
            return TimeSpan.Zero;
        var digits = scalar.Text.AsSpan().TrimEnd("smin");
        var second = scalar.Text.AsSpan(digits.Length) switch { "ms" => 0.001, "s" => 1d, "min" => 60d, _ => 0d };
        if (second > 0 && double.TryParse(digits.TrimEnd(' '), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) && number * second <= 3600)
            return TimeSpan.FromSeconds(number * second);
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a time", "write it like 15 s, 500 ms or 2 min; at most an hour");
        return TimeSpan.Zero;
    }
}

/// <summary>A guard with what its names stand for.</summary>
/// <param name="Line">The line.</param>
/// <param name="Feed">The feed.</param>
/// <param name="Buses">Those of its buses that are meant, as paths such as <c>mix/3</c>.</param>
/// <param name="Strips">The inputs it is about.</param>
public sealed record PlannedGuard(GuardLine Line, Feed Feed, IReadOnlyList<string> Buses, IReadOnlyList<PlannedStrip> Strips)
{
    /// <summary>Finds what the guards of a plan stand for; unknown names are told.</summary>
    internal static List<PlannedGuard> Resolve(PlanDocument document, IReadOnlyList<PlannedStrip> strips, PlanNames names)
    {
        var guards = new List<PlannedGuard>();
        foreach (var line in document.Guards)
        {
            var buses = names.Buses(line.LevelAt, out var feed, out _);
            var isRole = document.Roles.Any(role => role.Key.Text == line.Of.Text);
            var of = strips.Where(strip => strip.Strip.Kind == "input" && (isRole ? strip.Role : strip.Name) == line.Of.Text).ToList();
            if (!isRole && of.Count == 0)
                names.Unknown(line.Of, "role or input", document.Roles.Select(role => role.Key.Text).Concat(strips.Select(strip => strip.Name)), "write a role, or the name of an input");
            else if (feed is not null)
                guards.Add(new PlannedGuard(line, feed, buses, of));
        }

        return guards;
    }
}
