using StateWatch.Core.Profiles;

namespace StateWatch.Core.Desks;

/// <summary>The times of a profile in ticks of a clock.</summary>
internal sealed class FollowTimes
{
    // Nobody can be called lost before a second question had the time for its answer.
    private const int LeastTimeOuts = 3;

    public FollowTimes(LinkSettings link, FollowSettings follow, long frequency)
    {
        TimeOut = Ticks(link.TimeOut);
        LostAfter = Math.Max(Ticks(follow.LostAfter), LeastTimeOuts * TimeOut);
        Heartbeat = LostAfter / 3;
        Probe = Math.Max(TimeOut, frequency / 4);
        Round = Ticks(follow.Round);
        OftenRound = Ticks(follow.OftenEvery);
        KeepAliveEvery = Ticks(follow.KeepAlive?.Every ?? TimeSpan.Zero);
        KeepAliveLasts = Ticks(follow.KeepAlive?.Lasts ?? TimeSpan.Zero);
        Work = frequency / 500;

        long Ticks(TimeSpan time) => (long)(time.TotalSeconds * frequency);
    }

    /// <summary>How long an answer may take.</summary>
    public long TimeOut { get; }

    /// <summary>How long nothing may be heard.</summary>
    public long LostAfter { get; }

    /// <summary>How often the desk is asked who it is while it is followed.</summary>
    public long Heartbeat { get; }

    /// <summary>How often it is asked while nobody answers.</summary>
    public long Probe { get; }

    /// <summary>A round through everything.</summary>
    public long Round { get; }

    /// <summary>A round through what is asked often.</summary>
    public long OftenRound { get; }

    /// <summary>How often the keep-alive is sent.</summary>
    public long KeepAliveEvery { get; }

    /// <summary>How long one lasts.</summary>
    public long KeepAliveLasts { get; }

    /// <summary>The most work in one batch: 2 ms.</summary>
    public long Work { get; }
}
