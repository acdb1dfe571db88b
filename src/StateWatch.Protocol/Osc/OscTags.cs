namespace StateWatch.Protocol.Osc;

/// <summary>What type tags are known (OSC 1.0, "OSC Type Tag String").</summary>
internal static class OscTags
{
    /// <summary>Whether the tag announces bytes among the arguments.</summary>
    public static bool HasData(byte tag) => (OscType)tag is OscType.Int32 or OscType.Float32 or OscType.String or OscType.Blob
        or OscType.Int64 or OscType.TimeTag or OscType.Float64 or OscType.Symbol or OscType.Char or OscType.Colour or OscType.Midi;

    /// <summary>Whether all tags are known and the arrays balanced.</summary>
    public static OscError Check(ReadOnlySpan<byte> tags)
    {
        var depth = 0;
        foreach (var tag in tags)
        {
            if (HasData(tag))
                continue;
            switch ((OscType)tag)
            {
                case OscType.ArrayBegin:
                    depth++;
                    break;
                case OscType.ArrayEnd when --depth < 0:
                    return OscError.UnbalancedArray;
                case OscType.ArrayEnd or OscType.True or OscType.False or OscType.Nil or OscType.Impulse:
                    break;
                default:
                    return OscError.UnknownTag;
            }
        }

        return depth == 0 ? OscError.None : OscError.UnbalancedArray;
    }
}
