namespace StateWatch.Protocol.Osc;

/// <summary>
/// One message as a view of the bytes it came in: address pattern, type tags, arguments (OSC 1.0, "OSC Messages").
/// It has been checked whole, so walking its arguments cannot fail.
/// </summary>
public readonly ref struct OscMessage
{
    private readonly ReadOnlySpan<byte> _bytes;
    private readonly int _addressLength;
    private readonly int _tagsStart;
    private readonly int _tagsLength;
    private readonly int _dataStart;

    internal OscMessage(ReadOnlySpan<byte> bytes, int addressLength, int tagsStart, int tagsLength, int dataStart)
    {
        _bytes = bytes;
        _addressLength = addressLength;
        _tagsStart = tagsStart;
        _tagsLength = tagsLength;
        _dataStart = dataStart;
    }

    /// <summary>
    /// The address pattern without its nulls; begins with <c>/</c>. Other bytes are as they came: they may be no valid address
    /// (<see cref="OscPattern.IsValidAddress"/>) and no ASCII.
    /// </summary>
    public ReadOnlySpan<byte> Address => _bytes[.._addressLength];

    /// <summary>The type tags without the comma and the nulls, one byte each. Empty also when <see cref="HasTags"/> is false.</summary>
    public ReadOnlySpan<byte> Tags => _bytes.Slice(_tagsStart, _tagsLength);

    /// <summary>
    /// False when the sender left the type tag string out, as old senders may (OSC 1.0, "OSC Type Tag String"): then what follows the
    /// address is in <see cref="Data"/> and its types are unknown.
    /// </summary>
    public bool HasTags => _dataStart != _tagsStart;

    /// <summary>All argument bytes, undecoded.</summary>
    public ReadOnlySpan<byte> Data => _bytes[_dataStart..];

    /// <summary>The whole message as it came.</summary>
    public ReadOnlySpan<byte> Bytes => _bytes;

    /// <summary>A walk over the arguments, from the first. None when <see cref="HasTags"/> is false.</summary>
    public OscArgumentReader Arguments => new(_bytes, _tagsStart, _tagsLength, _dataStart);
}
