using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>How much louder some sources are at a feed than others, beyond what they are at another one.</summary>
/// <param name="Place">Where the line stands.</param>
/// <param name="At">The feed, or some of its buses.</param>
/// <param name="Of">A role, or the name of an input.</param>
/// <param name="Over">What it is compared with: a role, or the name of an input.</param>
/// <param name="Be">How much louder it is to be, in dB; less than 0 for softer.</param>
/// <param name="Within">How far off it may be, in dB, 0 or more.</param>
/// <param name="Against">The feed whose own ratio counts as 0 dB, or null for the one that is the room.</param>
public sealed record RatioLine(Origin Place, ScalarNode At, ScalarNode Of, ScalarNode Over, double Be, double Within, ScalarNode? Against)
{
    /// <summary>The largest ratio that is read, in dB: more than any desk can make.</summary>
    public const double Most = 200;

    /// <summary>How far a ratio may be off where the line does not say, in dB.</summary>
    public const double UsualWithin = 1;

    /// <summary>Reads <c>ratios: [{ at: fills, of: talker, over: band, be: 6 dB }]</c>.</summary>
    internal static List<RatioLine> Read(IReadOnlyList<Node>? items, DiagnosticBag diagnostics)
    {
        var lines = new List<RatioLine>();
        foreach (var item in items ?? [])
        {
            if (item is not MapNode map)
            {
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"a ratio is {item.Shape}", "write { at: fills, of: talker, over: band, be: 6 dB }");
                continue;
            }

            var reader = new MapReader(map, PlanKeys.Ratio, diagnostics);
            var (at, of, over) = (reader.RequireScalar("at"), reader.RequireScalar("of"), reader.RequireScalar("over"));
            var be = ReadLevel(reader.RequireScalar("be"), -Most, "how much louder one is", "6 dB, or -3 dB", diagnostics);
            var within = ReadLevel(reader.Scalar("within"), 0, "how far a ratio may be off", "1.5 dB", diagnostics);
            var against = reader.Scalar("against");
            reader.Finish();
            if (at is not null && of is not null && over is not null)
                lines.Add(new RatioLine(map.At, at, of, over, be ?? 0, within ?? UsualWithin, against));
        }

        return lines;
    }

    private static double? ReadLevel(ScalarNode? scalar, double least, string what, string example, DiagnosticBag diagnostics)
    {
        if (scalar is null)
            return null;
        if (ValueText.TryParseNumber(scalar.Text, Unit.Decibel, out var level) && level >= least && level <= Most)
            return level;
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not {what}", $"write it like {example}");
        return null;
    }
}
