using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>
/// The plan's tolerances: by the last word of a path (<c>gain</c>, <c>level</c>) before setting class. A class holds settings of several
/// units; its tolerance counts for those of the unit it is written in.
/// </summary>
internal sealed class ToleranceTable
{
    private readonly Dictionary<string, (double Size, Unit Unit)> _byWord = new(StringComparer.Ordinal);

    public ToleranceTable(IReadOnlyList<MapEntry> entries, DiagnosticBag diagnostics)
    {
        foreach (var (key, value) in entries)
        {
            var row = PlanKeys.Tolerance.Find(key.Text);
            var unit = (row?.Shape as QuantityShape)?.Unit ?? Unit.None;
            var isWord = unit != Unit.None;
            if (row is null)
                MapReader.ReportUnknown(key, PlanKeys.Tolerance.Keys, diagnostics);
            else if (value is ScalarNode scalar && (isWord ? TryParse(scalar.Text, unit, out var size) : TryParse(scalar.Text, out size, out unit)))
                _byWord[key.Text] = (size, unit);
            else
                diagnostics.Add(DocumentCodes.BadValue, value.At, $"'{(value as ScalarNode)?.Text ?? value.Shape}' is not a tolerance",
                    isWord ? $"write it in {unit.Word()}, like 1 {unit.Word()}" : "write it like 1 dB, 0.5 ms or 10 Hz");
        }
    }

    /// <summary>The tolerance of a setting in its own unit; 0 when the plan gives none.</summary>
    public double For(Setting setting)
    {
        var suffix = setting.Kind.Suffix;
        var last = suffix[(suffix.LastIndexOf('/') + 1)..];
        if (_byWord.TryGetValue(last, out var own))
            return own.Size;
        return _byWord.TryGetValue(setting.Kind.Class.Word(), out var shared) && (shared.Unit == Unit.None || shared.Unit == setting.Reset.Unit) ? shared.Size : 0;
    }

    // A bare number counts for every unit.
    private static bool TryParse(string text, out double size, out Unit unit)
    {
        foreach (var known in (ReadOnlySpan<Unit>)[Unit.None, Unit.Decibel, Unit.Millisecond, Unit.Hertz, Unit.Percent])
        {
            unit = known;
            if (TryParse(text, known, out size))
                return true;
        }

        unit = Unit.None;
        size = 0;
        return false;
    }

    private static bool TryParse(string text, Unit unit, out double size) => ValueText.TryParseNumber(text, unit, out size) && size >= 0;
}
