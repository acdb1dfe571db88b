using System.Globalization;

namespace StateWatch.Core.Records;

/// <summary>One figure of the alarm load beside its goal.</summary>
/// <param name="Id">Its word.</param>
/// <param name="Text">What it is.</param>
/// <param name="Value">The figure; shares in per cent.</param>
/// <param name="Unit">Its unit; may be empty.</param>
/// <param name="Goal">The goal, as people read it.</param>
/// <param name="IsMet">Whether it is met; null where there is too little to say.</param>
/// <param name="Source">Where the goal comes from.</param>
public sealed record LoadFigure(string Id, string Text, double Value, string Unit, string Goal, bool? IsMet, string Source)
{
    private const string Both = "ISA-18.2-2016, table 5, and IEC 62682, through summaries";
    private const string Iec = "IEC 62682, through a summary";
    private const string Mix = "ISA-18.2, through two summaries: 80, 15 and 5 %; says nothing below 100 alarms";
    private const string Flood = "ISA-18.2 and an article on alarm floods, through summaries";

    /// <summary>The figure with its unit; counts whole, others with two decimals at most.</summary>
    public string Shown => (Unit.Length == 0 ? Number : $"{Number} {Unit}").TrimEnd();

    private string Number => Value.ToString("0.##", CultureInfo.InvariantCulture);

    /// <summary>All figures of a load. Goals are meant for 30 days and more, or several shows that are alike.</summary>
    public static IReadOnlyList<LoadFigure> Of(AlarmLoad load)
    {
        var any = load.Watched > TimeSpan.Zero;
        var mix = load.Mix;
        return
        [
            new("average-10-min", "alarms in 10 minutes, on average", Rounded(load.PerTenMinutes), "", "about 1, at most 2", Lasted(load, 10) ? load.PerTenMinutes <= 2 : null, $"{Both}; EEMUA 191 likewise"),
            new("average-hour", "alarms in an hour, on average", Rounded(load.PerHour), "", "about 6, at most 12", Lasted(load, 60) ? load.PerHour <= 12 : null, Both),
            new("average-30-min", "alarms in 30 minutes, on average", Rounded(load.PerTenMinutes * 3), "", "at most 1 in a show", Lasted(load, 30) ? load.PerTenMinutes * 3 <= 1 : null, "our own, stricter proposal"),
            new("peak-10-min", "most alarms in any 10 minutes", load.Peak, "", "at most 10", any ? load.Peak <= 10 : null, $"{Both}; EEMUA 191: 10 in a flood"),
            new("periods-above-10", "periods of 10 minutes with more than 10 alarms", Percent(load.ShareAboveTen), "%", "less than 1 %", any ? load.ShareAboveTen < 0.01 : null, Both),
            new("hours-above-30", "hours with more than 30 alarms", Percent(load.ShareAboveThirty), "%", "less than 1 %", any ? load.ShareAboveThirty < 0.01 : null, Iec),
            new("flood", "time in flood (from more than 10 to fewer than 5 alarms in 10 minutes)", Percent(load.ShareInFlood), "%", "less than 1 %", any ? load.ShareInFlood < 0.01 : null, Flood),
            new("chattering", "findings that chatter (3 times off plan within a minute)", load.Chattering.Count, "", "0", any ? load.Chattering.Count == 0 : null, "ISA-18.2, through a guide to alarm audits; definitions vary"),
            new("fleeting", "findings that were gone within a minute, before anybody acknowledged", load.Fleeting.Count, "", "0", any ? load.Fleeting.Count == 0 : null, "ISA-18.2, through a summary; the minute is our own"),
            new("stale", "findings that stood for more than 24 hours at the same time", load.Stale, "", "fewer than 5", any ? load.Stale < 5 : null, Both),
            new("top-10", "share of the ten most frequent in all alarms", Percent(load.TopShare), "%", "1 to 5 %", load.Alarms >= 200 ? load.TopShare <= 0.05 : null, $"{Both}; says nothing below 200 alarms"),
            new("urgent", "urgent ones of all alarms", Percent(Share(mix.Urgent, load.Alarms)), "%", "about 5 %", Enough(load) ? Share(mix.Urgent, load.Alarms) <= 0.05 : null, Mix),
            new("warnings", "warnings of all alarms", Percent(Share(mix.Warning, load.Alarms)), "%", "about 15 %", Enough(load) ? Share(mix.Warning, load.Alarms) <= 0.15 : null, Mix),
            new("notices", "notices of all alarms", Percent(Share(mix.Notice, load.Alarms)), "%", "about 80 %", Enough(load) ? Share(mix.Notice, load.Alarms) >= 0.8 : null, Mix),
        ];
    }

    // What was watched for a minute says nothing of an average of an hour.
    private static bool Lasted(AlarmLoad load, int minutes) => load.Watched >= TimeSpan.FromMinutes(minutes);

    private static bool Enough(AlarmLoad load) => load.Alarms >= 100;

    private static double Share(int part, int all) => all == 0 ? 0 : (double)part / all;

    private static double Percent(double share) => Rounded(share * 100);

    private static double Rounded(double value) => Math.Round(value, 2);
}
