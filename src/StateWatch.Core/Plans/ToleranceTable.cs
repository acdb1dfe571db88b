using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>The plan's tolerances: by the last words of a path (<c>gain</c>, <c>send level</c>) before setting class.</summary>
internal sealed class ToleranceTable
{
    private static readonly string[] Words = ["fader", "level", "gain", "trim", "delay", "pan", "frequency"];
    private readonly Dictionary<string, double> _byWord = new(StringComparer.Ordinal);

    public ToleranceTable(IReadOnlyList<MapEntry> entries, DiagnosticBag diagnostics)
    {
        foreach (var (key, value) in entries)
        {
            if (!Words.Contains(key.Text) && !SettingClasses.All.Contains(key.Text))
                MapReader.ReportUnknown(key, [.. Words, .. SettingClasses.All], diagnostics);
            else if (value is ScalarNode scalar && TryParse(scalar.Text, out var tolerance))
                _byWord[key.Text] = tolerance;
            else
                diagnostics.Add(DocumentCodes.BadValue, value.At, $"'{(value as ScalarNode)?.Text ?? value.Shape}' is not a tolerance", "write it like 1 dB, 0.5 ms or 10 Hz");
        }
    }

    /// <summary>The tolerance of a setting in its own unit; 0 when the plan gives none.</summary>
    public double For(Setting setting)
    {
        var suffix = setting.Kind.Suffix;
        var last = suffix[(suffix.LastIndexOf('/') + 1)..];
        return _byWord.TryGetValue(last, out var own) ? own : _byWord.GetValueOrDefault(setting.Kind.Class.Word());
    }

    private static bool TryParse(string text, out double tolerance)
    {
        foreach (var unit in (ReadOnlySpan<Unit>)[Unit.Decibel, Unit.Millisecond, Unit.Hertz, Unit.Percent])
        {
            if (ValueText.TryParseNumber(text, unit, out tolerance) && tolerance >= 0)
                return true;
        }

        tolerance = 0;
        return false;
    }
}
