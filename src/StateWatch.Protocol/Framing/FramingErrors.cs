namespace StateWatch.Protocol.Framing;

/// <summary>Says in words what a <see cref="FramingError"/> means.</summary>
public static class FramingErrors
{
    /// <summary>What is wrong and what to do about it, in plain English, without a place: the caller knows where.</summary>
    public static string Describe(this FramingError error) => error switch
    {
        FramingError.None => "No error.",
        FramingError.SizeZero => "The stream announces a packet of no bytes. Check that both ends use the same framing.",
        FramingError.SizeNegative => "The stream announces a packet of negative size. Check that both ends use the same framing.",
        FramingError.SizeNotMultipleOfFour => "The stream announces a packet size that is not a multiple of four. "
            + "Check that both ends use the same framing.",
        FramingError.PacketTooLong => "A packet on the stream is longer than is taken. "
            + "Check that both ends use the same framing, or allow larger packets.",
        FramingError.BadEscape => "An escape in the stream is followed by a byte that may not follow it; the packet was dropped. "
            + "Check that both ends use the same framing.",
        FramingError.NoiseBeforeFirstEnd => "The stream began in the middle of a packet; bytes up to the first END were dropped. "
            + "This is usual when joining a running serial line.",
        FramingError.Truncated => "The stream ended inside a packet; the packet was dropped.",
        FramingError.DestinationTooSmall => "The framed packet does not fit the buffer. Give a larger one.",
        _ => "Unknown error. This is a fault of this program; please report it.",
    };
}
