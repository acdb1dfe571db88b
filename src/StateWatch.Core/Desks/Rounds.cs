using StateWatch.Core.Profiles;

namespace StateWatch.Core.Desks;

/// <summary>The rounds in which everything, and some of it more often, is asked again.</summary>
internal sealed class Rounds
{
    private readonly Rotation _patient;
    private readonly Rotation _eager;

    /// <summary>Prepares the rounds.</summary>
    /// <param name="wanted">Endpoints to ask.</param>
    /// <param name="follow">Which of them are asked more often.</param>
    /// <param name="times">How long the rounds take.</param>
    /// <param name="second">A second, in ticks of the clock.</param>
    public Rounds(int[] wanted, FollowSettings follow, FollowTimes times, long second)
    {
        All = _patient = new Rotation(wanted, times.Round);
        _eager = new Rotation(wanted, Math.Min(times.Round, second));
        var often = follow.Often.Intersect(wanted).ToArray();
        Often = often.Length == 0 ? null : new Rotation(often, times.OftenRound);
    }

    /// <summary>Through everything.</summary>
    public Rotation All { get; private set; }

    /// <summary>Through what is asked often; null when nothing is.</summary>
    public Rotation? Often { get; }

    /// <summary>When one of them has something to ask.</summary>
    public long NextDue => Math.Min(All.NextDue, Often?.NextDue ?? long.MaxValue);

    /// <summary>Whether everything is asked within a second.</summary>
    public bool IsHurried => ReferenceEquals(All, _eager);

    /// <summary>Begins their spacing now.</summary>
    public void Start(long now)
    {
        All.Start(now);
        Often?.Start(now);
    }

    /// <summary>Whether everything is asked within a second, because the desk does not tell what changes.</summary>
    public void Hurry(bool hurry, long now)
    {
        All = hurry ? _eager : _patient;
        All.Start(now);
    }
}
