using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles.Codecs;

/// <summary>How an argument travels.</summary>
public enum WireKind : byte
{
    /// <summary>A whole number (OSC <c>i</c>).</summary>
    Int,

    /// <summary>A float (OSC <c>f</c>).</summary>
    Float,

    /// <summary>A string (OSC <c>s</c>).</summary>
    String,

    /// <summary>OSC <c>T</c> or <c>F</c>.</summary>
    Bool,
}

/// <summary>Turns one argument of a message into a canonical value and back. Decoding allocates nothing and never throws.</summary>
public abstract class Codec(string name, ValueKind kind, WireKind wire, TextPool texts)
{
    /// <summary>The codec's name in the profile.</summary>
    public string Name { get; } = name;

    /// <summary>What kind of value it gives.</summary>
    public ValueKind Kind { get; } = kind;

    /// <summary>How it travels.</summary>
    public WireKind Wire { get; } = wire;

    /// <summary>The desk's texts.</summary>
    protected TextPool Texts { get; } = texts;

    /// <summary>What a setting of this codec is after a reset of the desk, when the profile does not say.</summary>
    public abstract SettingValue AfterReset { get; }

    /// <summary>The OSC type tag that a value is sent with.</summary>
    public virtual byte Tag(SettingValue value) => Wire switch
    {
        WireKind.Int => (byte)'i',
        WireKind.Float => (byte)'f',
        WireKind.String => (byte)'s',
        _ => value.IsOn ? (byte)'T' : (byte)'F',
    };

    /// <summary>Reads an argument. False when the argument is not of this codec (another type, not a number, an unknown word).</summary>
    public abstract bool TryDecode(in OscArgument argument, out SettingValue value);

    /// <summary>Writes a value as an argument; the tag is <see cref="Tag"/>'s.</summary>
    public abstract void Encode(SettingValue value, ref OscWriter writer);

    /// <summary>Reads a value as people write it: <c>-10 dB</c>, <c>on</c>, <c>stage 12</c>.</summary>
    /// <param name="text">The text.</param>
    /// <param name="value">The nearest value the desk can hold.</param>
    /// <param name="problem">Why it cannot be read, with what would be right; null when it can.</param>
    public abstract bool TryParse(string text, out SettingValue value, out string? problem);

    /// <summary>Words for suggestions, when there is a list of them.</summary>
    public virtual IEnumerable<string> Words => [];

    /// <summary>Writes a value as people read it.</summary>
    public string Format(SettingValue value) => ValueText.Format(value, Texts);
}
