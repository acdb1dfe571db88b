using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Profiles;

/// <summary>The keys of codecs, a table for each kind of value.</summary>
public static class CodecTables
{
    private static readonly TextShape Number = new(@"^\s*[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?\s*$");

    private static readonly TextShape NumberOrOff = new(@"^\s*([+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?|-inf)\s*$");

    private static readonly KeyInfo Wire = new("wire", new WordShape("int", "float", "string", "bool"), "float", "How the argument travels.") { Required = true };

    private static readonly KeyInfo[] SwitchRows =
    [
        new("switch", new ListShape(TextShape.Any, least: 2, most: 2), "[0, 1]", "What off and on are on the wire, off first."),
        new("inverted", FlagShape.One, "true", "true: 1 is off, the same as switch: [1, 0].") { Default = "false" },
    ];

    private static readonly KeyInfo ChoicesRow = new("choices", new MapShape(TextShape.Any, TextShape.Any), "{ pre-fader: 1, post-fader: 2 }", "Word and what it is on the wire, a whole number or a string. After a desk reset it is none, or else the first.");

    private static readonly KeyInfo[] PointRows =
    [
        new("points", new MapShape(TextShape.Any, TextShape.Any), "{ none: \"-\", \"stage {n}\": \"st{n:02}\" }", "Where signals come from or go to, and the spelling on the wire. {n} stands for every number of the bank or strip kind before it."),
        new("bank", new WordShape("socket", "output"), "output", "Whose banks the words stage, local … mean.") { Default = "socket" },
    ];

    private static readonly KeyInfo[] TextRows =
    [
        new("length", new WholeShape(0, TextPool.LongestText), "12", "The most bytes the desk keeps of a text; 0 for no limit. Planned texts are compared as the desk would cut them."),
        new("pad", new WordShape("space", "none"), "space", "What short texts are filled up with.") { Default = "none" },
    ];

    private static readonly KeyInfo[] ScaleRows =
    [
        new("table", new ListShape(new ListShape(NumberOrOff, least: 2, most: 2), least: 2), "[[0, -60], [0.75, 0], [1, 10]]",
            "Points of wire value and value, both rising; straight lines between them. -inf, only first and only for levels, is off; up to the next point that point's value holds."),
        new("unit", new WordShape("dB", "ms", "Hz", "%", "kHz", "none"), "ms", "The unit of the number. Without a unit the codec is a level in dB."),
        new("steps", new WholeShape(2, 65_536), "1024", "Positions from the first to the last point of the table, equally spaced on the wire. Left out: the desk has no grid, or with wire int every whole number."),
    ];

    /// <summary>On and off.</summary>
    public static KeyTable Switch { get; } = new("switch codec", "On and off.", [Wire, .. SwitchRows]);

    /// <summary>Words of a closed list.</summary>
    public static KeyTable Choices { get; } = new("choice codec", "One word of a list.", Wire, ChoicesRow);

    /// <summary>Patch points.</summary>
    public static KeyTable Points { get; } = new("point codec", "Where a signal comes from or goes to.", [Wire, .. PointRows]);

    /// <summary>Free text.</summary>
    public static KeyTable Text { get; } = new("text codec", "Free text, such as a name.",
        [new("wire", new WordShape("string"), "string", "Text travels as a string.") { Required = true }, .. TextRows]);

    /// <summary>Levels and numbers.</summary>
    public static KeyTable Scale { get; } = new("scale codec", "A level in dB, or a number in a unit.",
        [new("wire", new WordShape("int", "float"), "float", "How the argument travels.") { Required = true }, .. ScaleRows]);

    /// <summary>All keys of all codecs, for one that does not say what it gives.</summary>
    public static KeyTable Any { get; } = new("codec", "How an argument becomes a value.", [Wire, .. ScaleRows, .. SwitchRows, ChoicesRow, .. TextRows, .. PointRows]);

    /// <summary>Any codec; the key that says what it gives decides which.</summary>
    public static ValueShape Codec { get; } = new EitherShape(
        new TableShape(Scale, "table"), new TableShape(Scale, "unit"), new TableShape(Switch, "switch"), new TableShape(Switch, "inverted"),
        new TableShape(Choices, "choices"), new TableShape(Text, "length"), new TableShape(Points, "points"));

    /// <summary>A number as profiles write it.</summary>
    internal static TextShape PlainNumber => Number;
}
