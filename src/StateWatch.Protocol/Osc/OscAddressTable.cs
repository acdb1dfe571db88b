using System.Numerics;
using System.Runtime.Intrinsics;
using System.Text;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Finds the dense id of an address among those of a desk. Built once; lookups allocate nothing, may run from several threads, and visit
/// at most <see cref="LongestProbe"/> buckets for any bytes.
/// </summary>
/// <remarks>
/// Open addressing in buckets of eight slots that are compared at once. A slot of 32 bits holds hash bits, the length and the id, so that
/// slots and keys of a large desk stay in the cache of one core.
/// </remarks>
public sealed class OscAddressTable
{
    /// <summary>The most addresses that a table takes.</summary>
    public const int MaximumCount = (1 << IdBits) - 1;

    private const int BucketSize = 8;
    private const int IdBits = 20;
    private const int LengthBits = 6;
    private const uint IdMask = MaximumCount;
    private const uint HashMask = ~0u << (IdBits + LengthBits);

    /// <summary>In each slot from the top: hash bits, length as <see cref="LengthOf"/>, id plus one; 0 for none.</summary>
    private readonly uint[] _slots;
    private readonly uint _startMask;
    private readonly OscAddressKey[] _keys;
    private readonly byte[][] _addresses;
    private readonly int _longest;

    /// <summary>Builds the table.</summary>
    /// <param name="addresses">Each address once; its index is its id. The arrays are not copied and must not change.</param>
    /// <exception cref="ArgumentException">An address is listed twice, or there are more than <see cref="MaximumCount"/>.</exception>
    public OscAddressTable(IReadOnlyList<byte[]> addresses)
    {
        ArgumentNullException.ThrowIfNull(addresses);
        if (addresses.Count > MaximumCount)
            throw new ArgumentException($"There are {addresses.Count} addresses; at most {MaximumCount} are taken.", nameof(addresses));
        _addresses = [.. addresses];
        _keys = new OscAddressKey[_addresses.Length];
        _slots = new uint[BitOperations.RoundUpToPowerOf2((uint)Math.Max(_addresses.Length * 2, BucketSize))];
        _startMask = (uint)(_slots.Length - BucketSize);
        LongestProbe = 1;
        for (var id = 0; id < _addresses.Length; id++)
        {
            _longest = Math.Max(_longest, _addresses[id].Length);
            if (Find(_addresses[id]) is var earlier and >= 0)
            {
                var text = Encoding.Latin1.GetString(_addresses[id]);
                throw new ArgumentException($"'{text}' is listed twice, at index {earlier} and {id}.", nameof(addresses));
            }

            LongestProbe = Math.Max(LongestProbe, Add(id));
        }
    }

    /// <summary>How many addresses there are.</summary>
    public int Count => _addresses.Length;

    /// <summary>The most buckets any lookup visits before it gives up.</summary>
    public int LongestProbe { get; }

    /// <summary>The id of an address: its index in the list given; -1 when it is not there.</summary>
    public int Find(ReadOnlySpan<byte> address)
    {
        // The other lengths are out of line: this is the method that decides how many messages a second can be taken.
        if (!HasKey(address))
            return FindOther(address);
        var key = new OscAddressKey(address, out var hash);
        var wanted = Vector256.Create((hash & HashMask) | unchecked((uint)address.Length << IdBits));
        var slots = _slots;
        var start = hash & _startMask;
        while (true)
        {
            // The slots are a whole number of buckets, so a bucket whose start is inside is inside.
            var held = Vector256.LoadUnsafe(ref slots[start]);
            var matches = Vector256.Equals(held & Vector256.Create(~IdMask), wanted).ExtractMostSignificantBits();
            while (matches != 0)
            {
                var slot = slots[unchecked(start + (uint)BitOperations.TrailingZeroCount(matches))];
                var id = unchecked((int)(slot & IdMask) - 1);
                if (key.IsSameAs(_keys[id]))
                    return id;
                matches &= unchecked(matches - 1);
            }

            if (held[BucketSize - 1] == 0)
                return -1;
            start = unchecked(start + BucketSize) & _startMask;
        }
    }

    private int FindOther(ReadOnlySpan<byte> address)
    {
        if (address.Length > _longest)
            return -1;
        var hash = HashAny(address);
        var wanted = Mark(hash, address);
        for (var at = hash & _startMask; ; at = (at + 1) & (uint)(_slots.Length - 1))
        {
            var slot = _slots[at];
            if (slot == 0)
                return -1;
            var id = (int)(slot & IdMask) - 1;
            if ((slot & ~IdMask) == wanted && address.SequenceEqual(_addresses[id]))
                return id;
        }
    }

    private static uint HashAny(ReadOnlySpan<byte> address)
    {
        if (HasKey(address))
        {
            _ = new OscAddressKey(address, out var quick);
            return quick;
        }

        var hash = 0u;
        foreach (var value in address)
            hash = BitOperations.Crc32C(hash, value);
        return hash;
    }

    private static bool HasKey(ReadOnlySpan<byte> address) => address.Length is >= OscAddressKey.Least and <= OscAddressKey.Complete;

    /// <summary>The length as slots have it: one number for all that are too long for a key.</summary>
    private static int LengthOf(ReadOnlySpan<byte> address) => Math.Min(address.Length, OscAddressKey.Complete + 1);

    private static uint Mark(uint hash, ReadOnlySpan<byte> address) =>
        (hash & HashMask) | ((uint)LengthOf(address) << IdBits);

    /// <summary>Adds an address that is not there.</summary>
    /// <returns>How many buckets a lookup for it or past it visits.</returns>
    private int Add(int id)
    {
        ReadOnlySpan<byte> address = _addresses[id];
        if (HasKey(address))
            _keys[id] = new OscAddressKey(address, out _);
        var hash = HashAny(address);
        var start = hash & _startMask;
        for (var probes = 1; ; probes++)
        {
            var free = _slots.AsSpan((int)start, BucketSize).IndexOf(0u);
            if (free >= 0)
            {
                _slots[start + (uint)free] = Mark(hash, address) | (uint)(id + 1);
                return free == BucketSize - 1 ? probes + 1 : probes;
            }

            start = (start + BucketSize) & _startMask;
        }
    }
}
