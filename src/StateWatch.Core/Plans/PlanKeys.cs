using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>The keys of a show plan. The reader, the JSON Schema and the reference go by these rows; see DEVELOPERS.md on how to add one.</summary>
public static class PlanKeys
{
    /// <summary>A line of by-eye.</summary>
    public static KeyTable ByEyeLine { get; } = new("line of by-eye", "Something that no desk can tell, for the checklist in every report.",
        new KeyInfo("look", TextShape.Filled, "Wedge amplifiers are on", "What to look for, as a sentence.") { Required = true },
        new KeyInfo("where", TextShape.Filled, "stage left", "Where to look."));

    /// <summary>A setting that is left to the eye.</summary>
    public static KeyTable ByEyeSetting { get; } = new("setting by eye", "A setting that the desk profile does not map: it becomes a line of the checklist.",
        new KeyInfo("be", TextShape.Filled, "on", "What it must be.") { Required = true },
        new KeyInfo("by-eye", new WordShape("true", "yes", "on"), "true", "true: the desk cannot be asked for it.") { Required = true });

    /// <summary>A waiver.</summary>
    public static KeyTable Waiver { get; } = new("waiver",
        "Somebody knows of a finding and answers for it until a day. It keeps its severity and counts for the verdict; every report prints the waiver beside it.",
        new KeyInfo("finding", new TextShape(@"^[^:]+:[\s\S]+$"), "low-cut-off:input/12/low-cut", "The id of the finding, rule:setting, as a sweep prints it.") { Required = true },
        new KeyInfo("owner", TextShape.Filled, "A. Engineer", "Who answers for it.") { Required = true },
        new KeyInfo("why", TextShape.Filled, "broken switch on the pack", "Why it is let be.") { Required = true },
        new KeyInfo("until", new TextShape("^[0-9]{4}-[0-9]{2}-[0-9]{2}$"), "2026-12-31", "The last day it counts, where the show is: year-month-day.") { Required = true });

    /// <summary>A guard.</summary>
    public static KeyTable Guard { get; } = new("guard", "How far the level of sources at a feed may move, by whatever control: gain down and fader up by as much is nothing. Every gain on the way needs a planned value.",
        new KeyInfo("level-at", TextShape.Filled, "room", "The feed; wedges 3 is the third bus of that feed. Several buses are added up by power.") { Required = true },
        new KeyInfo("of", TextShape.Filled, "talker", "A role, or the name of an input.") { Required = true },
        new KeyInfo("up", Limit(), "4 dB", "How far up, in dB. One of up and down must be given.") { Default = "free" },
        new KeyInfo("down", Limit(), "6 dB", "How far down, in dB.") { Default = "free" },
        new KeyInfo("for", new TextShape(@"^([0-9]+\.?[0-9]*|\.[0-9]+) *(ms|s|min)$"), "15 s", "How long it must last before a watch tells it, at most an hour; without it 2 s, as for every level. A sweep judges the moment."));

    /// <summary>A ratio.</summary>
    public static KeyTable Ratio { get; } = new("ratio", "How much louder some sources are at a feed than others, beyond what they are in the room. Their own mutes and faders do not count: those move both places.",
        new KeyInfo("at", TextShape.Filled, "fills", "The feed; wedges 3 is the third bus of that feed.") { Required = true },
        new KeyInfo("of", TextShape.Filled, "talker", "A role, or the name of an input.") { Required = true },
        new KeyInfo("over", TextShape.Filled, "band", "What it is compared with: a role, or the name of an input.") { Required = true },
        new KeyInfo("be", new QuantityShape(Unit.Decibel, -RatioLine.Most, RatioLine.Most), "6 dB", "How much louder, in dB; less than 0 for softer. The room's own ratio counts as 0 dB.") { Required = true },
        new KeyInfo("within", new QuantityShape(Unit.Decibel, 0, RatioLine.Most), "1.5 dB", "How far off it may be, in dB.") { Default = "1 dB" },
        new KeyInfo("against", TextShape.Filled, "room", "The feed whose own ratio counts as 0 dB.") { Default = "the feed with the purpose room" });

