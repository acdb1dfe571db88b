using StateWatch.Core.Auditing.Margins;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Auditing;

/// <summary>
/// Follows a desk by a plan: tell it which settings changed, then judge; only checks that a change reaches are looked at, and what they say is
/// exactly what judging everything anew would say. Checks go by number, in the order in which they are judged. Allocates nothing in
/// <see cref="Changed"/> and <see cref="Judge"/> once its lists are as long as they need to be; words are made only when they are asked for. Used by
/// one thread at a time.
/// </summary>
public sealed class LiveAudit
{
    private readonly RuleChecks _checks;
    private readonly CheckStandings _standings;
    private DeskState? _state;
    private uint _generation;

    /// <summary>Enumerates every check of every rule for a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="baseline">
    /// For a watch, the levels at the end of the phase from which guards measure, as <see cref="TakeBaseline"/> gave them; empty when there are none, then guards
    /// measure from the plan, as they do for a source that did not arrive then. Null for a sweep, which sees one moment and knows only the plan.
    /// </param>
    /// <param name="rules">The rules; null for all there are.</param>
    public LiveAudit(ShowPlan plan, IReadOnlyList<BaselineLevel>? baseline = null, IReadOnlyList<IAuditRule>? rules = null)
    {
        _checks = new RuleChecks(plan, baseline, rules);
        _standings = new CheckStandings(_checks);
    }

    /// <summary>The plan.</summary>
    public ShowPlan Plan => _checks.Facts.Plan;

    /// <summary>Every setting that must be read to judge: expectations and rule inputs.</summary>
    public IReadOnlyList<int> Inputs => _checks.Inputs;

    /// <summary>How many checks there are.</summary>
    public int Count => _checks.Count;

    /// <summary>How many checks the last judgement looked at.</summary>
    public int Looked => _standings.Looked;

    /// <summary>
    /// The checks that the last judgement began to tell, ceased to tell or tells with another severity, rising: compare
    /// <see cref="SeverityBefore"/> with <see cref="SeverityOf"/>, in which silent means not told. Valid until the next judgement.
    /// </summary>
    public ReadOnlySpan<int> Reports => _standings.Changed;

    /// <summary>
    /// The checks of which the last judgement changed anything, told or not: verdict, severity, now or when it lasts, or how far away they are; rising. Valid until the next judgement.
    /// </summary>
    public ReadOnlySpan<int> Moved => _standings.Moved;

    /// <summary>How many judgements there were.</summary>
    public long Judgements { get; private set; }

    /// <summary>
    /// Gets a rule that threw while it judged, on the thread that judges, as often as it happens: the check cannot tell then, and all others go on. Null, as for a sweep, lets
    /// what was thrown through.
    /// </summary>
    public Action<RuleInfo, Exception>? Failed
    {
        get;
        set
        {
            field = value;
            _standings.Failed = value is null ? null : (check, problem) => value(RuleOf(check), problem);
        }
    }

    /// <summary>The rule of a check.</summary>
    public RuleInfo RuleOf(int check) => _checks[check].Rule;

    /// <summary>Setting id of the subject of a check.</summary>
    public int SubjectOf(int check) => _checks[check].Subject;

    /// <summary>What people call the subject of a check: the part of its finding's id behind the colon.</summary>
    public string SubjectPathOf(int check, DeskState state) => _checks[check].SubjectPath(state) ?? Plan.Profile.Settings[SubjectOf(check)].Path;

    /// <summary>What a check said when it was judged last.</summary>
    public Verdict VerdictOf(int check) => _standings.VerdictOf(check);

    /// <summary>Where the state that was judged last lies, seen from the edge of what a check allows.</summary>
    public EdgeDistance DistanceOf(int check) => _standings.DistanceOf(check);

    /// <summary>How long a check must be violated before a watch tells it, where the plan says so; null for what its kind of setting needs.</summary>
    public TimeSpan? OnDelayOf(int check) => _checks[check].OnDelay;

    /// <summary>How long a check must be kept again before a watch clears it; null for what its kind of setting needs.</summary>
    public TimeSpan? OffDelayOf(int check) => _checks[check].OffDelay;

    /// <summary>How urgently a check is told; silent when it is not: not violated, explained by an earlier one, or of no weight in this phase.</summary>
    public Severity SeverityOf(int check) => _standings.SeverityOf(check);

