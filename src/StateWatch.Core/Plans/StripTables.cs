using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>The keys of whatever carries signal: feeds, groups, effects, roles, inputs and talk circuits.</summary>
public static class StripTables
{
    private static readonly ValueShape Switch = new SettingShape(ValueKinds.Switch);

    /// <summary>A level, or on and off: what a name under <c>to</c> or <c>from</c> gets.</summary>
    private static readonly ValueShape Targets = new EitherShape(PlanShapes.Names, new MapShape(TextShape.Any,
        new TextShape(@"^\s*(on|off|any|- *inf *(dB)?|[+-]?([0-9]+\.?[0-9]*|\.[0-9]+) *(dB)?)( within .+)?\s*$")));

    private static readonly KeyInfo Name = new("name", new TextShape(@"^([^{]|\{(n|side|ch)\})*$"), "\"Choir {n}\"",
        "The strip's name on the desk. {n} counts from 1 within the range, {side} is L or R, {ch} is the strip's own number.");

    private static readonly KeyInfo Stereo = new("stereo", FlagShape.One, "true",
        "Linked pairs: an odd strip and the one after it. Where the line does not say so, the strips must not be linked.")
    { Default = "false" };

    private static readonly KeyInfo Dca = new("dca", PlanShapes.Names, "Choir", "The DCAs the strip belongs to, by the names given under dcas. It must be in no other.");

    private static readonly KeyInfo MuteGroups = new("mute-groups", PlanShapes.Names, "[Stage]", "The mute groups the strip belongs to, by the names given under mute-groups. It must be in no other.");

    private static readonly KeyInfo To = new("to", Targets, "{ room: on, wedges 3: -10 dB }",
        "Where it goes: names of feeds, groups and effects; wedges 3 is the third bus of that feed. A list means on. A mapping gives on, off or a send level. To a main or a group it is an assign, to a mix or matrix a send. What is not listed must be off.");

    private static readonly KeyInfo Insert = new("insert", new EitherShape(TextShape.Any, new MapShape(PlanShapes.InsertSlot, TextShape.Any)), "Hush A",
        "The processor inserted in slot 1, or a mapping of slot to processor. The insert must also be in. none: nothing inserted.");

    private static readonly KeyInfo On = new("on", Switch, "on", "off: muted. Not judged in the show phase.");

    private static readonly KeyInfo Fader = new("fader", new SettingShape(ValueKinds.Level), "0 dB", "Fader level in dB; -inf is fully down.");

    private static readonly KeyInfo Pan = new("pan", new SettingShape(ValueKinds.Number), "0 %", "Pan, in the unit of the desk profile, usually %: minus is left.");

    private static readonly KeyInfo Polarity = new("polarity", new SettingShape(ValueKinds.Switch | ValueKinds.Choice), "off", "on: inverted.");

    private static readonly KeyInfo LowCut = new("low-cut", Switch, "on", "Low-cut filter.");

    private static readonly KeyInfo Eq = new("eq", Switch, "on", "EQ switch.");

    private static readonly KeyInfo Comp = new("comp", Switch, "on", "Compressor switch.");

    private static readonly KeyInfo Colour = new("colour", new SettingShape(ValueKinds.Choice | ValueKinds.Text | ValueKinds.Number), "amber", "Colour of the strip, as the desk profile spells it.");

    private static readonly KeyInfo Loudspeaker = new("loudspeaker", new TableShape(CouplingTables.Loudspeaker), "{ sensitivity: 98 dB, amplifier: 32 dB, critical-distance: 5 m }",
        "Amplifier and loudspeaker behind its outputs, and the room, for estimated couplings.");

    private static readonly KeyInfo Microphone = new("microphone", new TableShape(CouplingTables.Microphone), "{ sensitivity: 2.5 mV, pattern: cardioid }",
        "What the microphone makes of sound, for estimated couplings. An input's outweighs its role's.");

