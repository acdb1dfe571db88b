using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Profiles;

/// <summary>The keys of a desk profile. The reader, the JSON Schema and the reference go by these rows; see DEVELOPERS.md on how to add one.</summary>
public static class ProfileKeys
{
    private const string NumberForm = "a whole number or an index form such as {(i-1)/24}";

    /// <summary>How many of a thing a desk has.</summary>
    public static WholeShape Count { get; } = new(0, 2048);

    private static readonly MapShape Banks = new(new TextShape("^[a-z]{1,16}$"), Count);

    /// <summary>Who the desk is.</summary>
    public static KeyTable Identify { get; } = new("identity", "How the desk says who it is. Another desk than expected ends a sweep with exit code 3.",
        new KeyInfo("ask", new TextShape("^/"), "/greet", "The address that is asked, bare.") { Required = true },
        new KeyInfo("expect", new ListShape(TextShape.Any, single: true), "[larch, \"2.*\"]", "What argument 1, 2, … of the answer must read as; * stands for any run of characters."));

    /// <summary>How to reach the desk.</summary>
    public static KeyTable Link { get; } = new("link", "How to reach the desk, and at which pace to ask.",
        new KeyInfo("osc", new WordShape("udp"), "udp", "How OSC travels.") { Required = true },
        new KeyInfo("to", new TextShape(@"^[^/ ]+:[0-9]{1,5}$"), "127.0.0.1:9048", "Host and UDP port, 1 to 65535. --desk overrides it.") { Required = true },
        new KeyInfo("in-flight", new WholeShape(1, 128), "64", "Most questions without an answer yet.") { Default = "64" },
        new KeyInfo("per-second", new WholeShape(1, 20_000), "4000", "Most questions a second.") { Default = "4000" },
        new KeyInfo("time-out", new QuantityShape(Unit.Millisecond, 10, 5000), "150 ms", "How long an answer may take.") { Default = "150 ms" },
        new KeyInfo("rounds", new WholeShape(1, 20), "6", "How often one setting is asked at the most.") { Default = "6" });

    /// <summary>Strips with a detail.</summary>
    public static KeyTable StripDetail { get; } = new("strip count", "How many strips of a kind there are, and whether each carries two signals.",
        new KeyInfo("count", Count, "1", "How many.") { Required = true },
        new KeyInfo("stereo", FlagShape.One, "true", "Each carries left and right in one: main 1 has the points main 1 left and main 1 right.") { Default = "false" });

    private static readonly EitherShape CountOrDetail = new(Count, new TableShape(StripDetail));

    /// <summary>How many strips of each kind.</summary>
    public static KeyTable Strips { get; } = new("list of strips", "How many strips of each kind the desk has.",
        new KeyInfo("input", CountOrDetail, "48", "Input channels."),
        new KeyInfo("group", CountOrDetail, "8", "Groups (subgroups): buses that strips are assigned to."),
        new KeyInfo("mix", CountOrDetail, "16", "Mix buses with a send from each strip: monitors, effects, subs."),
        new KeyInfo("main", CountOrDetail, "{ count: 1, stereo: true }", "Main buses."),
        new KeyInfo("matrix", CountOrDetail, "6", "Matrices: buses fed by buses."),
        new KeyInfo("fx-return", CountOrDetail, "4", "Effect returns."),
        new KeyInfo("dca", CountOrDetail, "8", "DCAs."),
        new KeyInfo("mute-group", CountOrDetail, "6", "Mute groups."),
        new KeyInfo("output", Banks, "{ stage: 16, local: 8 }", "Output sockets by bank; a bank is a word of 1 to 16 small letters."),
        new KeyInfo("socket", Banks, "{ stage: 48, local: 8 }", "Input sockets by bank; a bank is a word of 1 to 16 small letters."));

    /// <summary>One entry of settings.</summary>
    public static KeyTable Entry { get; } = new("setting", "One message of the desk and the settings it carries. Asked by its bare address; answered with the same address and all arguments.",
        new KeyInfo("at", new TextShape("^[/{]"), "\"/lane/{i:02}/height\"", "The OSC address; {i} is the number that stands for {i} in the path.") { Required = true },
        new KeyInfo("args", new ListShape(new EitherShape(TextShape.Any, new MapShape(TextShape.Any, TextShape.Any, 1, 1)), single: true), "[height]",
            "The codec of each argument. { level: height } adds a suffix to the path, so that one message carries several settings. \"-\" skips an argument."),
        new KeyInfo("arg", TextShape.Any, "\"{(i-1)/24}\"", $"For a membership bit: which argument, 0 to 63, as {NumberForm}."),
        new KeyInfo("bit", TextShape.Any, "\"{(i-1)%24}\"", $"For a membership bit: which bit, 0 (lowest) to 31, as {NumberForm}. 1 is a member."),
        new KeyInfo("reset", TextShape.Any, "on", "What the settings are after a desk reset; the virtual desk starts so. Left out: level -inf, switch off, choice the first, text empty, point none, number 0."),
        new KeyInfo("for", new MapShape(TextShape.Any, new TextShape("^[0-9]{1,4}(-[0-9]{1,4})?$")), "{ i: 1-32 }", "Narrows a placeholder to a range."));

