namespace StateWatch.Protocol.Osc;

/// <summary>Compares addresses byte by byte, also with spans, so that they can be looked up without a copy.</summary>
public sealed class OscAddressComparer : IEqualityComparer<byte[]>, IAlternateEqualityComparer<ReadOnlySpan<byte>, byte[]>
{
    private OscAddressComparer()
    {
    }

    /// <summary>The comparer.</summary>
    public static OscAddressComparer Instance { get; } = new();

    /// <inheritdoc/>
    public bool Equals(byte[]? x, byte[]? y) => x.AsSpan().SequenceEqual(y);

    /// <inheritdoc/>
    public int GetHashCode(byte[] obj) => GetHashCode(obj.AsSpan());

    /// <inheritdoc/>
    public bool Equals(ReadOnlySpan<byte> alternate, byte[] other) => alternate.SequenceEqual(other);

    /// <inheritdoc/>
    public int GetHashCode(ReadOnlySpan<byte> alternate)
    {
        var hash = default(HashCode);
        hash.AddBytes(alternate);
        return hash.ToHashCode();
    }

    /// <inheritdoc/>
    public byte[] Create(ReadOnlySpan<byte> alternate) => alternate.ToArray();
}
