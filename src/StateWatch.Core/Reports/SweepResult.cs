using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Links;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Reports;

/// <summary>The verdict in a word.</summary>
public enum Verdict
{
    /// <summary>Everything planned was verified and is met.</summary>
    AsPlanned,

    /// <summary>Warnings or notices only.</summary>
    Warnings,

    /// <summary>At least one urgent finding.</summary>
    Urgent,

    /// <summary>Not everything could be verified, and nothing urgent was found.</summary>
    Incomplete,
}

/// <summary>A planned setting without a fresh value.</summary>
/// <param name="Setting">Its path.</param>
/// <param name="Reason">Why, in words.</param>
public sealed record UnseenSetting(string Setting, string Reason);

/// <summary>What a sweep was told to do, for the report.</summary>
/// <param name="Plan">The compiled plan.</param>
/// <param name="DeskAddress">Where the desk was read: <c>127.0.0.1:9048</c>.</param>
/// <param name="Simulated">Whether a virtual desk was read.</param>
/// <param name="At">When the sweep began.</param>
public sealed record SweepSubject(ShowPlan Plan, string DeskAddress, bool Simulated, DateTimeOffset At)
{
    /// <summary>The day by which waivers and measured couplings count, where it is not that of <see cref="At"/>.</summary>
    public DateOnly? By { get; init; }

    /// <summary>The day by which they count.</summary>
    public DateOnly Day => By ?? Plan.Document.DayOf(At);
}

/// <summary>
/// Everything a sweep found. Text, JSON, exit code and page all come from this one object.
/// </summary>
/// <param name="Subject">What was swept.</param>
/// <param name="Read">How reading went.</param>
/// <param name="Audit">What the audit found; empty when the desk was silent or another one.</param>
/// <param name="Planned">How many distinct settings the plan names.</param>
/// <param name="Verified">How many of them had a fresh value.</param>
/// <param name="Unseen">The others.</param>
/// <param name="Link">What the link saw.</param>
/// <param name="Decoded">What the decoder made of it.</param>
/// <param name="AuditTime">How long judging took.</param>
public sealed record SweepResult(SweepSubject Subject, ReadReport Read, AuditResult Audit, int Planned, int Verified,
    IReadOnlyList<UnseenSetting> Unseen, LinkCounters Link, DecodeCounters Decoded, TimeSpan AuditTime)
{
    /// <summary>What no desk can tell, for a person to look at; it changes neither verdict nor exit code.</summary>
    public IReadOnlyList<string> ByEye => ByEyeList.Of(Subject.Plan);

    /// <summary>The plan's waivers and what became of them; they change neither verdict nor exit code.</summary>
    public IReadOnlyList<WaiverStatus> Waivers => WaiverStatus.Of(this);

    /// <summary>Whether everything planned was seen and every rule could be judged.</summary>
    public bool Complete => Read.End is ReadEnd.Complete or ReadEnd.Partial && Unseen.Count == 0 && Audit.CannotTell.Count == 0 && Planned > 0;

    /// <summary>The verdict; precedence urgent, incomplete, warnings, as planned.</summary>
    public Verdict Verdict => Audit.Findings.Any(finding => finding.Severity == Severity.Urgent) ? Verdict.Urgent
        : !Complete ? Verdict.Incomplete
        : Audit.Findings.Count > 0 ? Verdict.Warnings
        : Verdict.AsPlanned;

    /// <summary>The exit code: 0 as planned, 1 warnings, 2 urgent, 3 incomplete (the convention of monitoring plug-ins).</summary>
    public int ExitCode => Verdict switch
    {
        Verdict.AsPlanned => 0,
        Verdict.Warnings => 1,
        Verdict.Urgent => 2,
        _ => 3,
    };
}
