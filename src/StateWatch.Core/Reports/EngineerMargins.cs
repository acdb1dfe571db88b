using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Auditing.Margins;

namespace StateWatch.Core.Reports;

/// <summary>The part of the engineer's page about feedback: margins in whole decibels with their spread, never more than "no closer than planned".</summary>
internal static class EngineerMargins
{
    public static void Write(TextPage page, IReadOnlyList<LoopMargin> margins)
    {
        if (margins.Count == 0)
            return;
        page.Blank();
        page.Add("Feedback, as far as the desk can tell:", tint: Tint.Strong);
        // Microphones that are alike are told together.
        foreach (var alike in margins.Where(margin => margin.Kind is MarginKind.Now or MarginKind.Microphone).GroupBy(margin => (margin.Kind, Loop(margin))))
            page.Add($"{Who(alike.Key.Kind, [.. alike.Select(margin => margin.MicrophoneName!)])}: {alike.Key.Item2}", "   - ", 5);

        if (margins.FirstOrDefault(margin => margin.Kind == MarginKind.Rise) is { } rise)
            page.Add(Rise(rise), "   - ", 5);
        var open = margins.Where(margin => margin.Kind == MarginKind.Open).ToList();
        if (open.Count > 0)
            page.Add($"open now, as so many equally loud microphones: {string.Join(", ", open.Select(Open))}", "   - ", 5);
    }

    private static string Who(MarginKind kind, List<string> names) => kind == MarginKind.Now ? "all that is open now"
        : names.Count == 1 ? $"{names[0]} alone, as it will be when opened"
        : $"{Sentences.Few(names, 2)}, each alone, as it will be when opened";

    private static string Loop(LoopMargin margin)
    {
        if (margin.Margin is not { } left || double.IsPositiveInfinity(left))
            return "no loop that a coupling tells of";
        var by = margin.Kind == MarginKind.Now ? $"{margin.MicrophoneName} by {margin.Loudspeaker}" : $"by {margin.Loudspeaker}";
        return $"{Decibel(left)} ±{margin.Spread:0} left, most of it {by} ({margin.Source}{(margin.Stale is null ? "" : ", STALE: " + margin.Stale)}); {Against(margin)}"
            + (margin.Kind == MarginKind.Now ? $"; {Decibel(margin.InPhase ?? left)} should all ways add in phase" : "")
            + (margin is { PotentialGain: { } potential, NeededGain: { } needed } ? $"; by distances {Decibel(potential)} of gain possible, {Decibel(needed)} needed" : "")
            + (margin.WinBack is { } remedy ? $"; {remedy.Setting} back to {remedy.To} wins back {Won(remedy)}" : "");
    }

    private static string Against(LoopMargin margin) => margin.Closer switch
    {
        null => "nothing planned to compare with",
        double.PositiveInfinity => "the plan makes no loop here",
        >= 0.5 and var closer => $"{Decibel(closer)} closer than planned",
        _ => "no closer than planned",
    };

    private static string Rise(LoopMargin rise) => rise.Closer switch
    {
        double.PositiveInfinity => $"{rise.MicrophoneName} reaches {rise.Loudspeaker} by a way that the plan does not make: nothing bounds what that costs",
        >= 0.5 and var closer => $"whatever microphones hear of loudspeakers: no loop is more than {Decibel(closer)} closer than planned; most: {rise.MicrophoneName} by {rise.Loudspeaker}",
        _ => "whatever microphones hear of loudspeakers: no loop is closer than planned",
    };

    private static string Open(LoopMargin margin) =>
        $"{margin.Loudspeaker} {(margin.OpenMicrophones is { } count ? count.ToString("0.0", CultureInfo.InvariantCulture) : "endless")}{(margin.MostOpen is { } most ? $" of at most {most}" : "")}";

    private static string Won(WinBack remedy) => double.IsPositiveInfinity(remedy.By) ? "all of it" : Decibel(remedy.By);

    // A margin that rounds to nothing from below is still below.
    private static string Decibel(double level) => double.IsNegativeInfinity(level) ? "nothing" : string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(level + 0.5) + 0.0:0} dB");
}
