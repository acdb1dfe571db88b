namespace StateWatch.Protocol.Tests.Osc;

/// <summary>Literal bytes and where they were published.</summary>
public static class OscVectors
{
    /// <summary>OSC 1.0 specification, page of examples: "/oscillator/4/frequency" with 440.0. Also captured from liblo 0.31.</summary>
    public const string Oscillator =
        "2F 6F 73 63 69 6C 6C 61 74 6F 72 2F 34 2F 66 72 65 71 75 65 6E 63 79 00 2C 66 00 00 43 DC 00 00";

    /// <summary>OSC 1.0 specification, page of examples: "/foo" 1000, -1, "hello", 1.234, 5.678. Also captured from liblo 0.31.</summary>
    public const string Foo =
        "2F 66 6F 6F 00 00 00 00 2C 69 69 73 66 66 00 00 00 00 03 E8 FF FF FF FF 68 65 6C 6C 6F 00 00 00 3F 9D F3 B6 40 B5 B2 2D";

    // Captured from liblo 0.31's oscsend over loopback.
    public const string NoArguments = "2F 61 00 00 2C 00 00 00";
    public const string WithoutData = "2F 62 00 00 2C 54 46 4E 49 00 00 00";
    public const string Wide = "2F 78 00 00 2C 68 64 00 00 00 00 01 00 00 00 00 3F E0 00 00 00 00 00 00";
    public const string SymbolAndChar = "2F 63 00 00 2C 53 63 00 73 79 6D 00 00 00 00 41";
    public const string Midi = "2F 6D 00 00 2C 6D 00 00 00 90 3C 40";
    public const string EmptyString = "2F 74 00 00 2C 73 00 00 00 00 00 00";

    // Put together by hand from OSC 1.0, "Atomic Data Types", "OSC Type Tag String" and "OSC Bundles".
    public const string OneInt = "2F 61 00 00 2C 69 00 00 00 00 00 01";
    public const string OneFloat = "2F 62 00 00 2C 66 00 00 3F 00 00 00";
    public const string Blob = "2F 64 00 00 2C 62 00 00 00 00 00 05 01 02 03 04 05 00 00 00";
    public const string Colour = "2F 72 00 00 2C 72 00 00 FA 64 32 FF";
    public const string TimeTag = "2F 61 00 00 2C 74 00 00 BC 17 C2 00 80 00 00 00";
    public const string Arrays = "2F 61 00 00 2C 69 5B 66 5B 5D 54 5D 00 00 00 00 00 00 00 07 3F 00 00 00";
    public const string WithoutTags = "2F 61 00 00";
    public const string WithoutTagsButData = "2F 61 00 00 00 00 00 07";

    public const string EmptyBundle = "23 62 75 6E 64 6C 65 00 00 00 00 00 00 00 00 01";
    public const string TwoMessages = EmptyBundle + " 00 00 00 0C " + OneInt + " 00 00 00 0C " + OneFloat;
    public const string Nested = EmptyBundle + " 00 00 00 20 " + EmptyBundle + " 00 00 00 0C " + OneInt;

    public static readonly string[] Messages =
    [
        Oscillator, Foo, NoArguments, WithoutData, Wide, SymbolAndChar, Midi, EmptyString, OneInt, OneFloat, Blob, Colour, TimeTag,
        Arrays, WithoutTags, WithoutTagsButData,
    ];

    public static readonly string[] Packets = [.. Messages, EmptyBundle, TwoMessages, Nested];

    /// <summary>An array of exactly these bytes, so that reading past them is caught.</summary>
    public static byte[] Bytes(string hex) => Convert.FromHexString(hex.Replace(" ", "", StringComparison.Ordinal));
}