    private static readonly KeyInfo[] Source =
    [
        Dca, MuteGroups, To, Insert,
        new("phantom", Switch, "on",
            "Phantom power, at the socket named by from; off where no line says so. Switch it only with the channel muted and its fader down, and only if you know what is plugged in."),
        new("gain", new SettingShape(ValueKinds.Level | ValueKinds.Number), "34 dB", "Preamp gain in dB, at the socket named by from."),
        new("pad", Switch, "off", "Pad, at the socket named by from."),
        new("trim", new SettingShape(ValueKinds.Level | ValueKinds.Number), "0 dB", "Digital trim in dB."),
        On, Fader, Pan,
        new("delay", new SettingShape(ValueKinds.Number), "0 ms", "Delay of the strip in ms."),
        Polarity, LowCut, Eq,
        new("gate", Switch, "on", "Gate switch."),
        Comp, Colour,
        new("automix", new SettingShape(ValueKinds.Switch | ValueKinds.Choice | ValueKinds.Text), "on", "Automix, or the automix group by its name. Must be off where no line says so."),
        new("direct-out", new SettingShape(ValueKinds.Point), "usb 1", "The output that gets the strip's direct out: a bank and a number, or none."),
    ];

    private static readonly KeyInfo[] Bus = [Name, Stereo, Dca, MuteGroups, To, Insert, On, Fader, Pan, Polarity, LowCut, Eq, Comp, Colour];

    /// <summary>One feed.</summary>
    public static KeyTable Feed { get; } = new("feed", "One or more buses with a purpose, as they reach outputs.",
    [
        new("bus", new TextShape($"^(group|mix|main|matrix) {PlanShapes.NumbersPattern}$"), "mix 1-4", "The buses: group, mix, main or matrix, and numbers.") { Required = true },
        new("purpose", new WordShape(Purposes.OfFeeds), "monitor", "What it is for. Left out where the feed's key is itself a purpose, such as room or stream. Rules go by it: what is public, what is monitoring."),
        new("out", new ListShape(new TextShape($@"^[^ ]+ {PlanShapes.NumbersPattern}$"), single: true), "[stage 6-9, local 3-6]",
            "The outputs it leaves by: a bank and numbers, one for each signal. Every further item of a list carries the same signals again."),
        new("tap", new SettingShape(ValueKinds.Choice), "pre-fader", "Where sends into it are taken from, such as pre-fader or post-fader."),
        new("delay", new ListShape(new SettingShape(ValueKinds.Number), single: true), "6.2 ms", "Delay of its outputs in ms: one for all, or a list in the order of the outputs."),
        new("limiter", new ListShape(new TextShape("^(in|out|on|off|yes|no|true|false|any)$"), single: true), "in",
            "in or out: the limiter of its outputs, one for all or a list in the order of the outputs. In-ear feeds need theirs in at all times."),
        new("mono", FlagShape.One, "true",
            "One signal made of stereo sources, such as front fills or a hearing loop. Several buses or a stereo bus are an error; both sides of every pair must reach it.")
        { Default = "false" },
        new("most-open", PlanShapes.OpenMicrophones, "4",
            "How many microphones may be open at its loudspeakers at once, counted as equally loud ones: ten that are 20 dB down are a tenth of one. Each doubling costs 3 dB of gain before feedback. Gates and automixes are not credited, since they may open."),
        new("from", Targets, "{ room: -10 dB, Voices: -10 dB }", "What feeds a matrix: feeds and groups, with on, off or a send level. Every other send to it must be off."),
        new("never", PlanShapes.Names, "[talker]", "Roles that must never reach it, by any way the plan makes. No other line relaxes it."),
        new("only", PlanShapes.Names, "[band, playback]", "The only roles that may reach it. No other line relaxes it."),
        new("must-carry", PlanShapes.Names, "[talker, playback]", "Roles that must reach it. No other line relaxes it."),
        new("minus", PlanShapes.Names, "[Overflow mic]", "Names of inputs that must not reach it: a mix-minus."),
        new("independent-of", PlanShapes.Names, "room",
            "Feeds that must not move it: nothing that arrives here may pass their buses, neither before nor after fader, mute and EQ, and no DCA or mute group that moves their buses may move what arrives here. No other line relaxes it."),
        Loudspeaker,
        .. Bus,
    ]);

