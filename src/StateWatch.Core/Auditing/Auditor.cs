using StateWatch.Core.Auditing.Margins;
using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing;

/// <summary>Judges a desk by a plan. Pure: the same plan, state and phase always give the same verdict.</summary>
public sealed class Auditor
{
    private readonly AuditFacts _facts;
    private readonly List<RuleCheck> _checks = [];
    private readonly List<RuleInfo> _notApplicable = [];
    private readonly bool[] _claimed;

    /// <summary>Enumerates every check of every rule for a plan.</summary>
    public Auditor(ShowPlan plan)
    {
        _facts = new AuditFacts(plan);
        _claimed = new bool[plan.Profile.Settings.Count];
        foreach (var rule in RuleCatalogue.Families)
        {
            var before = _checks.Count;
            _checks.AddRange(rule.ChecksFor(_facts));
            var used = _checks.Skip(before).Select(check => check.Rule.Id).ToHashSet(StringComparer.Ordinal);
            _notApplicable.AddRange(rule.Rules.Where(info => !used.Contains(info.Id)));
        }

        Inputs = [.. plan.Expectations.Select(item => item.Setting).Concat(_checks.SelectMany(check => check.Inputs)).Concat(_facts.Flow.Wanted).Concat(_facts.Loops.References.Settings).Distinct()];
    }

    /// <summary>Every setting that must be read to judge: expectations and rule inputs.</summary>
    public IReadOnlyList<int> Inputs { get; }

    /// <summary>Judges a state.</summary>
    /// <param name="state">What was read.</param>
    /// <param name="day">The day where the show is, by which measured references expire; null when no day counts.</param>
    public AuditResult Judge(DeskState state, DateOnly? day = null)
    {
        var violated = new List<RuleCheck>();
        var undecided = new List<Undecided>();
        var evaluated = 0;
        Array.Clear(_claimed);
        _facts.Flow.Load(state);
        _facts.Loops.Load(state, day);
        foreach (var check in _checks)
        {
            if (!AllFresh(check, state))
            {
                if (!check.PassesOverUnseen)
                    undecided.Add(new Undecided(check.Rule.Id, check.SubjectPath(state) ?? PathOf(check.Subject), [.. check.Inputs.Where(id => !state.IsFresh(id)).Select(PathOf)]));
                continue;
            }

            evaluated++;
            // One fault is told once: what an earlier rule said of a setting explains its drift.
            if (!check.IsViolated(state) || (check.YieldsToOthers && _claimed[check.Subject]))
                continue;
            violated.Add(check);
            _claimed[check.Subject] |= check.ClaimsSubject;
            foreach (var explained in check.ExplainsIn(state))
                _claimed[explained] = true;
        }

        var findings = new List<Finding>();
        foreach (var check in violated)
        {
            var severity = SeverityOf(check, state);
            if (severity != Severity.Silent)
                findings.Add(Report(check, severity, state));
        }

        findings.Sort((a, b) => a.Severity != b.Severity ? b.Severity.CompareTo(a.Severity) : string.CompareOrdinal(a.Id, b.Id));
        var causes = CauseGrouping.Group(_facts, findings);
        var causeOf = causes.SelectMany(cause => cause.Findings.Select(finding => (finding.Id, cause.Id))).ToDictionary(pair => pair.Item1, pair => pair.Item2, StringComparer.Ordinal);
        findings = [.. findings.Select(finding => finding with { CauseId = causeOf[finding.Id] })];
        return new AuditResult(findings, causes, evaluated, undecided, _notApplicable) { Margins = MarginList.Of(_facts) };
    }

    private static bool AllFresh(RuleCheck check, DeskState state)
    {
        foreach (var input in check.Inputs)
        {
            if (!state.IsFresh(input))
                return false;
        }

        return true;
    }

    private Severity SeverityOf(RuleCheck check, DeskState state)
    {
        var phase = _facts.Plan.Phase;
        var setting = _facts.Profile.Settings[check.Subject];
        var settingClass = setting.Kind.Class;
        var severity = check is DriftCheck ? DriftSeverities.Of(settingClass).In(phase) : check.Rule.Severity.In(phase);
        if (phase == Phase.Show && severity > Severity.Notice && check.MayBeMomentary(state))
            severity = Severity.Notice;
        if (severity > check.Most(state))
            severity = check.Most(state);
        if (check.Rule.Kind == FindingKind.Risk)
            return severity;
        return _facts.Plan.LockOf(check.Subject) switch
        {
            PhaseLock.Free => Severity.Silent,
            // A guard is an envelope around a number; phantom power and pads have none.
            PhaseLock.Guarded when setting.Codec.Kind is ValueKind.Level or ValueKind.Number => severity == Severity.Silent ? Severity.Silent : Severity.Notice,
            _ => severity,
        };
    }

    private Finding Report(RuleCheck check, Severity severity, DeskState state)
    {
        var setting = _facts.Profile.Settings[check.Subject];
        var strip = _facts.Profile.Strips[setting.Strip];
        var expectation = _facts.Plan.For(check.Subject);
        var subject = check.SubjectPath(state) ?? setting.Path;
        var id = $"{check.Rule.Id}:{subject}";
        var words = check.Describe(_facts, state);
        return new Finding(id, check.Rule, subject, setting.Kind.Class, severity, strip.Path, _facts.NameOf(strip), setting.Path,
            check.Shown?.Planned ?? (expectation is null ? null : AllowedText.Of(expectation, _facts.Profile)), check.Shown?.Live ?? _facts.Profile.Format(state[check.Subject]),
            words with { What = _facts.Opening(strip, words.What), CauseName = Sentences.Capital(words.CauseName) }, check.Shown?.At ?? expectation?.At, id);
    }

    private string PathOf(int setting) => _facts.Profile.Settings[setting].Path;
}
