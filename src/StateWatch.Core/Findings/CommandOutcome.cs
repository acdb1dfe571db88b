namespace StateWatch.Core.Findings;

/// <summary>What became of a command.</summary>
public enum CommandOutcome : byte
{
    /// <summary>It was done.</summary>
    Done,

    /// <summary>No check of this desk has that key: look it up in the status.</summary>
    UnknownKey,

    /// <summary>Nothing is raised there: there is nothing to acknowledge, or no episode for a one-shot shelf.</summary>
    NothingRaised,

    /// <summary>It does not say who: give an author.</summary>
    NoAuthor,

    /// <summary>It does not say why: give a reason.</summary>
    NoReason,

    /// <summary>It does not end, or ends before it begins: give a time above zero.</summary>
    NoExpiry,

    /// <summary>It permits nothing, or anything at all: name keys and for each the permitted values.</summary>
    NoValues,

    /// <summary>The check is protected and may not be put aside: acknowledge it instead.</summary>
    Protected,

    /// <summary>The event is over; what is put aside would hide the next one's faults.</summary>
    EventOver,

    /// <summary>There is no such hold: it may have ended by itself.</summary>
    NotHeld,
}
