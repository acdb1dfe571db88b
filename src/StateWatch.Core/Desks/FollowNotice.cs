namespace StateWatch.Core.Desks;

/// <summary>Where the following of a desk stands.</summary>
public enum FollowPhase : byte
{
    /// <summary>Nobody, or another desk, answers. No value is fresh and none is taken in.</summary>
    Lost,

    /// <summary>The desk is read whole; values become fresh one by one.</summary>
    Reading,

    /// <summary>Everything that answers was read; changes come in.</summary>
    Following,
}

/// <summary>What is told besides changed settings.</summary>
public enum FollowEvent : byte
{
    /// <summary>The expected desk answers; a session and its full read begin.</summary>
    SessionBegan,

    /// <summary>The full read has ended: what answers is fresh, the rest was given up.</summary>
    ReadEnded,

    /// <summary>Nothing was heard for as long as the profile allows. Told once until the desk answers.</summary>
    DeskSilent,

    /// <summary>Another desk answers than the profile describes. Told once for each.</summary>
    AnotherDesk,

    /// <summary>No keep-alive was answered for as long as one lasts: changes may have been missed.</summary>
    SubscriptionLost,

    /// <summary>The desk sent a message after which everything, or a part, must be read again.</summary>
    ReadAgain,
}

/// <summary>One thing that happened to the link, in the order in which it happened.</summary>
/// <param name="Event">What.</param>
/// <param name="Session">Number of the session it belongs to; 0 before the first. Whoever compares must ignore what is of an older one.</param>
/// <param name="At">When, as a timestamp of the link's clock.</param>
/// <param name="Rule">Index of the invalidation that asks for it, or -1.</param>
/// <param name="Unanswered">Of a read that ended: how many questions stayed unanswered.</param>
public readonly record struct FollowNotice(FollowEvent Event, int Session, long At, int Rule = -1, int Unanswered = 0);

/// <summary>What following has cost so far.</summary>
/// <param name="Batches">Batches taken; the number of the last one.</param>
/// <param name="Asked">Questions sent.</param>
/// <param name="TimedOut">Questions whose answer did not come in time.</param>
/// <param name="Confirmed">Questions sent to make sure of a change.</param>
public readonly record struct FollowCounters(long Batches, long Asked, long TimedOut, long Confirmed);
