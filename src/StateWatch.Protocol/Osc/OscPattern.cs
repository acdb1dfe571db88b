namespace StateWatch.Protocol.Osc;

/// <summary>
/// Addresses and address patterns (OSC 1.0, "OSC Methods and OSC Containers" and "OSC Message Dispatching and Pattern Matching").
/// </summary>
/// <remarks>
/// <c>*</c> and <c>?</c> never cross a slash; the <c>//</c> of OSC 1.1 is refused. Where OSC 1.0 is silent: a class or list that is not
/// closed makes the pattern invalid, and so do <c>[]</c> and <c>[!]</c>; a reversed range such as <c>[c-a]</c> has no member; <c>-</c>
/// is itself at either end of a class; an alternative may be empty; alternatives are plain text, not patterns.
/// </remarks>
public static class OscPattern
{
    /// <summary>The most bytes a pattern, or an address to compare with one, may have; it bounds the work for hostile patterns.</summary>
    public const int MaximumLength = 1024;

    /// <summary>What is wrong with a pattern; a pattern that is not <see cref="OscError.None"/> matches nothing.</summary>
    public static OscError Validate(ReadOnlySpan<byte> pattern)
    {
        if (pattern.IsEmpty || pattern[0] != (byte)'/')
            return OscError.PatternNotAbsolute;
        if (pattern.Length > MaximumLength)
            return OscError.PatternTooLong;
        foreach (var range in pattern[1..].Split((byte)'/'))
        {
            var error = OscPatternPart.Validate(pattern[1..][range]);
            if (error != OscError.None)
                return error;
        }

        return OscError.None;
    }

    /// <summary>Whether the bytes hold any of <c>? * [ ] { }</c>, so that they have to be matched rather than looked up.</summary>
    public static bool HasWildcards(ReadOnlySpan<byte> address) => address.ContainsAny(OscAddressCharacters.Wildcards);

    /// <summary>Whether the bytes are an address that a method can have: <c>/name/name…</c> in the allowed printable ASCII.</summary>
    public static bool IsValidAddress(ReadOnlySpan<byte> address)
    {
        if (address.Length < 2 || address[0] != (byte)'/' || address[^1] == (byte)'/')
            return false;
        return !address.ContainsAnyExcept(OscAddressCharacters.NamesAndSlash) && address.IndexOf("//"u8) < 0;
    }

    /// <summary>
    /// Whether the pattern matches the address: as many parts, and each part its counterpart. The work is at most proportional to the
    /// product of the two lengths, whatever the pattern.
    /// </summary>
    /// <returns>False also for an invalid pattern and for an address longer than <see cref="MaximumLength"/>.</returns>
    public static bool Matches(ReadOnlySpan<byte> pattern, ReadOnlySpan<byte> address)
    {
        if (address.Length > MaximumLength || address.IsEmpty || address[0] != (byte)'/' || Validate(pattern) != OscError.None)
            return false;
        while (!pattern.IsEmpty && !address.IsEmpty)
        {
            if (!OscPatternPart.Matches(TakePart(ref pattern), TakePart(ref address)))
                return false;
        }

        return pattern.IsEmpty && address.IsEmpty;
    }

    /// <summary>Takes a slash and what follows it up to the next one.</summary>
    private static ReadOnlySpan<byte> TakePart(ref ReadOnlySpan<byte> rest)
    {
        var next = rest[1..].IndexOf((byte)'/') + 1;
        if (next == 0)
            next = rest.Length;
        var part = rest[1..next];
        rest = rest[next..];
        return part;
    }
}