    /// <summary>A phase.</summary>
    public static KeyTable Phase { get; } = new("phase", "What a part of the day makes of setting classes. A class that no list names is locked; mutes are free in the show phase.",
        new KeyInfo("locked", Classes(), "[patch, routing]", "Any deviation is a finding."),
        new KeyInfo("guarded", Classes(), "[levels]", "A deviation beyond the tolerance is a notice."),
        new KeyInfo("free", Classes(), "[labels]", "A deviation is nobody's business."),
        new KeyInfo("settings", Settings(), "{ \"input/30/low-cut\": on }", "Settings that hold in this phase only. They outweigh every other line."),
        new KeyInfo("message", Message(), "/show/begins", "The OSC message that begins it: an address, or [/show/phase, 3] with arguments. Only a watch listens."));

    /// <summary>A cue.</summary>
    public static KeyTable Cue { get; } = new("cue", "What is open and closed at a point of the show, and what differs from the plan while it lasts. Each cue lies on the plan alone, so they may come in any order.",
        new KeyInfo("open", PlanShapes.Names, "[Lectern]",
            "What must be open: inputs, roles, groups and effects by name, or what the names of a line have in common. A name that stands for fewer strips outweighs one that stands for more."),
        new KeyInfo("closed", PlanShapes.Names, "[choir, Hall]", "What must be closed: muted, in an active mute group, its fader below -60 dB, or a DCA of it muted or down."),
        new KeyInfo("effects", new WordShape("muted", "open"), "muted", "What all effect returns are."),
        new KeyInfo("settings", Settings(), "{ \"input/30/send/mix/1/level\": -12 dB }", "Settings that hold at this cue only. They outweigh the phase's."),
        new KeyInfo("inputs", new MapShape(PlanShapes.Numbers, new TableShape(StripTables.CueInput)), "{ 30: { fader: -5 dB } }", "Lines of inputs that hold at this cue only. They outweigh the phase's settings, not the cue's own."),
        new KeyInfo("settle", new TextShape(@"^\s*\+?([0-9]+\.?[0-9]*|\.[0-9]+)\s*m?s$"), "12 s", "How long the desk may take to get there, at most 10 min. Only a watch waits for it; a sweep judges the moment.") { Default = "5 s" },
        new KeyInfo("message", Message(), "/show/sermon",
            "The OSC message that calls it: an address, or [/show/cue, 7] with arguments. Without arguments any will do, but for a single 0 or false: a button that is let go. Only a watch listens."));

    /// <summary>Tolerances.</summary>
    public static KeyTable Tolerance { get; } = new("tolerance", "How far a value may lie from the planned one. The last word of a path counts before its setting class.",
        new KeyInfo("fader", new QuantityShape(Unit.Decibel, 0), "1 dB", "Faders."),
        new KeyInfo("level", new QuantityShape(Unit.Decibel, 0), "1 dB", "Send levels."),
        new KeyInfo("gain", new QuantityShape(Unit.Decibel, 0), "1 dB", "Preamp gain."),
        new KeyInfo("trim", new QuantityShape(Unit.Decibel, 0), "1 dB", "Digital trim."),
        new KeyInfo("delay", new QuantityShape(Unit.Millisecond, 0), "0.5 ms", "Delays."),
        new KeyInfo("pan", new QuantityShape(Unit.Percent, 0), "5 %", "Pans."),
        new KeyInfo("frequency", new QuantityShape(Unit.Hertz, 0), "10 Hz", "Filter frequencies."),
        OfClass("patch", "Which socket or bus feeds what."), OfClass("routing", "Assigns and sends."), OfClass("taps", "Where sends are taken from."),
        OfClass("grouping", "DCAs, mute groups, links, automix."), OfClass("inserts", "Inserted processors."), OfClass("processing", "EQ, dynamics, delay, polarity, limiters."),
        OfClass("preamp", "Gain, phantom power, pad, trim."), OfClass("levels", "Faders, send levels, pans."), OfClass("mutes", "Mutes."), OfClass("labels", "Names and colours."),
        OfClass("surface", "Keys, recall-safes and modes of the surface."), OfClass("health", "Clock, oscillator, show file and the like."));

