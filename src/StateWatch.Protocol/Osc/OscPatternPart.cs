namespace StateWatch.Protocol.Osc;

/// <summary>
/// One part of a pattern against one part of an address. Instead of backtracking it keeps the set of places in the address part that
/// the pattern up to here can have reached, so no pattern takes exponential time.
/// </summary>
internal static class OscPatternPart
{
    public static OscError Validate(ReadOnlySpan<byte> part)
    {
        if (part.IsEmpty)
            return OscError.PatternEmptyPart;
        while (!part.IsEmpty)
        {
            var mark = part[0];
            part = part[1..];
            int end;
            switch (mark)
            {
                case (byte)'*' or (byte)'?':
                    break;
                case (byte)'[':
                    end = part.IndexOf((byte)']');
                    if (end < 0)
                        return OscError.PatternUnterminatedClass;
                    if (OscPatternClass.Validate(part[..end]) is var error and not OscError.None)
                        return error;
                    part = part[(end + 1)..];
                    break;
                case (byte)'{':
                    end = part.IndexOf((byte)'}');
                    if (end < 0)
                        return OscError.PatternUnterminatedAlternatives;
                    foreach (var value in part[..end])
                    {
                        if (value != (byte)',' && !OscAddressCharacters.InName(value))
                            return OscError.PatternCharacter;
                    }

                    part = part[(end + 1)..];
                    break;
                case (byte)']' or (byte)'}' or (byte)',':
                    return OscError.PatternStrayMark;
                default:
                    if (!OscAddressCharacters.InName(mark))
                        return OscError.PatternCharacter;
                    break;
            }
        }

        return OscError.None;
    }

    /// <param name="pattern">A valid part.</param>
    /// <param name="name">At most <see cref="OscPattern.MaximumLength"/> bytes.</param>
    public static bool Matches(ReadOnlySpan<byte> pattern, ReadOnlySpan<byte> name)
    {
        const int words = (OscPattern.MaximumLength / 64) + 1;
        Span<ulong> reached = stackalloc ulong[words];
        Span<ulong> next = stackalloc ulong[words];
        var places = new OscPatternPlaces(reached, next, name.Length);
        while (!pattern.IsEmpty)
        {
            var mark = pattern[0];
            pattern = pattern[1..];
            int end;
            switch (mark)
            {
                case (byte)'*':
                    places.ReachOnward();
                    break;
                case (byte)'?':
                    for (var at = places.First; at < name.Length; at = places.After(at))
                        places.Reach(at + 1);
                    places.Advance();
                    break;
                case (byte)'[':
                    end = pattern.IndexOf((byte)']');
                    for (var at = places.First; at < name.Length; at = places.After(at))
                    {
                        if (OscPatternClass.Contains(pattern[..end], name[at]))
                            places.Reach(at + 1);
                    }

                    places.Advance();
                    pattern = pattern[(end + 1)..];
                    break;
                case (byte)'{':
                    end = pattern.IndexOf((byte)'}');
                    ReachAlternatives(ref places, pattern[..end], name);
                    places.Advance();
                    pattern = pattern[(end + 1)..];
                    break;
                default:
                    for (var at = places.First; at < name.Length; at = places.After(at))
                    {
                        if (name[at] == mark)
                            places.Reach(at + 1);
                    }

                    places.Advance();
                    break;
            }

            if (places.AreNone)
                return false;
        }

        return places.Contains(name.Length);
    }

    private static void ReachAlternatives(ref OscPatternPlaces places, ReadOnlySpan<byte> list, ReadOnlySpan<byte> name)
    {
        foreach (var range in list.Split((byte)','))
        {
            var text = list[range];
            for (var at = places.First; at <= name.Length; at = places.After(at))
            {
                if (name[at..].StartsWith(text))
                    places.Reach(at + text.Length);
            }
        }
    }
}
