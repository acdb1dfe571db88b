using System.Diagnostics.CodeAnalysis;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// The type of one argument; the value is the ASCII code of its type tag
/// (OSC 1.0, "OSC Type Tag String", both the required and the optional tags).
/// </summary>
[SuppressMessage("Naming", "CA1720", Justification = "These are the names the specification gives its types.")]
public enum OscType : byte
{
    /// <summary>No argument: the type of a default <see cref="OscArgument"/>. Never on the wire.</summary>
    None = 0,

    /// <summary><c>i</c>: 32-bit big-endian two's complement integer (OSC 1.0, "Atomic Data Types").</summary>
    Int32 = (byte)'i',

    /// <summary><c>f</c>: 32-bit big-endian IEEE 754 number (OSC 1.0, "Atomic Data Types").</summary>
    Float32 = (byte)'f',

    /// <summary><c>s</c>: bytes, one null, nulls up to a multiple of four (OSC 1.0, "Atomic Data Types", OSC-string).</summary>
    String = (byte)'s',

    /// <summary><c>b</c>: int32 count, the bytes, nulls up to a multiple of four (OSC 1.0, "Atomic Data Types", OSC-blob).</summary>
    Blob = (byte)'b',

    /// <summary><c>h</c>: 64-bit big-endian two's complement integer (OSC 1.0, optional types).</summary>
    Int64 = (byte)'h',

    /// <summary><c>t</c>: time tag (OSC 1.0, optional types; required by OSC 1.1).</summary>
    TimeTag = (byte)'t',

    /// <summary><c>d</c>: 64-bit big-endian IEEE 754 number (OSC 1.0, optional types).</summary>
    Float64 = (byte)'d',

    /// <summary><c>S</c>: a string that some systems keep apart from ordinary ones (OSC 1.0, optional types).</summary>
    Symbol = (byte)'S',

    /// <summary><c>c</c>: one ASCII character carried in 32 bits (OSC 1.0, optional types).</summary>
    Char = (byte)'c',

    /// <summary><c>r</c>: 32-bit RGBA colour (OSC 1.0, optional types).</summary>
    Colour = (byte)'r',

    /// <summary><c>m</c>: port id, status byte, data 1, data 2 (OSC 1.0, optional types).</summary>
    Midi = (byte)'m',

    /// <summary><c>T</c>: true, without data (OSC 1.0, optional types; required by OSC 1.1).</summary>
    True = (byte)'T',

    /// <summary><c>F</c>: false, without data (OSC 1.0, optional types; required by OSC 1.1).</summary>
    False = (byte)'F',

    /// <summary><c>N</c>: nil, without data (OSC 1.0, optional types; required by OSC 1.1).</summary>
    Nil = (byte)'N',

    /// <summary><c>I</c>: "infinitum" in OSC 1.0, "impulse" in OSC 1.1, without data.</summary>
    Impulse = (byte)'I',

    /// <summary><c>[</c>: the arguments up to the matching <c>]</c> form an array (OSC 1.0, optional types).</summary>
    ArrayBegin = (byte)'[',

    /// <summary><c>]</c>: end of an array (OSC 1.0, optional types).</summary>
    ArrayEnd = (byte)']',
}
