using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>
/// Hands outputs of one loop to the writer: one place, no waiting. While it is taken the loop keeps what comes about; only when it must let go are two joined.
/// What a watch brings that began without what is stored of its desk stays here, but for its alerts, until that could be read.
/// </summary>
/// <param name="desk">site/desk.</param>
/// <param name="filled">Called when there is something to take.</param>
internal sealed class OutputSlot(string desk, Action filled)
{
    private readonly Lock _gate = new();
    private readonly List<Alert> _unrecorded = [];
    private WatchOutput? _output;
    private WatchOutput? _held;
    private bool _isUnread;
    private bool _isBehind;

    public string Desk { get; } = desk;

    /// <summary>Whether there is room.</summary>
    public bool IsFree => Volatile.Read(ref _output) is null;

    /// <summary>What is stored of the desk could not be read: its numbers are not known, and what is stored must not be overwritten. Before anything is put here.</summary>
    public void BeginUnread() => _isUnread = true;

    /// <summary>Puts an output there, behind one that is there already.</summary>
    public void Put(WatchOutput? output)
    {
        if (output is null)
            return;
        lock (_gate)
        {
            Volatile.Write(ref _output, Behind(_output, output));
            _isBehind = false;
        }

        filled();
    }

    /// <summary>What is stored could be read: from here on outputs have its numbers, or nothing was stored. On the loop's thread, between the watch before and the one after.</summary>
    /// <param name="stored">What is stored, or null.</param>
    public void Recall(StoredDesk? stored)
    {
        lock (_gate)
        {
            _isUnread = false;
            if (stored is not null)
            {
                Hold();
                _held = _held is null ? null : RecalledDesk.Lines(_held, stored);
                // The ledger of these lines is no longer the desk's: they go with the next output.
                _isBehind = _held is not null;
            }
        }

        filled();
    }

    /// <summary>Takes what is to be stored, or null.</summary>
    public WatchOutput? Take()
    {
        lock (_gate)
        {
            if (_isUnread || _isBehind)
            {
                Hold();
                return null;
            }

            var output = Joined();
            _held = null;
            Volatile.Write(ref _output, null);
            return output;
        }
    }

    /// <summary>Takes the alerts of what was held; they go into no outbox.</summary>
    public IReadOnlyList<Alert> TakeUnrecorded()
    {
        lock (_gate)
        {
            if (_unrecorded.Count == 0)
                return [];
            Alert[] alerts = [.. _unrecorded];
            _unrecorded.Clear();
            return alerts;
        }
    }

    private static WatchOutput Behind(WatchOutput? older, WatchOutput newer) => older is null ? newer : WatchMerge.Join(older, newer);

    private WatchOutput? Joined() => _output is null ? _held : Behind(_held, _output);

    private void Hold()
    {
        if (_output is null)
            return;
        _unrecorded.AddRange(_output.Alerts);
        _held = Behind(_held, _output with { Alerts = [] });
        Volatile.Write(ref _output, null);
    }
}
