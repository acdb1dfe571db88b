using StateWatch.Core.Profiles;

namespace StateWatch.Core.Desks;

/// <summary>
/// Which question to send next: at most so many in flight and so many a second; a question that timed out waits for the next round,
/// behind all that were not asked yet, until its rounds are used up.
/// </summary>
internal sealed class AskQueue
{
    private readonly Queue<int> _waiting = new();
    private readonly Queue<(int Endpoint, long Deadline)> _inFlight = new();
    private readonly State[] _states;
    private readonly byte[] _tries;
    private readonly LinkSettings _link;
    private readonly TimeProvider _clock;
    private readonly long _timeOut;
    private readonly Pace _pace;
    private int _flying;

    public AskQueue(int endpoints, IEnumerable<int> wanted, LinkSettings link, TimeProvider clock)
    {
        _link = link;
        _clock = clock;
        _states = new State[endpoints];
        _tries = new byte[endpoints];
        _timeOut = (long)(link.TimeOut.TotalSeconds * clock.TimestampFrequency);
        _pace = new Pace(clock.TimestampFrequency / link.PerSecond, first: 0);
        foreach (var endpoint in wanted)
        {
            if (_states[endpoint] != State.NotWanted)
                continue;
            _states[endpoint] = State.Waiting;
            _waiting.Enqueue(endpoint);
            Count++;
        }
    }

    private enum State : byte
    {
        NotWanted,
        Waiting,
        InFlight,
        Answered,
        GivenUp,
    }

    /// <summary>How many different questions there are.</summary>
    public int Count { get; }

    /// <summary>How many are answered.</summary>
    public int Answered { get; private set; }

    /// <summary>A question that the desk is known to answer, or null.</summary>
    public int? LastAnswered { get; private set; }

    /// <summary>How many were given up.</summary>
    public int GivenUp { get; private set; }

    public bool IsDone => Answered + GivenUp == Count;

    /// <summary>The next question to send now, if window and pace allow one.</summary>
    public bool TryTakeNext(out int endpoint)
    {
        var now = _clock.GetTimestamp();
        Expire(now);
        endpoint = -1;
        if (_flying >= _link.InFlight || now < _pace.NextDue)
            return false;
        while (_waiting.TryDequeue(out endpoint))
        {
            if (_states[endpoint] != State.Waiting)
                continue;
            _states[endpoint] = State.InFlight;
            _tries[endpoint]++;
            _flying++;
            _inFlight.Enqueue((endpoint, now + _timeOut));
            _pace.Take(now);
            return true;
        }

        return false;
    }

    /// <summary>When something is to be done even if nothing comes in.</summary>
    public long NextDeadline()
    {
        var deadline = _inFlight.TryPeek(out var oldest) ? oldest.Deadline : long.MaxValue;
        return _waiting.Count > 0 && _flying < _link.InFlight ? Math.Min(deadline, _pace.NextDue) : deadline;
    }

    public void MarkAnswered(int endpoint)
    {
        switch (_states[endpoint])
        {
            case State.InFlight:
                _flying--;
                break;
            case State.GivenUp:
                GivenUp--;
                break;
            case State.NotWanted or State.Answered:
                return;
        }

        _states[endpoint] = State.Answered;
        LastAnswered = endpoint;
        Answered++;
    }

    public bool WasAsked(int endpoint) => _tries[endpoint] > 0;

    public IEnumerable<int> Unanswered()
    {
        for (var endpoint = 0; endpoint < _states.Length; endpoint++)
        {
            if (_states[endpoint] is not (State.NotWanted or State.Answered))
                yield return endpoint;
        }
    }

    // All time-outs are equal, so the oldest question is the first to expire.
    private void Expire(long now)
    {
        while (_inFlight.TryPeek(out var oldest) && (oldest.Deadline <= now || _states[oldest.Endpoint] == State.Answered))
        {
            _ = _inFlight.Dequeue();
            if (_states[oldest.Endpoint] != State.InFlight)
                continue;
            _flying--;
            if (_tries[oldest.Endpoint] >= _link.Rounds)
            {
                _states[oldest.Endpoint] = State.GivenUp;
                GivenUp++;
            }
            else
            {
                _states[oldest.Endpoint] = State.Waiting;
                _waiting.Enqueue(oldest.Endpoint);
            }
        }
    }
}
