using static StateWatch.Core.Settings.SettingClass;
using static StateWatch.Core.Settings.ValueKinds;

namespace StateWatch.Core.Settings;

/// <summary>
/// Every setting path there can be, by shape. A profile maps some of them; anything else in a profile or plan is a spelling
/// mistake. To add a setting, add a row here (see DEVELOPERS.md).
/// </summary>
public static class SettingCatalogue
{
    /// <summary>Strips that carry audio.</summary>
    public static IReadOnlyList<string> AudioStrips { get; } = ["input", "group", "mix", "main", "matrix", "fx-return"];

    /// <summary>Strips that something can be sent or assigned to.</summary>
    public static IReadOnlyList<string> BusKinds { get; } = ["group", "mix", "main", "matrix"];

    /// <summary>All strip kinds.</summary>
    public static IReadOnlyList<string> StripKinds { get; } =
        ["input", "group", "mix", "main", "matrix", "fx-return", "dca", "mute-group", "output", "socket"];

    private static readonly Row[] AudioRows =
    [
        new("name", Labels, Text, "name"),
        new("colour", Labels, Choice | Text | Number, "colour"),
        new("on", Mutes, Switch, "mute"),
        new("fader", Levels, Level, "fader"),
        new("pan", Levels, Number, "pan"),
        new("delay", Processing, Number, "delay"),
        new("polarity", Processing, Switch | Choice, "polarity"),
        new("low-cut", Processing, Switch, "low-cut filter"),
        new("low-cut/frequency", Processing, Number, "low-cut frequency"),
        new("eq/on", Processing, Switch, "EQ"),
        new("gate/on", Processing, Switch, "gate"),
        new("gate/key", Processing, Point, "gate key"),
        new("comp/on", Processing, Switch, "compressor"),
        new("linked", Grouping, Switch, "stereo link"),
        new("dca/#", Grouping, Switch, "DCA membership"),
        new("mute-group/#", Grouping, Switch, "mute-group membership"),
        new("automix", Grouping, Switch | Choice | Text, "automix"),
        new("insert/#", Inserts, Text | Choice, "insert"),
        new("insert/#/in", Inserts, Switch, "insert in/out"),
        new("assign/<bus>/#", SettingClass.Routing, Switch, "assign"),
        new("send/<bus>/#/on", SettingClass.Routing, Switch, "send"),
        new("send/<bus>/#/level", Levels, Level, "send level"),
        new("send/<bus>/#/pan", Levels, Number, "send pan"),
        new("send/<bus>/#/tap", Taps, Choice, "send tap"),
        new("send/<bus>/#/pan-follow", Taps, Switch, "send pan follow"),
        new("recall-safe", Surface, Switch, "recall-safe"),
        new("signal", Health, Level | Switch, "signal"),
    ];

    private static readonly Row[] InputRows =
    [
        new("trim", Preamp, Level | Number, "trim"),
        new("source", Patch, Point, "source"),
        new("source/alternate", Patch, Point, "alternate source"),
        new("direct-out", Patch, Point, "direct out"),
        new("direct-out/tap", Taps, Choice, "direct-out tap"),
    ];

    private static readonly Row[] DcaRows =
    [
        new("name", Labels, Text, "name"), new("colour", Labels, Choice | Text | Number, "colour"),
        new("fader", Levels, Level, "fader"), new("on", Mutes, Switch, "mute"),
    ];

    private static readonly Row[] MuteGroupRows =
    [
        new("name", Labels, Text, "name"), new("active", Mutes, Switch, "mute group active"),
    ];

    private static readonly Row[] SocketRows =
    [
        new("gain", Preamp, Level | Number, "gain"), new("phantom", Preamp, Switch, "phantom power"),
        new("pad", Preamp, Switch, "pad"), new("signal", Health, Level | Switch, "signal"),
    ];

    private static readonly Row[] OutputRows =
    [
        new("name", Labels, Text, "name"), new("source", Patch, Point, "source"), new("on", Mutes, Switch, "mute"),
        new("delay", Processing, Number, "delay"), new("polarity", Processing, Switch | Choice, "polarity"),
        new("limiter/in", Processing, Switch, "limiter"), new("eq/in", Processing, Switch, "EQ"),
        new("signal", Health, Level | Switch, "signal"),
    ];

