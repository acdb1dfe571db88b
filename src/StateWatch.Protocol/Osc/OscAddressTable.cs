using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Text;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Finds the dense id of an address among those of a desk. Built once; lookups allocate nothing, may run from several threads, and look
/// at one place for any bytes of 8 to 32.
/// </summary>
/// <remarks>
/// Hash and displace: every address hashes into a small group, and each group has a displacement, found when the table is built, that
/// sends its members to free places. A lookup so needs one small table that stays in the nearest cache, and one place in the large one.
/// </remarks>
public sealed class OscAddressTable
{
    /// <summary>The most addresses that a table takes.</summary>
    public const int MaximumCount = (1 << IdBits) - 1;

    private const int IdBits = 20;
    private const uint IdMask = MaximumCount;
    private const int GroupSize = 4;
    private const int KeySize = 32;

    private readonly ushort[] _displacements;
    // Keys of 32 bytes at addresses that are multiples of 32, so that none lies in two lines of the cache; the array is pinned.
    private readonly byte[] _keys;
    private readonly nuint _keysStart;

    /// <summary>For each place the length of its address above, its id below; 0 for none, as no address in it is that short.</summary>
    private readonly uint[] _marks;

    /// <summary>Addresses too short or too long for a key, and any that found no place.</summary>
    private readonly Dictionary<byte[], int>.AlternateLookup<ReadOnlySpan<byte>> _others;

    /// <summary>Builds the table.</summary>
    /// <param name="addresses">Each address once; its index is its id. The arrays are not copied and must not change.</param>
    /// <exception cref="ArgumentException">An address is listed twice, or there are more than <see cref="MaximumCount"/>.</exception>
    public OscAddressTable(IReadOnlyList<byte[]> addresses)
    {
        ArgumentNullException.ThrowIfNull(addresses);
        if (addresses.Count > MaximumCount)
            throw new ArgumentException($"There are {addresses.Count} addresses; at most {MaximumCount} are taken.", nameof(addresses));
        Count = addresses.Count;
        var others = new Dictionary<byte[], int>(OscAddressComparer.Instance);
        _others = others.GetAlternateLookup<ReadOnlySpan<byte>>();
        var places = (int)BitOperations.RoundUpToPowerOf2((uint)Math.Max(Count + (Count / 4), 8));
        _keys = GC.AllocateArray<byte>((places + 1) * KeySize, pinned: true);
        _keysStart = unchecked((nuint)(-Marshal.UnsafeAddrOfPinnedArrayElement(_keys, 0)) % KeySize);
        _marks = new uint[places];
        _displacements = new ushort[Math.Max(places / GroupSize, 2)];
        Fill(addresses, others);
    }

    /// <summary>How many addresses there are.</summary>
    public int Count { get; }

    /// <summary>The id of an address: its index in the list given; -1 when it is not there.</summary>
    public int Find(ReadOnlySpan<byte> address)
    {
        // The other lengths are out of line: this is the method that decides how many messages a second can be taken.
        if (address.Length is < OscAddressKey.Least or > OscAddressKey.Complete)
            return FindOther(address);
        var key = new OscAddressKey(address, out var hash);
        // The lengths of the three arrays are powers of two, so what is masked by one less is inside. Checking again was measured.
        var displacement = At(_displacements, GroupOf(hash));
        var place = PlaceOf(hash, displacement);
        if (key.IsSameAs(KeyAt(place)))
        {
            var mark = At(_marks, place);
            if (mark >> IdBits == unchecked((uint)address.Length))
                return unchecked((int)(mark & IdMask));
        }

        return _others.Dictionary.Count == 0 ? -1 : FindOther(address);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ref T At<T>(T[] array, uint number) =>
        ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(array), unchecked(number & (uint)(array.Length - 1)));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private ref OscAddressKey KeyAt(uint place) => ref Unsafe.As<byte, OscAddressKey>(ref Unsafe.Add(
        ref MemoryMarshal.GetArrayDataReference(_keys), unchecked(_keysStart + ((nuint)(place & (uint)(_marks.Length - 1)) * KeySize))));

    private static uint GroupOf(OscAddressHash hash) => hash.One >> 7;

    private static uint PlaceOf(OscAddressHash hash, uint displacement) => unchecked(hash.Other + (displacement * (hash.One | 1)));

    private int FindOther(ReadOnlySpan<byte> address) => _others.TryGetValue(address, out var id) ? id : -1;

    private void Fill(IReadOnlyList<byte[]> addresses, Dictionary<byte[], int> others)
    {
        var groups = new List<int>?[_displacements.Length];
        for (var id = 0; id < addresses.Count; id++)
        {
            if (addresses[id].Length is < OscAddressKey.Least or > OscAddressKey.Complete)
            {
                AddOther(addresses, others, id);
                continue;
            }

            _ = new OscAddressKey(addresses[id], out var hash);
            (groups[GroupOf(hash) & (uint)(groups.Length - 1)] ??= []).Add(id);
        }

        // The large groups first, while there is most room.
        foreach (var group in groups.Select((members, index) => (members, index)).Where(group => group.members is not null).OrderByDescending(group => group.members!.Count))
            PlaceGroup(addresses, others, group.index, group.members!);
    }

    private void PlaceGroup(IReadOnlyList<byte[]> addresses, Dictionary<byte[], int> others, int group, List<int> members)
    {
        RefuseTwins(addresses, members);
        var hashes = members.ConvertAll(id =>
        {
            _ = new OscAddressKey(addresses[id], out var hash);
            return hash;
        });
        Span<int> places = members.Count <= 64 ? stackalloc int[members.Count] : new int[members.Count];
        for (var displacement = 0; displacement <= ushort.MaxValue; displacement++)
        {
            if (!TryPlace(hashes, (uint)displacement, places))
                continue;
            _displacements[group] = (ushort)displacement;
            for (var i = 0; i < places.Length; i++)
            {
                KeyAt((uint)places[i]) = new OscAddressKey(addresses[members[i]], out _);
                _marks[places[i]] = ((uint)addresses[members[i]].Length << IdBits) | (uint)members[i];
            }

            return;
        }

        // Only hashes that agree in all bits that count come here; they are as right in the slower table.
        foreach (var id in members)
            AddOther(addresses, others, id);
    }

    private bool TryPlace(List<OscAddressHash> hashes, uint displacement, Span<int> places)
    {
        for (var i = 0; i < hashes.Count; i++)
        {
            var place = unchecked((int)PlaceOf(hashes[i], displacement) & (_marks.Length - 1));
            if (_marks[place] != 0 || places[..i].Contains(place))
                return false;
            places[i] = place;
        }

        return true;
    }

    private static void RefuseTwins(IReadOnlyList<byte[]> addresses, List<int> members)
    {
        for (var i = 1; i < members.Count; i++)
        {
            for (var j = 0; j < i; j++)
            {
                if (addresses[members[i]].AsSpan().SequenceEqual(addresses[members[j]]))
                    throw Twins(addresses, members[j], members[i]);
            }
        }
    }

    private static void AddOther(IReadOnlyList<byte[]> addresses, Dictionary<byte[], int> others, int id)
    {
        if (!others.TryAdd(addresses[id], id))
            throw Twins(addresses, others[addresses[id]], id);
    }

    private static ArgumentException Twins(IReadOnlyList<byte[]> addresses, int earlier, int later) =>
        new($"'{Encoding.Latin1.GetString(addresses[later])}' is listed twice, at index {earlier} and {later}.", nameof(addresses));
}
