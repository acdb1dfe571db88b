namespace StateWatch.Protocol.Osc;

/// <summary>The inside of a <c>[…]</c> in a pattern.</summary>
internal static class OscPatternClass
{
    public static OscError Validate(ReadOnlySpan<byte> members)
    {
        if (IsNegated(members))
            members = members[1..];
        if (members.IsEmpty)
            return OscError.PatternEmptyClass;
        foreach (var member in members)
        {
            if (!OscAddressCharacters.InName(member))
                return OscError.PatternCharacter;
        }

        return OscError.None;
    }

    public static bool Contains(ReadOnlySpan<byte> members, byte value)
    {
        var negated = IsNegated(members);
        return Lists(negated ? members[1..] : members, value) != negated;
    }

    private static bool IsNegated(ReadOnlySpan<byte> members) => !members.IsEmpty && members[0] == (byte)'!';

    private static bool Lists(ReadOnlySpan<byte> members, byte value)
    {
        for (var i = 0; i < members.Length; i++)
        {
            if (i + 2 < members.Length && members[i + 1] == (byte)'-')
            {
                if (value >= members[i] && value <= members[i + 2])
                    return true;
                i += 2;
            }
            else if (members[i] == value)
            {
                return true;
            }
        }

        return false;
    }
}
