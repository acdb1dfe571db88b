using System.Runtime.CompilerServices;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// One message as a view of the bytes it came in: address pattern, type tags, arguments (OSC 1.0, "OSC Messages").
/// It has been checked whole, so walking its arguments cannot fail.
/// </summary>
public readonly ref struct OscMessage
{
    private readonly ReadOnlySpan<byte> _bytes;
    private readonly int _addressLength;

    /// <summary>With the comma; 0 when the sender left the tags out.</summary>
    private readonly int _tagsLength;

    /// <param name="bytes">The whole message, checked.</param>
    /// <param name="addressLength">Without nulls.</param>
    /// <param name="tagsLength">With the comma, without nulls; 0 when the sender left the tags out.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal OscMessage(ReadOnlySpan<byte> bytes, int addressLength, int tagsLength)
    {
        _bytes = bytes;
        _addressLength = addressLength;
        _tagsLength = tagsLength;
    }

    /// <summary>
    /// The address pattern without its nulls; begins with <c>/</c>. Other bytes are as they came: they may be no valid address
    /// (<see cref="OscPattern.IsValidAddress"/>) and no ASCII.
    /// </summary>
    public ReadOnlySpan<byte> Address => _bytes[.._addressLength];

    /// <summary>The type tags without the comma and the nulls, one byte each. Empty also when <see cref="HasTags"/> is false.</summary>
    public ReadOnlySpan<byte> Tags => HasTags ? _bytes.Slice(Comma + 1, _tagsLength - 1) : default;

    /// <summary>
    /// False when the sender left the type tag string out, as old senders may (OSC 1.0, "OSC Type Tag String"): then what follows the
    /// address is in <see cref="Data"/> and its types are unknown.
    /// </summary>
    public bool HasTags => _tagsLength != 0;

    /// <summary>All argument bytes, undecoded.</summary>
    public ReadOnlySpan<byte> Data => HasTags ? _bytes[DataStart..] : _bytes.IsEmpty ? default : _bytes[Comma..];

    /// <summary>The whole message as it came.</summary>
    public ReadOnlySpan<byte> Bytes => _bytes;

    /// <summary>A walk over the arguments, from the first. None when <see cref="HasTags"/> is false.</summary>
    public OscArgumentReader Arguments
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => new(_bytes, unchecked(Comma + 1), unchecked(Comma + _tagsLength), DataStart);
    }

    private int Comma => OscPadding.End(_addressLength);

    private int DataStart => OscPadding.End(unchecked(Comma + _tagsLength));
}
