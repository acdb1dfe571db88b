using System.Globalization;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>Words for strips, settings, levels and stages of a trace.</summary>
internal static class TraceWords
{
    /// <summary>A level as people read it: <c>-6.0 dB</c>, <c>0.0 dB</c>, <c>-inf dB</c>.</summary>
    public static string Level(double level)
    {
        if (double.IsNaN(level))
            return "no level";
        if (double.IsNegativeInfinity(level))
            return "-inf dB";
        var text = level.ToString("F1", CultureInfo.InvariantCulture);
        return $"{(text == "-0.0" ? "0.0" : text)} dB";
    }

    /// <summary>A strip with its planned name: <c>Lectern (input 25)</c>, or <c>main 1</c> when nobody named it.</summary>
    public static string Strip(ShowPlan plan, string path)
    {
        var words = Place(path);
        return Name(plan, path) is { Length: > 0 } name ? $"{name} ({words})" : words;
    }

    /// <summary>A path in words: <c>output/stage-1</c> is <c>output stage 1</c>.</summary>
    public static string Place(string path) =>
        (path.LastIndexOf('-') is var dash && dash > path.IndexOf('/', StringComparison.Ordinal) && !path.StartsWith("fx", StringComparison.Ordinal) ? $"{path[..dash]} {path[(dash + 1)..]}" : path).Replace('/', ' ');

    /// <summary>The planned name of a strip, or null.</summary>
    public static string? Name(ShowPlan plan, string path) =>
        plan.Strips.FirstOrDefault(strip => strip.Strip.Path == path) is { } planned && planned.Name != path ? PlainText.Clean(planned.Name, 60)
        : plan.For(plan.Profile.Find($"{path}/name")) is { } name ? PlainText.Clean(plan.Profile.Format(name.Planned), 60) : null;

    /// <summary>A setting in words: <c>mute of Voices (group 1)</c>.</summary>
    public static string Setting(ShowPlan plan, int id)
    {
        var setting = plan.Profile.Settings[id];
        var strip = plan.Profile.Strips[setting.Strip];
        var path = setting.Path;
        if (strip.Kind == "desk")
            return path["desk/".Length..].Replace("/on", "", StringComparison.Ordinal).Replace('/', ' ').Replace('-', ' ');
        var to = EdgePaths.BusOf(setting);
        if (to is null && path.IndexOf("/send/", StringComparison.Ordinal) is >= 0 and var send)
            to = path[(send + "/send/".Length)..path.LastIndexOf('/')];
        return to is null ? $"{setting.Kind.Words} of {Strip(plan, strip.Path)}" : $"{setting.Kind.Words} of {Strip(plan, strip.Path)} to {Strip(plan, to)}";
    }

    /// <summary>A change that opens a way, as something to do.</summary>
    public static string Do(ShowPlan plan, TraceChange change)
    {
        var setting = plan.Profile.Settings[change.Setting];
        var strip = Strip(plan, plan.Profile.Strips[setting.Strip].Path);
        return setting.Kind.Suffix switch
        {
            "on" => $"Unmute {strip}",
            "active" => $"Release {strip}",
            "fader" or "send/<bus>/#/level" => $"Bring up {Setting(plan, change.Setting)}, no further than {change.Then}",
            _ => $"Set {Setting(plan, change.Setting)} to {change.Then}",
        };
    }

    /// <summary>A stage of a way in few words, with what it does to the level.</summary>
    public static string Stage(ShowPlan plan, RoutingMap map, DeskState state, int edge, in Stage stage)
    {
        var stops = stage.Stops;
        switch (stage.Kind)
        {
            case StageKind.Gain:
                return $"preamp {Level(stage.Level)}";
            case StageKind.Trim:
                return $"trim {Level(stage.Level)}";
            case StageKind.Polarity:
                return "polarity turned";
            case StageKind.Mute:
                return stops ? "MUTED" : "not muted";
            case StageKind.MuteGroup:
                return $"MUTED by {Strip(plan, StripOf(plan, stage.Setting))}";
            case StageKind.Fader:
                return stops ? "FADER DOWN" : $"fader {Level(stage.Level)}";
            case StageKind.DcaMute:
                return stops ? $"MUTED by {Strip(plan, StripOf(plan, stage.Setting))}" : $"{Strip(plan, StripOf(plan, stage.Setting))} not muted";
            case StageKind.DcaFader:
                var dca = Strip(plan, StripOf(plan, stage.Setting));
                return stops ? $"{dca} DOWN" : $"{dca} {Level(stage.Level)}";
            case StageKind.Assign:
                return stops ? "assign OFF" : "assign on";
            case StageKind.Send:
                return stops ? $"send OFF{Tap(map, state, edge)}" : $"send on{Tap(map, state, edge)}";
            case StageKind.SendLevel:
                return stops ? "send level DOWN" : $"send level {Level(stage.Level)}";
            case StageKind.Pan:
                return stops ? "panned AWAY" : $"{(stage.Setting < 0 ? "its share" : "by its pan")} {Level(stage.Level)}";
            case StageKind.Effect:
                return "through the effect";
            case StageKind.Talk:
                return $"{plan.Profile.Settings[stage.Setting].Kind.Words} {(stops ? "OFF" : "on")}";
            case StageKind.OutputMute:
                return stops ? "output MUTED" : "output not muted";
            case StageKind.Patch:
                var live = stage.Setting >= 0 && state.IsFresh(stage.Setting) ? PlainText.Clean(plan.Profile.Format(state[stage.Setting]), 60) : "not seen";
                return stops ? $"patch: {Place(StripOf(plan, stage.Setting))} takes {live}, planned {plan.Profile.Format(plan.For(stage.Setting)!.Planned)}: NOT THIS" : $"patched from {live}";
            default:
                return "may close";
        }
    }

    /// <summary>The word of a stage's kind in reports for programs.</summary>
    public static string Word(StageKind kind) => kind switch
    {
        StageKind.Gain => "gain",
        StageKind.Trim => "trim",
        StageKind.Polarity => "polarity",
        StageKind.Mute => "mute",
        StageKind.MuteGroup => "mute-group",
        StageKind.Fader => "fader",
        StageKind.DcaMute => "dca-mute",
        StageKind.DcaFader => "dca-fader",
        StageKind.Assign => "assign",
        StageKind.Send => "send",
        StageKind.SendLevel => "send-level",
        StageKind.Pan => "pan",
        StageKind.Effect => "effect",
        StageKind.Talk => "talk",
        StageKind.Patch => "patch",
        StageKind.OutputMute => "output-mute",
        _ => "may-close",
    };

    /// <summary>The word of an answer.</summary>
    public static string Word(this TraceAnswer answer) => answer switch
    {
        TraceAnswer.Carried => "carried",
        TraceAnswer.Silent => "silent",
        TraceAnswer.Unstable => "unstable",
        _ => "cannot-tell",
    };

    /// <summary>The word of a state.</summary>
    public static string Word(this PairState state) => state switch
    {
        PairState.Closed => "closed",
        PairState.Cancelled => "cancelled",
        PairState.Carried => "carried",
        _ => "unstable",
    };

    private static string Tap(RoutingMap map, DeskState state, int edge) =>
        map.Edges[edge].Tap is >= 0 and var tap && state.IsFresh(tap) ? $", {PlainText.Clean(map.Profile.Format(state[tap]), 20)}" : "";

    private static string StripOf(ShowPlan plan, int setting) => plan.Profile.Strips[plan.Profile.Settings[setting].Strip].Path;
}
