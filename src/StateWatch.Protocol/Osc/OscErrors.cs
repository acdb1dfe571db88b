namespace StateWatch.Protocol.Osc;

/// <summary>Says in words what an <see cref="OscError"/> means.</summary>
public static class OscErrors
{
    /// <summary>True for what a reader can find wrong with bytes that came in.</summary>
    public static bool IsReading(this OscError error) => error is >= OscError.Empty and <= OscError.TooDeep;

    /// <summary>What is wrong and what to do about it, in plain English, without a place: the caller knows where.</summary>
    public static string Describe(this OscError error) => error switch
    {
        OscError.None => "No error.",
        OscError.Empty => "The packet is empty. Check what is sending to this port.",
        OscError.NotMultipleOfFour => "The packet's length is not a multiple of four, so it is cut short or not OSC. "
            + "Check that this port and framing are the ones the sender uses.",
        OscError.NotMessageOrBundle => "The packet begins with neither '/' nor '#', so it is not OSC. "
            + "Check that nothing else sends to this port.",
        OscError.UnexpectedBundle => "A bundle came where a single message is expected. Read it as a packet.",
        OscError.UnterminatedAddress => "The address does not end inside the message. The packet is cut short or not OSC.",
        OscError.BadPadding => "Padding bytes are not zero, so the fields may not be where they seem. "
            + "Look for newer firmware or settings in the sender.",
        OscError.UnterminatedTags => "The type tags do not end inside the message. The packet is cut short.",
        OscError.UnknownTag => "A type tag is not one that OSC defines, so the arguments cannot be found. "
            + "Make the sender use i, f, s, b, h, t, d, S, c, r, m, T, F, N, I, '[' or ']'.",
        OscError.ArgumentPastEnd => "The type tags announce an argument that is not there. The packet is cut short.",
        OscError.UnterminatedString => "A string does not end inside the message. The packet is cut short.",
        OscError.BlobSize => "A blob is announced with a negative size, or larger than the message. "
            + "The packet is cut short or damaged.",
        OscError.UnbalancedArray => "The type tags open and close arrays unevenly. Give every '[' its ']'.",
        OscError.TrailingBytes => "Bytes follow the last argument, so the type tags do not describe this message. "
            + "Make the sender list every argument in its type tags.",
        OscError.BundleHeader => "The packet begins with '#' but not with '#bundle', so it is not OSC.",
        OscError.BundleTimeTagMissing => "The bundle ends before its time tag. The packet is cut short.",
        OscError.ElementSize => "An element of the bundle has an impossible size, so the rest of the bundle was not read. "
            + "The packet is cut short or damaged.",
        OscError.NestedTimeTagEarlier => "A bundle inside a bundle is timed earlier than the one around it. "
            + "Give it the same time or a later one.",
        OscError.TooDeep => "Bundles are nested more than 32 deep. Send them flatter.",

        OscError.BufferTooSmall => "The packet does not fit the buffer. Give a larger buffer or send less at once.",
        OscError.AddressNotAbsolute => "The address does not begin with '/'. Begin it with '/'.",
        OscError.NullInString => "An address or string holds a null byte, which would end it early. Remove the null.",
        OscError.ArgumentNotAsTagged => "An argument is of another type than its tag. Make the tags and the arguments agree.",
        OscError.TooManyArguments => "There are more arguments than tags. Add the missing tags.",
        OscError.MissingArguments => "There are fewer arguments than tags. Add the missing arguments.",
        OscError.NoMessage => "An argument came before any message. Start a message first.",
        OscError.PacketComplete => "The packet is already whole. Use a bundle to send several messages.",
        OscError.NoBundle => "A bundle was ended that was never started. Start it first.",
        OscError.BundleNotEnded => "A bundle was not ended. End every bundle that was started.",
        OscError.NothingWritten => "Nothing was written. Start a message or a bundle.",

        OscError.PatternNotAbsolute => "The pattern does not begin with '/'. Begin it with '/'.",
        OscError.PatternTooLong => "The pattern is longer than 1024 bytes. Split it into several.",
        OscError.PatternEmptyPart => "The pattern has an empty part (two slashes in a row, or one at the end), "
            + "which matches nothing. Name the part, or put '*' there.",
        OscError.PatternCharacter => "The pattern holds a character that no address can hold. "
            + "Use printable ASCII without space, '#' and ','.",
        OscError.PatternUnterminatedClass => "A '[' is not closed before the next slash. Add the ']'.",
        OscError.PatternEmptyClass => "A pair of square brackets holds no character. List at least one.",
        OscError.PatternUnterminatedAlternatives => "A '{' is not closed before the next slash. Add the '}'.",
        OscError.PatternStrayMark => "A ']', '}' or ',' stands without its opening mark. Remove it or add the opening mark.",
        _ => "Unknown error. This is a fault of this program; please report it.",
    };
}
