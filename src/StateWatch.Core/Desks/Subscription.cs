using StateWatch.Core.Profiles;

namespace StateWatch.Core.Desks;

/// <summary>When to keep the desk sending changes, and whether it still does.</summary>
internal sealed class Subscription
{
    private readonly bool _exists;
    private readonly bool _answered;
    private readonly bool _byIdentity;
    private readonly int _endpoint;
    private readonly FollowTimes _times;
    private long _kept;

    public Subscription(DeskProfile profile, FollowTimes times)
    {
        _times = times;
        _endpoint = -1;
        if (profile.Follow.KeepAlive is not { } keepAlive)
            return;
        (_exists, _answered) = (true, keepAlive.Answered);
        _endpoint = profile.Addresses.Find(keepAlive.Address);
        _byIdentity = profile.Identity is { } identity && keepAlive.Address.AsSpan().SequenceEqual(identity.Address);
    }

    /// <summary>When the next keep-alive is due.</summary>
    public long NextAsk { get; private set; } = long.MaxValue;

    /// <summary>When it is lost unless one is answered.</summary>
    public long LostAt => _answered && !IsGivenUp ? _kept + _times.KeepAliveLasts : long.MaxValue;

    /// <summary>Whether one was answered in this session.</summary>
    public bool WasKept { get; private set; }

    /// <summary>Whether it is not counted on in this session.</summary>
    public bool IsGivenUp { get; private set; }

    /// <summary>A session begins: the first one is due at once.</summary>
    public void Begin(long now)
    {
        NextAsk = _exists ? now : long.MaxValue;
        (_kept, WasKept, IsGivenUp) = (now, false, false);
    }

    /// <summary>The session is over.</summary>
    public void End() => NextAsk = long.MaxValue;

    /// <summary>No longer counts on it, though it is still asked for.</summary>
    public void GiveUp() => IsGivenUp = true;

    public bool TryTake(long now)
    {
        if (now < NextAsk)
            return false;
        NextAsk = now + _times.KeepAliveEvery;
        return true;
    }

    /// <summary>One got lost: the desk must not forget us for the sake of a datagram.</summary>
    public void Retry(long now)
    {
        if (_answered)
            NextAsk = Math.Min(NextAsk, now);
    }

    /// <summary>Whether an answer of this endpoint is the keep-alive's.</summary>
    public bool IsKeptBy(int endpoint) => endpoint == _endpoint;

    /// <summary>Whether the identity's answer is the keep-alive's.</summary>
    public bool IsKeptByIdentity => _byIdentity;

    /// <summary>One was answered.</summary>
    /// <returns>Whether it had been given up.</returns>
    public bool Keep(long now)
    {
        var wasGivenUp = IsGivenUp;
        (_kept, WasKept, IsGivenUp) = (now, true, false);
        return wasGivenUp;
    }
}
