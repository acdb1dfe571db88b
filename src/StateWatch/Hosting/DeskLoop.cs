using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>
/// A thread that turns one watch, from start to end. What fails in it is told and begins anew from what was stored, later each time; it never takes
/// others down. It never waits for storage.
/// </summary>
internal sealed class DeskLoop : IDisposable
{
    /// <summary>How long one turn waits for the desk; orders wait as long.</summary>
    public static readonly TimeSpan Turn = TimeSpan.FromMilliseconds(20);

    /// <summary>How long a loop may take to come round where no manager waits for it; after that what it said last is told as news no more.</summary>
    public static readonly TimeSpan Still = TimeSpan.FromSeconds(10);

    private static readonly TimeSpan[] BackOff = [.. new[] { 1, 2, 5, 10, 30, 60 }.Select(static seconds => TimeSpan.FromSeconds(seconds))];

    // Whoever ran for so long begins with the shortest pause again.
    private static readonly TimeSpan Sound = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan BetweenBeats = TimeSpan.FromSeconds(0.5);

    private readonly WaitingOrders _orders = new();
    private readonly ManualResetEventSlim _stop = new();
    private readonly OutputSlot _slot;
    private readonly StandingCopy _copy;
    private readonly LoopReports _reports;
    private readonly TimeProvider _clock;
    private readonly TimeSpan[] _pauses;
    private readonly Thread _thread;
    private volatile IWatchTurns? _turns;
    private Func<StoredDesk?, IWatchTurns> _open;
    private volatile bool _isRenewed;
    private StoredDesk? _recalled;
    private DateTimeOffset _began;
    private string _stoppedBy = "";
    private long _beat;

    /// <summary>Prepares a loop.</summary>
    /// <param name="slot">Where outputs go.</param>
    /// <param name="copy">What is stored of the desk.</param>
    /// <param name="open">Begins a watch from what is stored, on the loop's thread; what it throws is told and tried again.</param>
    /// <param name="reports">Where it says what goes wrong.</param>
    /// <param name="clock">Of the beats.</param>
    /// <param name="pauses">How long to wait before it begins anew.</param>
    public DeskLoop(OutputSlot slot, StandingCopy copy, Func<StoredDesk?, IWatchTurns> open, LoopReports reports, TimeProvider clock, TimeSpan[]? pauses = null)
    {
        (_slot, _copy, _open, _reports, _clock, _pauses) = (slot, copy, open, reports, clock, pauses ?? BackOff);
        _beat = clock.GetTimestamp();
        _thread = new Thread(Run) { IsBackground = true, Name = $"watch {slot.Desk}" };
    }

    /// <summary>site/desk.</summary>
    public string Desk => _slot.Desk;

    /// <summary>How the desk stood when the loop last came round; null before the first turn.</summary>
    public DeskStatus? Status { get; private set; }

    /// <summary>How the desk stands: of a loop that does not come round, what was known last, as lost and of this moment. Null before the first turn.</summary>
    public DeskStatus? StatusNow
    {
        get
        {
            if (IsCurrent || Status is not { } last)
                return Status;
            var now = new Moment(_clock.GetElapsedTime(0), _clock.GetUtcNow());
            return last with
            {
                At = now,
                Following = FollowPhase.Lost,
                SilentFor = now.Wall > last.At.Wall ? last.SilentFor + (now.Wall - last.At.Wall) : last.SilentFor,
                Coverage = last.Coverage with { At = now.Wall, Verified = 0 },
            };
        }
    }

    /// <summary>Whether <see cref="Status"/> is news.</summary>
    public bool IsCurrent => IsTurning && SinceBeat < Still;

    /// <summary>Whether it came round, or at least tried to begin.</summary>
    public bool HasTurned { get; private set; }

    /// <summary>Whether it turns and is not waiting to begin anew.</summary>
    public bool IsTurning => _turns is not null;

    /// <summary>For how long it did not come round.</summary>
    public TimeSpan SinceBeat => _clock.GetElapsedTime(Volatile.Read(ref _beat));

    /// <summary>Starts the thread.</summary>
    public void Start() => _thread.Start();

