namespace StateWatch.Core.Findings;

/// <summary>Every number of the life of a finding that is ours to choose. Each is a proposal, tuned by simulation.</summary>
public static class LedgerNumbers
{
    /// <summary>A switch off plan is raised after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan SwitchOn = TimeSpan.FromSeconds(0.3);

    /// <summary>A switch back on plan is cleared after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan SwitchOff = TimeSpan.FromSeconds(2);

    /// <summary>A level or number off plan is raised after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan ContinuousOn = TimeSpan.FromSeconds(2);

    /// <summary>A level or number back on plan is cleared after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan ContinuousOff = TimeSpan.FromSeconds(5);

    /// <summary>A connection, group or insert off plan is raised after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan StructuralOn = TimeSpan.FromSeconds(1);

    /// <summary>A connection, group or insert back on plan is cleared after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan StructuralOff = TimeSpan.FromSeconds(5);

    /// <summary>A ratio, which many faders add up to, is raised after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan ComputedOn = TimeSpan.FromSeconds(10);

    /// <summary>A ratio or margin, which many faders add up to, is cleared after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan ComputedOff = TimeSpan.FromSeconds(30);

    /// <summary>What people do for a moment in a show counts in full after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan MomentaryFor = TimeSpan.FromSeconds(60);

    /// <summary>What drifts again within so long of being cleared goes on with the same episode. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan ReopenWithin = TimeSpan.FromSeconds(60);

    /// <summary>An acknowledgement expires after so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan AcknowledgedFor = TimeSpan.FromMinutes(20);

    /// <summary>A shelf for which nobody says how long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan ShelvedFor = TimeSpan.FromMinutes(30);

    /// <summary>Nothing is put aside, out of service or expected for longer than this, whatever is asked for. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan HeldAtMost = TimeSpan.FromDays(30);

    /// <summary>The restlessness of a finding (one for each raise and relapse) halves in so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan RestlessHalfLife = TimeSpan.FromSeconds(120);

    /// <summary>Damped from so much restlessness on. Proposal, tuned by simulation.</summary>
    public const double DampAt = 4;

    /// <summary>Damped until no more than so much restlessness is left. Proposal, tuned by simulation.</summary>
    public const double ReleaseAt = 1;

    /// <summary>Damped until nothing has changed for so long. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan SteadyFor = TimeSpan.FromSeconds(60);

    /// <summary>Damped no longer than so long, whatever happens. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan DampedAtMost = TimeSpan.FromMinutes(15);

    /// <summary>What came and went without being told goes into a digest, so long after the first of it at the latest. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan DigestWithin = TimeSpan.FromSeconds(60);

    /// <summary>How often a damped finding is looked at. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan DampedLook = TimeSpan.FromSeconds(1);

    /// <summary>How often an urgent unstable finding is told again. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan UnstableReminder = TimeSpan.FromSeconds(60);

    /// <summary>What goes off plan is gathered for so long before any of it is told. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan Gather = TimeSpan.FromSeconds(0.5);

    /// <summary>So many within one gather are one act. Proposal, tuned by simulation.</summary>
    public const int BulkInGather = 10;

    /// <summary>The longer window in which many are one act; also how long its last member keeps it open. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan BulkWindow = TimeSpan.FromSeconds(2);

    /// <summary>So many at least within the longer window. Proposal, tuned by simulation.</summary>
    public const int BulkAtLeast = 20;

    /// <summary>And one in so many of what is watched (5 %). Proposal, tuned by simulation.</summary>
    public const int BulkOneIn = 20;

    /// <summary>A bulk change is over when fewer than one in so many of its members are still off plan. Proposal, tuned by simulation.</summary>
    public const int BulkRemainOneIn = 4;

    /// <summary>Without a full read for so long, what was seen is judged and the view is called incomplete. Proposal, tuned by simulation.</summary>
    public static readonly TimeSpan ViewWithin = TimeSpan.FromSeconds(30);
}
