using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Simulator.Scenarios;

/// <summary>The keys of a scenario. The reader, the JSON Schema and the reference go by these rows.</summary>
public static class ScenarioKeys
{
    private const string Clock = @"^([01]?[0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9])?$";
    private const string Span = @"^([0-9]+\.?[0-9]*|\.[0-9]+) *(ms|s|min|h)$";

    /// <summary>Hands that ride levels.</summary>
    public static KeyTable Ride { get; } = new("riding", "Hands that ride levels for a while.",
        new KeyInfo("settings", new ListShape(TextShape.Filled, single: true, least: 1), "[input/9-16/fader]", "Setting paths of levels; a number may be a range.") { Required = true },
        new KeyInfo("per-minute", new WholeShape(1, 6000), "40", "How many moves a minute, all of them together.") { Required = true },
        new KeyInfo("within", new QuantityShape(Unit.Decibel, 0, 60), "3 dB", "How far from where each stood they go.") { Default = "3 dB" },
        new KeyInfo("for", new TextShape(Span), "75 min", "For how long, in s, min or h.") { Required = true });

    /// <summary>Something that happens.</summary>
    public static KeyTable Happening { get; } = new("happening", "Something that happens in the scenario.",
        new KeyInfo("at", new TextShape(Clock), "\"10:42:30\"", "When, by the clock where the show is.") { Required = true },
        new KeyInfo("say", TextShape.Any, "Somebody leaned on the desk", "What somebody did, in plain words."),
        new KeyInfo("set", new SettingsShape(null, least: 1), "{ desk/oscillator: on }", "Setting paths of the desk profile and their new values."),
        new KeyInfo("recall", TextShape.Filled, "none", "A cue of the plan that the desk recalls: every setting that the plan speaks of is as planned there. none: the plan without a cue."),
        new KeyInfo("over", new TextShape(Span), "12 s", "How long the levels glide; everything else changes at once, as in a recall with a fade.") { Default = "0 s" },
        new KeyInfo("put-back", new ListShape(TextShape.Filled, single: true), "desk/oscillator", "Setting paths that get back what they were when the scenario began."),
        new KeyInfo("ride", new TableShape(Ride), "{ settings: [input/9-16/fader], per-minute: 40, for: 75 min }", "Hands that ride levels from then on."),
        new KeyInfo("silent", new TextShape(Span), "25 s", "How long the desk answers nothing, as after its power was lost."),
        new KeyInfo("phase", new WordShape(Phases.All), "show", "A phase that somebody begins."),
        new KeyInfo("cue", TextShape.Filled, "none", "A cue of the plan that somebody begins; none ends it."),
        new KeyInfo("acknowledge", TextShape.Filled, "oscillator-on:desk/oscillator", "A finding that somebody says they know of."),
        new KeyInfo("put-aside", TextShape.Filled, "oscillator-on:desk/oscillator", "A finding that somebody puts aside for half an hour."));

    /// <summary>Something that must be told.</summary>
    public static KeyTable Told { get; } = new("told line", "Something that the watch must tell.",
        new KeyInfo("finding", TextShape.Filled, "oscillator-on:desk/oscillator", "The finding's id, rule:subject; digest for a digest, which is raised.") { Required = true },
        new KeyInfo("raised", new TextShape(Clock), "\"10:42:30\"", "When it must be told that something is wrong, or that it comes and goes, at the earliest. Without any of these four times: some time in the scenario."),
        new KeyInfo("known", new TextShape(Clock), "\"10:44\"", "When it must be told that somebody knows of it, at the earliest."),
        new KeyInfo("put-aside", new TextShape(Clock), "\"10:45\"", "When it must be told that it is put aside, at the earliest."),
        new KeyInfo("cleared", new TextShape(Clock), "\"10:50\"", "When it must be told that it is over, at the earliest. Known or put aside is not over."),
        new KeyInfo("within", new TextShape(Span), "10 s", "How much later it may be.") { Default = "10 s" });

    /// <summary>What else may be told.</summary>
    public static KeyTable Others { get; } = new("others", "How much else may be told.",
        new KeyInfo("at-most", new WholeShape(0, 1000), "1", "How many.") { Required = true },
        new KeyInfo("within", new TextShape(Span), "30 min", "In any span so long.") { Required = true });

    /// <summary>The file itself.</summary>
    public static KeyTable Root { get; } = new("scenario", "A day in virtual time: what happens, and what a watch must tell.",
        new KeyInfo("format", new WordShape(ScenarioReader.Format), ScenarioReader.Format, "Name and version of the format.") { Required = true },
        new KeyInfo("say", TextShape.Filled, "A Sunday with two services", "What it is, in plain words.") { Required = true },
        new KeyInfo("plan", TextShape.Filled, "../midwinter.plan.yaml", "Path of the show plan, relative to this file.") { Required = true },
        new KeyInfo("begins", new TextShape(@"^[0-9]{4}-[0-9]{2}-[0-9]{2} ([01]?[0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9])?$"), "2026-12-06 07:30", "Day and time at which it begins, by the clock where the show is. The desk is as planned then.") { Required = true },
        new KeyInfo("ends", new TextShape(Clock), "\"19:30\"", "When it ends; a time that is over counts the next day.") { Required = true },
        new KeyInfo("phase", new WordShape(Phases.All), "build", "The phase to begin with. Left out: the plan's."),
        new KeyInfo("seed", new WholeShape(0, 999_999), "7", "Decides what is left to chance; the same seed gives the same day.") { Default = "1" },
        new KeyInfo("happens", new ListShape(new TableShape(Happening)), "[{ at: \"10:42:30\", set: { desk/oscillator: on } }]", "What happens.") { Required = true },
        new KeyInfo("told", new ListShape(new TableShape(Told)), "[{ finding: \"oscillator-on:desk/oscillator\", raised: \"10:42:30\" }]", "What must be told; [] when nothing must.") { Required = true },
        new KeyInfo("others", new TableShape(Others), "{ at-most: 1, within: 30 min }", "How much else may be told. Left out: nothing."));
}