    /// <summary>Gives an order; it is taken in the next turn, or when the watch was begun anew.</summary>
    public void Order(WatchOrder order) => _orders.Add(order);

    /// <summary>Says how a watch is begun from now on.</summary>
    /// <param name="open">As for the constructor.</param>
    /// <param name="isAtOnce">Whether it goes on from where this one stands, between two turns; else the next time that one is begun.</param>
    public void Use(Func<StoredDesk?, IWatchTurns> open, bool isAtOnce)
    {
        Volatile.Write(ref _open, open);
        if (isAtOnce)
            _isRenewed = true;
    }

    /// <summary>What is stored of the desk could be read after all: the watch goes on with that and with what it has lived through, between two turns.</summary>
    /// <param name="stored">What is stored; null when nothing is, and then what it has so far may be stored.</param>
    public void Recall(StoredDesk? stored)
    {
        if (stored is null)
        {
            _slot.Recall(null);
            return;
        }

        Volatile.Write(ref _recalled, stored);
        _isRenewed = true;
    }

    /// <summary>Ends it in order.</summary>
    /// <param name="by">Who or what ends it.</param>
    /// <param name="patience">How long to wait for it.</param>
    /// <returns>Whether it ended.</returns>
    public bool Stop(string by, TimeSpan patience)
    {
        _stoppedBy = by;
        _stop.Set();
        return !_thread.IsAlive || _thread.Join(patience);
    }

    /// <summary>After <see cref="Stop"/>.</summary>
    public void Dispose() => _stop.Dispose();

    private void Run()
    {
        var stored = _copy.Stored;
        for (var failures = 0; !_stop.IsSet; failures++)
        {
            Beat();
            var began = _clock.GetTimestamp();
            try
            {
                stored = TurnOne(stored);
                failures = -1;
                continue;
            }
#pragma warning disable CA1031 // Whatever it is, it is this desk's alone: it is told, and the others go on.
            catch (Exception problem)
#pragma warning restore CA1031
            {
                if (_clock.GetElapsedTime(began) >= Sound)
                    failures = 0;
                HasTurned = true;
                _reports.Failed(Desk, problem, _pauses[Math.Min(failures, _pauses.Length - 1)]);
            }

            Pause(_pauses[Math.Min(failures, _pauses.Length - 1)]);
            // What was not taken of the failed watch was never told to anybody, so what was is the whole truth.
            stored = _copy.Stored;
        }
    }

    // Turns one watch until it is to stop (null) or another is to go on (what that one begins with).
    private StoredDesk? TurnOne(StoredDesk? stored)
    {
        _isRenewed = false;
        stored = Remember(stored);
        using var turns = Volatile.Read(ref _open)(stored);
        if (stored is null)
            _began = turns.Status.Since;
        try
        {
            _turns = turns;
            while (!_stop.IsSet && !_isRenewed)
            {
                while (_orders.Take() is { } order)
                    turns.Order(order);
                turns.Next(Turn);
                Beat();
                (Status, HasTurned) = (turns.Status, true);
                _reports.Turned(Desk);
                if (_slot.IsFree)
                    Put(turns.Take());
            }

            if (!_stop.IsSet)
            {
                Put(turns.Take());
                return turns.Export();
            }

            turns.End(_stoppedBy);
            Put(turns.Take());
            return null;
        }
        finally
        {
            _turns = null;
        }
    }

    private StoredDesk? Remember(StoredDesk? lived)
    {
        if (Interlocked.Exchange(ref _recalled, null) is not { } recalled)
            return lived;
        var joined = RecalledDesk.Join(recalled, lived, _began);
        _copy.Begin(joined);
        _slot.Recall(recalled);
        return joined;
    }

    private void Put(WatchOutput? output)
    {
        if (output is null)
            return;
        _copy.Take(output);
        _slot.Put(output);
    }

    private void Beat() => Volatile.Write(ref _beat, _clock.GetTimestamp());

    private void Pause(TimeSpan pause)
    {
        var began = _clock.GetTimestamp();
        for (var left = pause; left > TimeSpan.Zero && !_stop.Wait(left < BetweenBeats ? left : BetweenBeats); left = pause - _clock.GetElapsedTime(began))
            Beat();
    }
}