    /// <summary>How urgently a check that is told would be told if it lasts, where people do in a show for a moment what it finds.</summary>
    public Severity LastingSeverityOf(int check) => _standings.LastingSeverityOf(check);

    /// <summary>The severity of one of <see cref="Reports"/> before the last judgement.</summary>
    public Severity SeverityBefore(int check) => _standings.SeverityBefore(check);

    /// <summary>The checks that look at a setting, by number.</summary>
    public ReadOnlySpan<int> DecidedBy(int setting) => _checks.DecidedBy(setting);

    /// <summary>Notes that a setting has another value, has become fresh, or is no longer so. A new generation of the whole state is noticed by itself.</summary>
    /// <param name="setting">Setting id.</param>
    public void Changed(int setting)
    {
        _checks.Facts.Flow.Touch(setting);
        _checks.Facts.Loops.Touch(setting);
        _checks.Facts.Levels.Touch(setting);
        _standings.Mark(setting);
    }

    /// <summary>Notes that anything may have changed.</summary>
    public void AllChanged()
    {
        _checks.Facts.Flow.TouchAll();
        _checks.Facts.Loops.TouchAll();
        _checks.Facts.Levels.TouchAll();
        _standings.MarkAll();
    }

    /// <summary>Judges what changed. What is told differently from before stands in <see cref="Reports"/>.</summary>
    /// <param name="state">The state; another one than before, or another generation, is judged whole.</param>
    /// <param name="day">The day where the show is, by which measured references expire; null when no day counts.</param>
    public void Judge(DeskState state, DateOnly? day = null)
    {
        if (!ReferenceEquals(state, _state) || state.Generation != _generation)
            AllChanged();
        (_state, _generation) = (state, state.Generation);
        var flow = _checks.Facts.Flow;
        flow.Update(state);
        _checks.Facts.Loops.Update(state, day);
        _checks.Facts.Levels.Update(state);
        foreach (var fact in flow.Facts.Take())
            _standings.Mark(fact);
        _standings.Look(state);
        Judgements++;
    }

    /// <summary>
    /// How loud every guarded source is at the feeds where it is guarded, in the state that was judged last: at the end of the phase from which guards measure,
    /// for the audits of later phases. Those of which a setting on the planned ways has no fresh value are left out.
    /// </summary>
    /// <exception cref="InvalidOperationException">Nothing was judged yet.</exception>
    public IReadOnlyList<BaselineLevel> TakeBaseline()
    {
        var state = _state ?? throw new InvalidOperationException("nothing was judged yet");
        return [.. _checks.Facts.Levels.All.Select(level => level.Take(state)).OfType<BaselineLevel>().DistinctBy(static level => (level.Feed, level.Source))];
    }

    /// <summary>Writes the finding of a check that is told, from the state that was judged last. Its cause is only itself.</summary>
    /// <param name="check">The check.</param>
    /// <exception cref="InvalidOperationException">The check is not told.</exception>
    public Finding Write(int check) => _state is not null && SeverityOf(check) != Severity.Silent
        ? FindingWriter.Write(_checks.Facts, _checks[check], SeverityOf(check), _state)
        : throw new InvalidOperationException($"check {check} is not told");

    /// <summary>The whole verdict with all words, from the state that was judged last, which must not have changed since.</summary>
    /// <exception cref="InvalidOperationException">Nothing was judged yet.</exception>
    public AuditResult Result()
    {
        var state = _state ?? throw new InvalidOperationException("nothing was judged yet");
        var findings = new List<Finding>();
        var undecided = new List<Undecided>();
        var evaluated = 0;
        for (var check = 0; check < _checks.Count; check++)
        {
            if (VerdictOf(check) != Verdict.CannotTell)
                evaluated++;
            else if (!_checks[check].PassesOverUnseen)
                undecided.Add(FindingWriter.WriteUndecided(_checks.Facts, _checks[check], state));
            if (SeverityOf(check) != Severity.Silent)
                findings.Add(Write(check));
        }

        var (grouped, causes) = FindingWriter.Group(_checks.Facts, findings);
        return new AuditResult(grouped, causes, evaluated, undecided, _checks.NotApplicable)
        {
            Margins = MarginList.Of(_checks.Facts),
            Ratios = _checks.Facts.Flow.Ratios.Read(state),
        };
    }
}