    /// <summary>The plan itself.</summary>
    public static KeyTable Root { get; } = new("plan", "A show in trade words.",
        new KeyInfo("format", new WordShape(PlanReader.Format), PlanReader.Format, "Name and version of the format.") { Required = true },
        new KeyInfo("extends", TextShape.Any, "weekly.plan.yaml", "A plan that this one lies over, up to eight deep. Mappings are merged key by key; lists and single values replace what is below."),
        new KeyInfo("show", TextShape.Any, "Midwinter gathering", "The show's name, for reports.") { Required = true },
        new KeyInfo("desk", TextShape.Any, "../desks/larch-48.desk.yaml", "The desk profile, as a path relative to the plan that names it.") { Required = true },
        new KeyInfo("sweep-phase", new WordShape(Phases.All), "doors", "The phase a sweep judges by when none is asked for.") { Default = "show" },
        new KeyInfo("zone", new TextShape("^[A-Za-z][A-Za-z0-9_+/-]{0,63}$"), "Europe/Lisbon", "The show's time zone, by its name in the IANA time zone database. Waivers end by its days; without it by local time."),
        new KeyInfo("dcas", new MapShape(PlanShapes.GroupNumber, TextShape.Any), "{ 1: Talkers, 2: Choir }", "DCA number and name. The names are expected on the desk, and used in lines below."),
        new KeyInfo("mute-groups", new MapShape(PlanShapes.GroupNumber, TextShape.Any), "{ 1: Stage, 2: Effects }", "Mute-group number and name. The names are expected on the desk, and used in lines below."),
        new KeyInfo("tolerance", new TableShape(Tolerance), "{ levels: 1 dB, gain: 0.5 dB }", "How far values may lie from the planned ones. A level may also carry its own: -10 dB within 1 dB."),
        new KeyInfo("feeds", new MapShape(TextShape.Any, new EitherShape(new TableShape(StripTables.Feed, "purpose"), new TableShape(StripTables.DirectFeed, "purpose")))
        { Telling = (Purposes.OfFeeds, new EitherShape(new TableShape(StripTables.Feed), new TableShape(StripTables.DirectFeed))) },
            "{ room: { bus: main 1, out: stage 1-2 } }", "Buses with a purpose, by the key that other lines use. Sends to buses that no feed owns must be off."),
        new KeyInfo("groups", new MapShape(PlanShapes.Numbers, new TableShape(StripTables.Group)), "{ 1: { name: Voices, to: [room] } }", "Group buses by number."),
        new KeyInfo("effects", new MapShape(TextShape.Any, new TableShape(StripTables.Effect, "name")), "{ 1: { name: Hall, send: mix 13, return: fx-return 1 } }", "Effects: a send bus and a return."),
        new KeyInfo("roles", new MapShape(TextShape.Any, new TableShape(StripTables.Role)), "{ choir: { open-mic: true, dca: Choir } }", "What sources are, by name."),
        new KeyInfo("inputs", new MapShape(PlanShapes.Numbers, new TableShape(StripTables.Input)), "{ 17-24: { name: \"Choir {n}\", role: choir } }", "Input strips by number, range, or several of them: 7, 1-17 or 1-4, 7."),
        new KeyInfo("parked", new TextShape($"^(rest|{PlanShapes.NumbersPattern})$"), "rest", "Inputs that carry nothing: rest (all that no line names) or numbers. They are shut in every phase and assigned and sent to nothing."),
        new KeyInfo("talk", new MapShape(PlanShapes.Numbers, new TableShape(StripTables.Talk)), "{ 1: { to: [wedges, ears] } }", "Talk circuits by number."),
        new KeyInfo("keys", new MapShape(PlanShapes.Numbers, TextShape.Any), "{ 1: mute group 1, 7-8: nothing }", "What the desk's keys do, by number, as the desk profile spells it."),
        new KeyInfo("units", new MapShape(TextShape.Any, PlanShapes.Channels), "{ Hush A: 1, Twin A: 2 }", "Processors for inserts, and how many channels each has. Where there is a list, no other unit may be inserted, and none on more strips than it has channels."),
        new KeyInfo("settings", Settings(), "{ desk/show-file: Midwinter }", "Any setting the profile maps, by its path; numbers may be ranges, such as input/1-8/gate/on."),
        new KeyInfo("by-eye", new ListShape(new EitherShape(TextShape.Filled, new TableShape(ByEyeLine)), single: true), "[Wedge amplifiers are on]", "What no desk can tell: a checklist in every report, outside of coverage and verdict."),
        new KeyInfo("baseline", new WordShape(Phases.All), "soundcheck", "The phase at whose end levels are what guards measure from; in it and before it guards are not judged. A sweep has no record and measures from the plan.") { Default = "soundcheck" },
        new KeyInfo("guard", new ListShape(new TableShape(Guard)), "[{ level-at: room, of: talker, up: 4 dB, for: 15 s }]", "How far levels of sources at feeds may move."),
        new KeyInfo("couplings", new ListShape(new EitherShape(new TableShape(CouplingTables.Measured), new TableShape(CouplingTables.Estimate))), "[]",
            "How much of a loudspeaker a microphone hears, measured or estimated, for feedback margins. Advice: a cupped grille, a hat, somebody before the loudspeakers or an amplifier knob changes it by 10 dB unseen."),
        new KeyInfo("ratios", new ListShape(new TableShape(Ratio)), "[{ at: fills, of: talker, over: band, be: 6 dB, within: 1.5 dB }]", "How much louder some sources are at feeds than others, beyond what they are in the room."),
        new KeyInfo("hands-on", new MapShape(TextShape.Filled, PlanShapes.Names), "{ musicians: [ears], mix position: [input fader, eq] }",
            "Who may move what in soundcheck and show without comment: a feed's key (sends into it: level, pan, on), a kind and a word (input fader), a plan key or last word of a path (eq, level), or a setting class. Constraints and risks hold all the same."),
        new KeyInfo("phases", new MapShape(new WordShape(Phases.All), new TableShape(Phase)), "{ show: { guarded: [levels], free: [labels] } }", "What each part of the day locks, guards and frees."),
        new KeyInfo("cues", new MapShape(TextShape.Filled, new TableShape(Cue), most: CueReader.Most), "{ Sermon: { open: [Lectern], closed: [choir] } }", "Points of the show by name, in any order."),
        new KeyInfo("schedule", new ListShape(new EitherShape(new TableShape(ScheduleKeys.Phase), new TableShape(ScheduleKeys.Cue)), most: ScheduleReader.Most), "[{ phase: doors, at: \"09:30\", days: [sunday] }]",
            "Phases and cues that begin by the clock, in the show's zone. Only a watch goes by it."),
        new KeyInfo("waivers", new ListShape(new TableShape(Waiver)), "[]", "Findings that somebody answers for until a day."))
    { LaysOver = "extends" };

    private static EitherShape Limit() => new(new WordShape("free"), new QuantityShape(Unit.Decibel, 0));

    // An address by itself, or as the first item of a list, of which a schema sees no more than its length.
    private static EitherShape Message() => new(new TextShape(@"^(/[!""$-)+\-.0-9:->@A-Z\\^-z|~]+)+$"), new ListShape(TextShape.Any, least: 1, most: MessageReader.Most));

    private static ListShape Classes() => new(new WordShape(SettingClasses.All), single: true);

    private static SettingsShape Settings() => new(new TableShape(ByEyeSetting));

    private static KeyInfo OfClass(string word, string words) => new(word, new QuantityShape(Unit.None, 0), "1", words);
}
