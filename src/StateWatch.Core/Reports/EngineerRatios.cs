using StateWatch.Core.Auditing;

namespace StateWatch.Core.Reports;

/// <summary>The part of the engineer's page about the plan's ratios: one line each, whether or not they are met.</summary>
internal static class EngineerRatios
{
    public static void Write(TextPage page, IReadOnlyList<RatioReading> ratios)
    {
        if (ratios.Count == 0)
            return;
        page.Blank();
        page.Add("Ratios at feeds, beyond those of the feed they are measured against; sources' own mutes and faders do not count");
        foreach (var (ratio, live, met) in ratios)
        {
            var line = ratio.Line;
            page.Add($"{line.At.Text}: {line.Of.Text} over {line.Over.Text} {(live is { } level ? RatioReading.Text(level) : "cannot be told")}, planned {RatioReading.Text(line.Be)} within {RatioReading.Text(line.Within)} "
                + $"against {ratio.Against.Key}: {met switch { true => "met", false => "off", null => "a setting on the way was not seen, or nothing arrives" }}; {line.Place}", "   - ", 5);
        }
    }
}
