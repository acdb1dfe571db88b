namespace StateWatch.Protocol.Framing;

/// <summary>Why a stream cannot be cut into packets. <see cref="FramingErrors.Describe"/> gives each as a sentence.</summary>
public enum FramingError : byte
{
    /// <summary>No error.</summary>
    None = 0,

    /// <summary>A packet size of zero (OSC 1.0, "OSC Packets", over streams).</summary>
    SizeZero = 1,

    /// <summary>A negative packet size.</summary>
    SizeNegative = 2,

    /// <summary>A packet size that is not a multiple of four (OSC 1.0, "OSC Packets").</summary>
    SizeNotMultipleOfFour = 3,

    /// <summary>A packet longer than the largest one that is taken.</summary>
    PacketTooLong = 4,

    /// <summary>An escape byte followed by neither of the two bytes that may follow it (RFC 1055).</summary>
    BadEscape = 5,

    /// <summary>Bytes before the first END byte (RFC 1055; OSC 1.1 asks for an END at both ends of a packet).</summary>
    NoiseBeforeFirstEnd = 6,

    /// <summary>The stream ended inside a packet.</summary>
    Truncated = 7,

    /// <summary>The destination given to an encoder is too small.</summary>
    DestinationTooSmall = 64,
}