    private static readonly Row[] DeskRows =
    [
        new("show-file", Health, Text, "show file"), new("scene", Health, Text | Number, "scene"),
        new("edited", Health, Switch, "edited mark"), new("input-bank", Health, Choice, "input bank"),
        new("clock-locked", Health, Switch, "clock lock"), new("sample-rate", Health, Number | Choice, "sample rate"),
        new("oscillator", Health, Switch, "oscillator"), new("solo-in-place", Health, Switch, "solo-in-place"),
        new("external-mute", Health, Switch, "external mute"), new("talk/#/on", Health, Switch, "talk"),
        new("talk/#/to/<bus>-#", SettingClass.Routing, Switch, "talk route"),
        new("box/#/name", Health, Text, "stage-box name"),
        new("box/#/present", Health, Switch, "stage box"), new("box/#/leg/#", Health, Switch, "stage-box leg"),
        new("sends-on-fader", Surface, Switch | Choice, "sends-on-fader mode"), new("key/#", Surface, Text | Choice, "key"),
    ];

    private static readonly Dictionary<string, Row[]> RowsByStrip = MakeRows();

    /// <summary>The kind of a shape such as <c>input/#/send/mix/#/tap</c> or <c>socket/stage-#/gain</c>, or null.</summary>
    public static SettingKind? Find(string shape)
    {
        var slash = shape.IndexOf('/', StringComparison.Ordinal);
        if (slash < 0 || !RowsByStrip.TryGetValue(shape[..slash], out var rows))
            return null;
        var rest = shape[(slash + 1)..];
        var strip = shape[..slash];
        if (strip != "desk")
        {
            var next = rest.IndexOf('/', StringComparison.Ordinal);
            var number = next < 0 ? rest : rest[..next];
            var banked = strip is "socket" or "output";
            if (next < 0 || (banked ? !number.EndsWith("-#", StringComparison.Ordinal) : number != "#"))
                return null;
            rest = rest[(next + 1)..];
        }

        var suffix = GeneraliseBus(rest);
        foreach (var row in rows)
        {
            if (row.Suffix == suffix)
                return new SettingKind(shape, suffix, row.Class, row.Values, row.Words);
        }

        return null;
    }

    /// <summary>Every shape there can be, for suggestions.</summary>
    /// <param name="number">How the number of a socket or output is written: <c>stage-#</c>.</param>
    public static IEnumerable<string> Shapes(string number) =>
        from strip in RowsByStrip
        from row in strip.Value
        from bus in row.Suffix.Contains("<bus>", StringComparison.Ordinal) ? BusKinds : [""]
        let suffix = row.Suffix.Replace("<bus>", bus, StringComparison.Ordinal)
        select strip.Key == "desk" ? $"desk/{suffix}" : strip.Key is "socket" or "output" ? $"{strip.Key}/{number}/{suffix}" : $"{strip.Key}/#/{suffix}";

    private static string GeneraliseBus(string suffix)
    {
        foreach (var bus in BusKinds)
        {
            foreach (var lead in (ReadOnlySpan<string>)["assign/", "send/"])
            {
                if (suffix.StartsWith($"{lead}{bus}/", StringComparison.Ordinal))
                    return $"{lead}<bus>{suffix[(lead.Length + bus.Length)..]}";
            }

            if (suffix == $"talk/#/to/{bus}-#")
                return "talk/#/to/<bus>-#";
        }

        return suffix;
    }

    private static Dictionary<string, Row[]> MakeRows()
    {
        var rows = new Dictionary<string, Row[]>(StringComparer.Ordinal)
        {
            ["dca"] = DcaRows,
            ["mute-group"] = MuteGroupRows,
            ["socket"] = SocketRows,
            ["output"] = OutputRows,
            ["desk"] = DeskRows,
        };
        foreach (var strip in AudioStrips)
            rows[strip] = strip == "input" ? [.. AudioRows, .. InputRows] : AudioRows;
        return rows;
    }

    private readonly record struct Row(string Suffix, SettingClass Class, ValueKinds Values, string Words);
}