    /// <summary>One feed that takes direct outs.</summary>
    public static KeyTable DirectFeed { get; } = new("feed of direct outs", "Direct outs of strips as they reach outputs, one by one: personal monitors, multitrack recording. It has no bus.",
    [
        new("direct", PlanShapes.Names, "[drums, vocal, Click]", "Roles and names of inputs. Their strips, in this order and by number within a role, get one output each; more strips than outputs are an error.") { Required = true },
        Feed["purpose"],
        new("out", new ListShape(new TextShape($@"^[^ ]+ {PlanShapes.NumbersPattern}$"), single: true), "usb 1-16", "The outputs: a bank and numbers, or a list of such.") { Required = true },
        new("tap", new SettingShape(ValueKinds.Choice), "input", "Where the direct outs are taken from, such as input or pre-fader."),
        Feed["delay"], Feed["limiter"], Feed["never"], Feed["only"], Feed["must-carry"], Feed["minus"], Feed["independent-of"], Loudspeaker,
    ]);

    /// <summary>One line of groups.</summary>
    public static KeyTable Group { get; } = new("group", "A group bus. It is a strip itself.",
    [
        new("purpose", new WordShape(Purposes.All), "parallel", "parallel for a group that is processed beside the dry signal; else left out."),
        .. Bus,
    ]);

    /// <summary>One effect.</summary>
    public static KeyTable Effect { get; } = new("effect", "A send bus, an effect, and the strip it comes back on. Its name is needed: other lines send to it.",
    [
        new("send", new TextShape($"^(group|mix|main|matrix) {PlanShapes.NumbersPattern}$"), "mix 13", "The bus that feeds it.") { Required = true },
        new("return", new TextShape($"^(fx-return|input) {PlanShapes.NumbersPattern}$"), "fx-return 1", "The strips it comes back on. The keys below are theirs."),
        new("tap", new SettingShape(ValueKinds.Choice), "post-fader", "Where sends into it are taken from; effects are usually fed post-fader."),
        .. Bus,
    ]);

    /// <summary>One role.</summary>
    public static KeyTable Role { get; } = new("role", "What a source is. Every input with the role gets what stands here.",
    [
        new("open-mic", FlagShape.One, "true", "An open microphone on or near the stage: it can feed back.") { Default = "false" },
        new("pickup", FlagShape.One, "true", "A source with a coil (a guitar's pickup, a dynamic microphone): inside a hearing loop it can howl magnetically, so a show with such a loop lists it to listen to.") { Default = "false" },
        new("private", new WordShape("talk", "click"), "click", "talk: private words. click: click, timecode, cues. Neither may reach the public."),
        Microphone,
        new("only", PlanShapes.Names, "[ears]", "The only feeds it may reach. No other line relaxes it."),
        new("never", PlanShapes.Names, "[subs]", "Feeds it must never reach. No other line relaxes it."),
        .. Source,
    ]);

    /// <summary>One line of inputs.</summary>
    public static KeyTable Input { get; } = new("input", "One input, or a range of like ones. A narrower range outweighs a wider one, a single input both.",
    [
        Name,
        new("role", TextShape.Any, "choir", "Its role, defined under roles. A strip with a role is a closed world: what no line lists must be off or none."),
        new("from", new TextShape($@"^(none|[^ ]+ {PlanShapes.NumbersPattern})$"), "stage 17-24", "The sockets it is patched to: a bank and numbers, one for each input."),
        Stereo,
        new("one-of", FlagShape.One, "true", "Any one of the inputs of this line will do, such as a handheld and its spare: a cue that opens one is met by any of them.") { Default = "false" },
        Microphone,
        .. Source,
    ]);

    /// <summary>One line of inputs at a cue.</summary>
    public static KeyTable CueInput { get; } = new("input at a cue", "What an input, or a range of like ones, is while a cue lasts. Lists add to what the plan says.", Source);

    /// <summary>One talk circuit.</summary>
    public static KeyTable Talk { get; } = new("talk circuit", "Where a talk circuit goes; every other bus must be off.",
    [
        new("to", new EitherShape(PlanShapes.Names, new MapShape(TextShape.Any, new WordShape("on", "off"))), "[wedges, ears]", "The feeds and groups it goes to: a list, or a mapping with on or off."),
    ]);
}
