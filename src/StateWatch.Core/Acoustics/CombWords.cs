using System.Globalization;

namespace StateWatch.Core.Acoustics;

/// <summary>A comb filter in words: <c>notches at 500 Hz, 1.5 kHz and 2.5 kHz, 10.7 dB deep</c>.</summary>
public static class CombWords
{
    private const double Hearing = 20_000;

    /// <summary>The first three notches below 20 kHz and how deep they are.</summary>
    /// <param name="delay">By how much the second way is later, in ms, more than 0.</param>
    /// <param name="lower">By how much one way is weaker than the other, in dB, not negative.</param>
    /// <param name="turned">Whether one is of opposite polarity: then notches lie where the peaks would, the first at 0 Hz.</param>
    public static string Of(double delay, double lower, bool turned)
    {
        var notches = Enumerable.Range(0, 3).Select(number => turned ? CombFilter.Peak(delay, number) : CombFilter.Notch(delay, number)).Where(frequency => frequency <= Hearing).Select(Frequency).ToList();
        var depth = CombFilter.Depth(lower).Notch;
        var deep = depth < -60 ? "to nothing" : string.Create(CultureInfo.InvariantCulture, $"{-depth:0.0} dB deep");
        var bass = turned ? "the lowest notes missing, and " : "";
        return notches.Count == 0 ? $"{bass}no notch below 20 kHz" : $"{bass}notch{(notches.Count == 1 ? "" : "es")} at {Join(notches)}, {deep}";
    }

    private static string Frequency(double hertz) => hertz < 1000
        ? string.Create(CultureInfo.InvariantCulture, $"{hertz:0} Hz")
        : string.Create(CultureInfo.InvariantCulture, $"{hertz / 1000:0.##} kHz");

    private static string Join(List<string> words) => words.Count == 1 ? words[0] : $"{string.Join(", ", words.SkipLast(1))} and {words[^1]}";
}
