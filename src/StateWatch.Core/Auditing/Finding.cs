using StateWatch.Core.Auditing.Margins;
using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing;

/// <summary>A drift or risk found on the live desk.</summary>
/// <param name="Id"><c>rule:subject</c>; the same fault always has the same id.</param>
/// <param name="Rule">The rule.</param>
/// <param name="Subject">Path of the subject: a setting, or what <see cref="RuleCheck.SubjectPath"/> calls it.</param>
/// <param name="Class">Class of the setting.</param>
/// <param name="Severity">How much it matters in the judged phase.</param>
/// <param name="Strip">Path of the strip, such as <c>input/12</c>.</param>
/// <param name="Name">Planned name of the strip, or null.</param>
/// <param name="Setting">Path of the setting that differs.</param>
/// <param name="Planned">What was planned, or null when no plan line names it.</param>
/// <param name="Live">What the desk has.</param>
/// <param name="Words">What people are told.</param>
/// <param name="PlanAt">The plan line, or null.</param>
/// <param name="CauseId">Id of the cause it is told under.</param>
public sealed record Finding(string Id, RuleInfo Rule, string Subject, SettingClass Class, Severity Severity, string Strip, string? Name,
    string Setting, string? Planned, string Live, FindingWords Words, Origin? PlanAt, string CauseId);

/// <summary>Findings that one act explains, told in one line.</summary>
/// <param name="Id">Stable id.</param>
/// <param name="Text">The line.</param>
/// <param name="Severity">The highest of its findings.</param>
/// <param name="Findings">Its findings: those that are told, then those that follow from them.</param>
public sealed record Cause(string Id, string Text, Severity Severity, IReadOnlyList<Finding> Findings)
{
    /// <summary>The findings people are told.</summary>
    public IReadOnlyList<Finding> Told { get; init; } = Findings;

    /// <summary>The findings that follow from those: they are counted, and listed for programs only.</summary>
    public IReadOnlyList<Finding> Folded => [.. Findings.Skip(Told.Count)];
}

/// <summary>A rule that could not be judged because inputs were not fresh.</summary>
/// <param name="Rule">The rule's id.</param>
/// <param name="Subject">Its subject.</param>
/// <param name="Missing">Paths of what was missing.</param>
public sealed record Undecided(string Rule, string Subject, IReadOnlyList<string> Missing);

/// <summary>The verdict on one state of a desk.</summary>
/// <param name="Findings">Everything found, most urgent first.</param>
/// <param name="Causes">The same, grouped.</param>
/// <param name="Evaluated">How many rule checks were decided.</param>
/// <param name="CannotTell">Rule checks that could not be decided.</param>
/// <param name="NotApplicable">Rules the plan or profile gives no data for, and those that need signal flow.</param>
public sealed record AuditResult(IReadOnlyList<Finding> Findings, IReadOnlyList<Cause> Causes, int Evaluated,
    IReadOnlyList<Undecided> CannotTell, IReadOnlyList<RuleInfo> NotApplicable)
{
    /// <summary>What can be said of feedback margins, whether or not a rule found anything.</summary>
    public IReadOnlyList<LoopMargin> Margins { get; init; } = [];

    /// <summary>What the desk makes of the plan's ratios, in the order of the plan.</summary>
    public IReadOnlyList<RatioReading> Ratios { get; init; } = [];
}
