using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing;

/// <summary>Judges single states of a desk by a plan. Pure: the same plan, state and phase always give the same verdict.</summary>
public sealed class Auditor
{
    private readonly LiveAudit _audit;

    /// <summary>Enumerates every check of every rule for a plan.</summary>
    public Auditor(ShowPlan plan) => _audit = new LiveAudit(plan);

    /// <summary>Every setting that must be read to judge: expectations and rule inputs.</summary>
    public IReadOnlyList<int> Inputs => _audit.Inputs;

    /// <summary>Judges a state.</summary>
    /// <param name="state">What was read.</param>
    /// <param name="day">The day where the show is, by which measured references expire; null when no day counts.</param>
    public AuditResult Judge(DeskState state, DateOnly? day = null)
    {
        _audit.AllChanged();
        _audit.Judge(state, day);
        return _audit.Result();
    }
}
