namespace StateWatch.Core.Findings;

/// <summary>What is known of a finding's subject.</summary>
public enum Evidence : byte
{
    /// <summary>It was never seen.</summary>
    Unseen,

    /// <summary>What the desk says now.</summary>
    Fresh,

    /// <summary>What the desk said once; see <see cref="StaleReason"/>.</summary>
    Stale,

    /// <summary>The desk cannot tell it.</summary>
    Unsupported,
}

/// <summary>Why evidence is not fresh.</summary>
public enum StaleReason : byte
{
    /// <summary>It is not stale.</summary>
    None,

    /// <summary>An input was not read, or the rule could not be judged.</summary>
    CannotTell,

    /// <summary>The link to the desk was lost.</summary>
    LinkLost,

    /// <summary>Messages were lost; everything is read anew.</summary>
    Gap,

    /// <summary>A new connection: nothing of the one before counts.</summary>
    NewSession,

    /// <summary>The watch was started anew.</summary>
    Restart,
}

/// <summary>Where a finding stands between on plan and off plan.</summary>
public enum Condition : byte
{
    /// <summary>On plan.</summary>
    Normal,

    /// <summary>Off plan, not yet for long enough.</summary>
    Pending,

    /// <summary>Off plan.</summary>
    Active,

    /// <summary>On plan again, not yet for long enough.</summary>
    Clearing,
}

/// <summary>Whether somebody knows of a finding.</summary>
public enum Attention : byte
{
    /// <summary>Nobody has said so.</summary>
    Unacked,

    /// <summary>Somebody has said so, and it has not got worse since.</summary>
    Acked,
}

/// <summary>Why a finding is kept from being told; any of them, several at once.</summary>
[Flags]
public enum Holds : byte
{
    /// <summary>Nothing holds it.</summary>
    None = 0,

    /// <summary>The watch has just started and has not seen the desk whole.</summary>
    Settling = 1,

    /// <summary>It is part of a bulk change, which is told instead.</summary>
    Inhibited = 2,

    /// <summary>Its value is one that an expected change permits.</summary>
    Expected = 4,

    /// <summary>Somebody put it aside for a while.</summary>
    Shelved = 8,

    /// <summary>It comes and goes too often.</summary>
    Damped = 16,

    /// <summary>Somebody took it out of service for a while.</summary>
    OutOfService = 32,
}

/// <summary>Why a finding was closed.</summary>
public enum CloseReason : byte
{
    /// <summary>The desk is on plan again.</summary>
    Recovered,

    /// <summary>The plan or the rule changed.</summary>
    PlanChanged,

    /// <summary>The phase of the day changed.</summary>
    PhaseChanged,
}