    /// <summary>Numbers a stage box may have.</summary>
    public static WholeShape BoxNumber { get; } = new(1, 64);

    /// <summary>What sits on one stage box.</summary>
    public static KeyTable Box { get; } = new("stage box", "Which sockets and outputs sit on one stage box, so that a lost box explains what it silences.",
        new KeyInfo("sockets", TextShape.Any, "stage 1-16", "Its input sockets: a bank and numbers."),
        new KeyInfo("outputs", TextShape.Any, "stage 1-8", "Its outputs: a bank and numbers."));

    /// <summary>What no setting tells.</summary>
    public static KeyTable Behaviour { get; } = new("behaviour", "What the desk does with a signal that no setting tells; it decides what is heard. From the desk's handbook, or tried out.",
        new KeyInfo("mute-stops-pre-fader", FlagShape.One, "true", "A mute also silences what is taken before the fader.") { Default = "true" },
        new KeyInfo("dca-moves-pre-fader", FlagShape.One, "false", "A DCA's level also moves what is taken before the fader.") { Default = "false" },
        new KeyInfo("pan-law", new WordShape([.. BehaviourReader.PanLaws]), "-3 dB", "What each side gets in the middle: -3 dB keeps the power, -6 dB the voltage, -4.5 dB lies between; 0 dB is a balance.") { Default = "-3 dB" },
        new KeyInfo("mono-sum", new WordShape([.. BehaviourReader.MonoSums]), "-6 dB", "What each side of a stereo bus gives to a mono one; -6 dB keeps the level of what is the same on both sides.") { Default = "-6 dB" });

    /// <summary>The profile itself.</summary>
    public static KeyTable Root { get; } = new("desk profile", "What a desk has, and at which address each setting is asked for.",
        new KeyInfo("format", new WordShape(ProfileReader.Format), ProfileReader.Format, "Name and version of the format.") { Required = true },
        new KeyInfo("desk", TextShape.Any, "Larch 48", "Model name, for reports.") { Required = true },
        new KeyInfo("identify", new TableShape(Identify), "{ ask: /greet, expect: [larch, \"2.*\"] }", "How the desk says who it is. Left out: any desk will do."),
        new KeyInfo("link", new TableShape(Link), "{ osc: udp, to: 127.0.0.1:9048 }", "How to reach the desk.") { Required = true },
        new KeyInfo("strips", new TableShape(Strips), "{ input: 48, mix: 16 }", "How many strips of each kind the desk has.") { Required = true },
        new KeyInfo("slots", new MapShape(TextShape.Any, Count), "{ insert: 2, talk: 2 }", "How many there are of numbered things that are no strips: insert, talk, box, leg, key."),
        new KeyInfo("boxes", new MapShape(new TextShape("^[0-9]{1,2}$"), new TableShape(Box)), "{ 1: { sockets: stage 1-16 } }", "What sits on which stage box. Left out: a lost box explains nothing else."),
        new KeyInfo("behaviour", new TableShape(Behaviour), "{ mute-stops-pre-fader: true, pan-law: -3 dB }", "What the desk does that no setting tells."),
        new KeyInfo("codecs", new MapShape(TextShape.Any, CodecTables.Codec), "{ yes: { wire: int, switch: [0, 1] } }", "How arguments become values, by a name of your own.") { Required = true },
        new KeyInfo("settings", new MapShape(new TextShape("^(desk|input|group|mix|main|matrix|fx-return|dca|mute-group|output|socket)/"), new TableShape(Entry)),
            "{ \"input/{i}/fader\": { at: \"/lane/{i}/height\", args: [height] } }", "Setting paths of the catalogue and where they are asked for. {i} stands for every number of the kind, bank or slot before it.")
        { Required = true },
        new KeyInfo("ignore", new ListShape(new TextShape("^/"), single: true), "[\"/dial/*\"]", "Addresses of unasked chatter, as OSC 1.0 patterns."),
        new KeyInfo("follow", new TableShape(FollowKeys.Follow), "{ lost-after: 3 s, round: 30 s }", "How the desk is followed after it was read once. Left out: everything is asked in rounds."),
        new KeyInfo("invalidate", new ListShape(new TableShape(FollowKeys.Invalidate)), "[{ on: /bench/turned, settle: 500 ms }]", "Messages of the desk after which it must be read again."));
}
