using StateWatch.Core.Desks;

namespace StateWatch.Core.Auditing;

/// <summary>
/// Lets findings follow a desk: what a batch of <see cref="DeskFollower"/> changed goes to <see cref="LiveAudit"/>, which then judges. A desk that was
/// lost is judged once, so that nothing is told of stale values; while it is read, half of its values are old or missing, so it is judged again only
/// when the read has ended. For one thread at a time.
/// </summary>
/// <param name="follower">Follows the desk; it must want <see cref="LiveAudit.Inputs"/>.</param>
/// <param name="audit">Judges it.</param>
public sealed class FollowedAudit(DeskFollower follower, LiveAudit audit)
{
    private bool _touched;

    /// <summary>Follows the desk.</summary>
    public DeskFollower Follower { get; } = follower;

    /// <summary>Judges it.</summary>
    public LiveAudit Audit { get; } = audit;

    /// <summary>
    /// Whether the last batch was judged; only then do <see cref="LiveAudit.Reports"/> belong to it. A check that ceased to be told because its values are not fresh
    /// has <see cref="Verdict.CannotTell"/>: that is no all-clear.
    /// </summary>
    public bool WasJudged { get; private set; }

    /// <summary>One batch.</summary>
    /// <param name="deadline">Until when to wait at the most, as a timestamp of the link's clock.</param>
    /// <param name="day">The day where the show is, by which measured references expire; null when no day counts.</param>
    /// <param name="judgesHalfRead">Whether to judge what is seen while the desk is read: when that has taken too long already.</param>
    public void Next(long deadline, DateOnly? day = null, bool judgesHalfRead = false)
    {
        Follower.Next(deadline);
        foreach (var setting in Follower.Batch.Changed)
            Audit.Changed(setting);
        _touched |= Follower.Batch.GenerationBegan || !Follower.Batch.Changed.IsEmpty;
        var wasRead = Follower.Phase == FollowPhase.Following;
        WasJudged = _touched && (wasRead || Follower.Batch.GenerationBegan || (judgesHalfRead && Follower.Phase == FollowPhase.Reading));
        if (!WasJudged)
            return;
        _touched = !wasRead;
        Audit.Judge(Follower.State, day);
    }
}
