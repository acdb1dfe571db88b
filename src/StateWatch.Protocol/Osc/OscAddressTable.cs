using System.Numerics;
using System.Runtime.InteropServices;
using System.Text;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Finds the dense id of an address among those of a desk. Built once; lookups allocate nothing, may run from several threads, and take
/// at most <see cref="LongestProbe"/> steps for any bytes.
/// </summary>
public sealed class OscAddressTable
{
    private const int MinimumSlots = 4;

    private readonly Slot[] _slots;
    private readonly OscAddressKey[] _keys;
    private readonly byte[][] _addresses;
    private readonly int _longest;
    private readonly int _shift;

    /// <summary>Builds the table.</summary>
    /// <param name="addresses">Each address once; its index is its id. The arrays are not copied and must not change.</param>
    /// <exception cref="ArgumentException">An address is listed twice.</exception>
    public OscAddressTable(IReadOnlyList<byte[]> addresses)
    {
        ArgumentNullException.ThrowIfNull(addresses);
        _addresses = [.. addresses];
        _keys = new OscAddressKey[_addresses.Length];
        var bits = BitOperations.Log2(BitOperations.RoundUpToPowerOf2((uint)Math.Max(MinimumSlots, _addresses.Length * 2L)));
        _shift = 64 - bits;
        _slots = new Slot[1 << bits];
        for (var id = 0; id < _addresses.Length; id++)
        {
            _longest = Math.Max(_longest, _addresses[id].Length);
            if (Add(id) is var earlier && earlier != id)
            {
                var text = Encoding.Latin1.GetString(_addresses[id]);
                throw new ArgumentException($"'{text}' is listed twice, at index {earlier} and {id}.", nameof(addresses));
            }
        }

        LongestProbe = LongestRun() + 1;
    }

    /// <summary>How many addresses there are.</summary>
    public int Count => _addresses.Length;

    /// <summary>The most slots any lookup visits before it gives up.</summary>
    public int LongestProbe { get; }

    /// <summary>The id of an address: its index in the list given; -1 when it is not there.</summary>
    public int Find(ReadOnlySpan<byte> address)
    {
        if (address.Length > _longest)
            return -1;
        var key = OscAddressKey.Of(address);
        var hash = key.Hash(address);
        return FindFrom(address, key, hash);
    }

    private int FindFrom(ReadOnlySpan<byte> address, in OscAddressKey key, ulong hash)
    {
        var slots = _slots;
        var index = (int)(hash >> _shift);
        var tag = Slot.TagOf(hash);
        while (true)
        {
            var slot = slots[index];
            if (slot.Number == 0)
                return -1;
            if (slot.Tag == tag)
            {
                var id = slot.Number - 1;
                if (key.IsSameAs(_keys[id])
                    && (address.Length <= OscAddressKey.Complete || address.SequenceEqual(_addresses[id])))
                    return id;
            }

            index = (index + 1) & (slots.Length - 1);
        }
    }

    /// <summary>Adds an address, or gives the id it already has.</summary>
    private int Add(int id)
    {
        var address = _addresses[id];
        var key = OscAddressKey.Of(address);
        var hash = key.Hash(address);
        if (FindFrom(address, key, hash) is var earlier and >= 0)
            return earlier;
        _keys[id] = key;
        var index = (int)(hash >> _shift);
        while (_slots[index].Number != 0)
            index = (index + 1) & (_slots.Length - 1);
        _slots[index] = new Slot(Slot.TagOf(hash), id + 1);
        return id;
    }

    /// <summary>The most occupied slots in a row, round the end; at most half of the slots are occupied.</summary>
    private int LongestRun()
    {
        int run = 0, longest = 0;
        for (var i = 0; i < _slots.Length * 2; i++)
        {
            run = _slots[i & (_slots.Length - 1)].Number == 0 ? 0 : run + 1;
            longest = Math.Max(longest, run);
        }

        return longest;
    }

    /// <summary>Part of the hash, to pass over other addresses without looking at them; the id plus one, 0 for none.</summary>
    [StructLayout(LayoutKind.Sequential)]
    private readonly record struct Slot(uint Tag, int Number)
    {
        public static uint TagOf(ulong hash) => unchecked((uint)hash);
    }
}
