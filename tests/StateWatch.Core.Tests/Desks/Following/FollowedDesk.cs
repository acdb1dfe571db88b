using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Desks.Following;

/// <summary>A virtual desk and whoever follows it, in virtual time.</summary>
internal sealed class FollowedDesk : IDisposable
{
    public static readonly WireFaults Lossy = new()
    {
        Loss = 0.05,
        Duplicates = 0.05,
        Reordered = 0.05,
        DelayLeast = TimeSpan.FromMilliseconds(1),
        DelayMost = TimeSpan.FromMilliseconds(20),
        HeldBack = TimeSpan.FromMilliseconds(40),
    };

    public FollowedDesk(VirtualDesk desk, WireFaults? faults = null, ulong seed = 1, WireFaults? fromDesk = null)
        : this(desk, new MemoryDeskReader(desk, faults, fromDesk ?? faults, seed), new DeskState(desk.Profile), null)
    {
    }

    public FollowedDesk(VirtualDesk desk, MemoryDeskReader link, DeskState state, DeskFollower? follower)
    {
        (Desk, Link, State, Clock) = (desk, link, state, link.Clock);
        Follower = follower ?? new DeskFollower(desk.Profile, State, Link, Enumerable.Range(0, desk.Profile.Settings.Count));
    }

    public VirtualDesk Desk { get; }

    public TimeProvider Clock { get; }

    public MemoryDeskReader Link { get; }

    public DeskState State { get; }

    public DeskFollower Follower { get; }

    public DeskProfile Profile => Desk.Profile;

    /// <summary>Everything that was told, as <c>session event</c>.</summary>
    public List<string> Told { get; } = [];

    /// <summary>Takes the place of <see cref="DeskFollower.Next"/>, for whoever joins in.</summary>
    public Action<long>? NextInstead { get; init; }

    /// <summary>A Larch 48 set as the midwinter show wants it before doors.</summary>
    public static FollowedDesk Larch(WireFaults? faults = null, ulong seed = 1) => new(LarchDesk(), faults, seed);

    public static VirtualDesk LarchDesk() => SetAs(DemoShow.CleanDesk());

    public static VirtualDesk SetAs(DeskState state)
    {
        var desk = new VirtualDesk(state.Profile);
        foreach (var setting in state.Profile.Settings)
            desk.Set(setting.Id, state[setting.Id]);
        return desk;
    }

    /// <summary>Follows for a time, whatever happens.</summary>
    public void Run(double seconds, Action? each = null)
    {
        var until = Clock.GetTimestamp() + (long)(seconds * TimeSpan.TicksPerSecond);
        while (Clock.GetTimestamp() < until)
            Step(until, each);
    }

    /// <summary>Follows until something is so, and says how many seconds that took; fails when it takes longer than allowed.</summary>
    public double RunUntil(Func<bool> isSo, double mostSeconds)
    {
        var start = Clock.GetTimestamp();
        var until = start + (long)(mostSeconds * TimeSpan.TicksPerSecond);
        while (!isSo())
        {
            Assert.True(Clock.GetTimestamp() < until, $"not so after {mostSeconds} s; told: {string.Join(", ", Told)}");
            Step(until, null);
        }

        return (Clock.GetTimestamp() - start) / (double)TimeSpan.TicksPerSecond;
    }

    public double RunUntilFollowing(double mostSeconds = 10) => RunUntil(() => Follower.Phase == FollowPhase.Following, mostSeconds);

    public int Id(string path)
    {
        var id = Profile.Find(path);
        Assert.True(id >= 0, path);
        return id;
    }

    public string Get(string path) => State.IsFresh(Id(path)) ? Profile.Format(State[Id(path)]) : "unseen";

    /// <summary>Settings that are not what the desk has, or not seen.</summary>
    public IEnumerable<string> Differing() => Profile.Settings
        .Where(setting => !State.IsFresh(setting.Id) || State[setting.Id] != Desk[setting.Id]).Select(setting => setting.Path);

    public void Dispose() => Link.Dispose();

    private void Step(long until, Action? each)
    {
        if (NextInstead is null)
            Follower.Next(until);
        else
            NextInstead(until);
        foreach (var notice in Follower.Batch.Notices)
            Told.Add($"{notice.Session} {notice.Event}");
        each?.Invoke();
    }
}
