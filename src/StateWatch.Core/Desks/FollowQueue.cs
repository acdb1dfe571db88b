using StateWatch.Core.Profiles;

namespace StateWatch.Core.Desks;

/// <summary>
/// Which question to send next while a desk is followed: at most so many in flight and so many a second, as in a full read, but without an
/// end. Identity and keep-alive go first, then what was asked for, then rotations. A question that timed out is asked again in rounds; one
/// that never was answered gets a single try until it is. Once its queues are as long as they get, it allocates nothing.
/// </summary>
internal sealed class FollowQueue
{
    private readonly Queue<int> _first = new(4);
    private readonly Queue<int> _waiting;
    private readonly Queue<(int Index, long Deadline)> _inFlight = new(1024);
    private readonly State[] _states;
    private readonly byte[] _tries;
    private readonly long[] _deadlines;
    private readonly LinkSettings _link;
    private readonly int _endpoints;
    private readonly long _timeOut;
    private readonly Pace _pace;
    private bool _oftenHadIt;
    private int _flying;

    public FollowQueue(int endpoints, LinkSettings link, long frequency)
    {
        _link = link;
        _endpoints = endpoints;
        _waiting = new Queue<int>(endpoints);
        _states = new State[endpoints + 2];
        _tries = new byte[endpoints + 2];
        _deadlines = new long[endpoints + 2];
        _timeOut = (long)(link.TimeOut.TotalSeconds * frequency);
        _pace = new Pace(frequency / link.PerSecond, first: long.MinValue);
    }

    private enum State : byte
    {
        Idle,
        Waiting,
        InFlight,
    }

    /// <summary>The place of the identity's question behind the endpoints.</summary>
    public int Identity => _endpoints;

    /// <summary>The place of the keep-alive behind the endpoints.</summary>
    public int KeepAlive => _endpoints + 1;

    /// <summary>How many answers did not come in time.</summary>
    public long TimedOut { get; private set; }

    /// <summary>Whether an answer is being waited for.</summary>
    public bool IsInFlight(int index) => _states[index] == State.InFlight;

    /// <summary>Asks something soon, unless it is about to be asked or its answer is being waited for.</summary>
    public void Ask(int index)
    {
        if (_states[index] != State.Idle)
            return;
        _states[index] = State.Waiting;
        (index >= _endpoints ? _first : _waiting).Enqueue(index);
    }

    /// <summary>Asks something soon even if an answer is being waited for, which may be too old.</summary>
    public void AskAnew(int index)
    {
        if (_states[index] == State.InFlight)
            Land(index);
        Ask(index);
    }

    /// <summary>Asks something before everything else, to see whether the desk is there.</summary>
    public void AskFirst(int index)
    {
        if (_states[index] == State.InFlight)
            Land(index);
        _states[index] = State.Waiting;
        _first.Enqueue(index);
    }

    /// <summary>The answer has come, or it came unasked.</summary>
    public void MarkAnswered(int index)
    {
        _tries[index] = 0;
        if (_states[index] == State.InFlight)
            Land(index);
    }

    /// <summary>The next question to send now.</summary>
    /// <param name="now">The time now.</param>
    /// <param name="onlyFirst">Whether identity and keep-alive only: the desk does not seem to be there.</param>
    /// <param name="often">The shorter rotation, or null while none is due.</param>
    /// <param name="round">The rotation through everything, or null while none is due.</param>
    /// <param name="index">Endpoint id, <see cref="Identity"/> or <see cref="KeepAlive"/>.</param>
    public bool TryTakeNext(long now, bool onlyFirst, Rotation? often, Rotation? round, out int index)
    {
        index = -1;
        if (now < _pace.NextDue || _flying >= _link.InFlight)
            return false;
        var found = TryDequeue(_first, out index) || (!onlyFirst && (TryDequeue(_waiting, out index) || TryRotate(now, often, round, out index)));
        if (!found)
            return false;
        if (_tries[index] < byte.MaxValue)
            _tries[index]++;
        _states[index] = State.InFlight;
        _deadlines[index] = now + _timeOut;
        _flying++;
        _inFlight.Enqueue((index, now + _timeOut));
        _pace.Take(now);
        return true;
    }

    /// <summary>The next question that is given up. Others that timed out are asked again.</summary>
    /// <param name="now">The time now.</param>
    /// <param name="silent">Whether the desk does not seem to be there: then nothing is given up.</param>
    /// <param name="index">Endpoint id, <see cref="Identity"/> or <see cref="KeepAlive"/>.</param>
    public bool TryGiveUp(long now, bool silent, out int index)
    {
        while (_inFlight.TryPeek(out var oldest))
        {
            index = oldest.Index;
            var current = _states[index] == State.InFlight && _deadlines[index] == oldest.Deadline;
            if (current && oldest.Deadline > now)
                break;
            _ = _inFlight.Dequeue();
            if (!current)
                continue;
            Land(index);
            TimedOut++;
            if (index >= _endpoints || (!silent && _tries[index] >= _link.Rounds))
                return true;
            if (silent && _tries[index] > 0)
                _tries[index]--;
            Ask(index);
        }

        index = -1;
        return false;
    }

    /// <summary>When something is to be done even if nothing comes in.</summary>
    public long NextDeadline(bool onlyFirst, long rotationDue)
    {
        var deadline = _inFlight.TryPeek(out var oldest) ? oldest.Deadline : long.MaxValue;
        if (_flying >= _link.InFlight)
            return deadline;
        if (_first.Count > 0 || (!onlyFirst && _waiting.Count > 0))
            return Math.Min(deadline, _pace.NextDue);
        return onlyFirst ? deadline : Math.Min(deadline, Math.Max(rotationDue, _pace.NextDue));
    }

    /// <summary>Forgets everything that waits or is in flight.</summary>
    public void Clear()
    {
        _first.Clear();
        _waiting.Clear();
        _inFlight.Clear();
        Array.Clear(_states);
        Array.Clear(_tries);
        _flying = 0;
    }

    private void Land(int index)
    {
        _states[index] = State.Idle;
        _flying--;
    }

    private bool TryDequeue(Queue<int> queue, out int index)
    {
        while (queue.TryDequeue(out index))
        {
            if (_states[index] == State.Waiting)
                return true;
        }

        return false;
    }

    // Both rotations in turn, so that a short round that the pace cannot keep does not stop the other one.
    private bool TryRotate(long now, Rotation? often, Rotation? round, out int index)
    {
        var (first, second) = _oftenHadIt ? (round, often) : (often, round);
        var fromFirst = TryTakeIdle(now, first, out index);
        if (!fromFirst && !TryTakeIdle(now, second, out index))
            return false;
        _oftenHadIt = ReferenceEquals(fromFirst ? first : second, often);
        return true;
    }

    private bool TryTakeIdle(long now, Rotation? rotation, out int index)
    {
        index = -1;
        while (rotation is not null && rotation.TryTake(now, out index))
        {
            if (_states[index] == State.Idle)
                return true;
        }

        return false;
    }
}
