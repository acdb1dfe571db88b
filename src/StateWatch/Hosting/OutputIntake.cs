using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>What is to be stored next, gathered from all slots, and the alerts that will never be in an outbox. Not for two threads at once.</summary>
internal sealed class OutputIntake
{
    private readonly List<(OutputSlot Slot, Func<WatchOutput?>? Take)> _places = [];
    private readonly Dictionary<string, WatchOutput> _kept = new(StringComparer.Ordinal);
    private readonly List<Alert> _unrecorded = [];

    /// <summary>Adds a place.</summary>
    /// <param name="slot">The slot.</param>
    /// <param name="take">Fills it, where no loop does.</param>
    public void Add(OutputSlot slot, Func<WatchOutput?>? take) => _places.Add((slot, take));

    /// <summary>Takes what is there.</summary>
    /// <param name="isFailing">Whether its alerts must not wait until it is stored.</param>
    public void Collect(bool isFailing)
    {
        foreach (var (slot, take) in _places)
        {
            slot.Put(take?.Invoke());
            if (slot.Take() is { } output)
                _kept[output.Desk] = _kept.TryGetValue(output.Desk, out var older) ? WatchMerge.Join(older, output) : output;
            _unrecorded.AddRange(slot.TakeUnrecorded());
        }

        if (!isFailing)
            return;
        foreach (var output in _kept.Values.Where(static output => output.Alerts.Count > 0).ToArray())
        {
            Release(output);
            _kept[output.Desk] = output with { Alerts = [] };
        }
    }

    /// <summary>All that is to be stored; it is not kept here any more.</summary>
    public WatchOutput[] TakeAll()
    {
        WatchOutput[] outputs = [.. _kept.Values];
        _kept.Clear();
        return outputs;
    }

    /// <summary>Puts back what could not be stored: it is older than what came meanwhile, and its alerts are told without it.</summary>
    public void PutBack(WatchOutput[] outputs)
    {
        foreach (var output in outputs.Select(static output => output with { Alerts = [] }))
            _kept[output.Desk] = _kept.TryGetValue(output.Desk, out var newer) ? WatchMerge.Join(output, newer) : output;
    }

    /// <summary>Has the alerts of an output told, though it is not stored.</summary>
    public void Release(WatchOutput output) => _unrecorded.AddRange(output.Alerts);

    /// <summary>Alerts that are to be told and are not recorded, in order.</summary>
    public Alert[] TakeUnrecorded()
    {
        Alert[] alerts = [.. _unrecorded];
        _unrecorded.Clear();
        return alerts;
    }
}
