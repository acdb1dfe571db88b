using StateWatch.Core.Documents;
using static StateWatch.Core.Documents.DiagnosticLevel;

namespace StateWatch.Simulator.Incidents;

/// <summary>Faults that only a file of incidents can have.</summary>
public static class IncidentCodes
{
    /// <summary>The profile does not see it.</summary>
    public static readonly DiagnosticCode SettingNotSeen = new("incident-setting-not-seen", Error,
        "An incident names a setting that the desk profile does not see.");

    /// <summary>Not a finding id.</summary>
    public static readonly DiagnosticCode BadFindingId = new("bad-finding-id", Error,
        "An expected finding is not written as rule:subject.");

    /// <summary>Expected twice.</summary>
    public static readonly DiagnosticCode FindingTwice = new("finding-expected-twice", Error,
        "One incident expects the same finding twice.");

    /// <summary>Sets nothing.</summary>
    public static readonly DiagnosticCode NothingSet = new("incident-sets-nothing", Error, "An incident changes no setting.");

    /// <summary>All of them.</summary>
    public static IReadOnlyList<DiagnosticCode> All { get; } = [SettingNotSeen, BadFindingId, FindingTwice, NothingSet];
}
