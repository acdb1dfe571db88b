namespace StateWatch.Core.Profiles;

/// <summary>An address and the slots found for it so far.</summary>
internal sealed class EndpointParts(byte[] address)
{
    private Slot[] _slots = [];
    private int _count;

    public byte[] Address { get; } = address;

    public ReadOnlySpan<Slot> Slots => _slots.AsSpan(0, _count);

    public void Add(Slot slot, int expected)
    {
        if (_count == _slots.Length)
            Array.Resize(ref _slots, _count == 0 ? expected : 2 * _count);
        _slots[_count++] = slot;
    }

    public Slot[] SortedSlots()
    {
        if (_slots.Length != _count)
            Array.Resize(ref _slots, _count);
        if (_count > 1)
            Array.Sort(_slots, static (a, b) => a.Argument != b.Argument ? a.Argument.CompareTo(b.Argument) : a.Bit.CompareTo(b.Bit));
        return _slots;
    }
}
