using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Reports;

/// <summary>
/// Sorts a sweep into suites: how reading went, which rules could be judged, then one suite for each setting class with one case a strip.
/// A strip that is as planned is one passed case, so that a show of thousands of settings stays readable; whatever is wrong is a case of its own.
/// </summary>
internal sealed class JunitSuites
{
    private readonly SweepResult _result;
    private readonly JunitStrips _strips;

    private JunitSuites(SweepResult result)
    {
        _result = result;
        _strips = new JunitStrips(result);
    }

    public static IReadOnlyList<JunitSuite> Of(SweepResult result)
    {
        var suites = new JunitSuites(result);
        return [suites.Reading(), suites.Rules(), .. suites._strips.Suites(), .. ByEye(result)];
    }

    private static IEnumerable<JunitSuite> ByEye(SweepResult result)
    {
        if (result.ByEye is { Count: > 0 } lines)
            yield return new JunitSuite("by eye", [], [.. lines.Select(line => new JunitCase(line, JunitOutcome.Skipped, Message: "no desk can tell; look yourself"))], "", TimeSpan.Zero);
    }

    private JunitSuite Reading()
    {
        var (subject, plan) = (_result.Subject, _result.Subject.Plan);
        (string, string)[] properties =
        [
            ("show", plan.Show),
            ("phase", Plans.Phases.Word(plan.Phase)),
            .. plan.Cue is null ? ((string, string)[])[] : [("cue", plan.Cue.Name)],
            ("desk", plan.Profile.Desk),
            ("address", subject.DeskAddress),
            ("simulated", subject.Simulated ? "yes" : "no"),
            ("verdict", _result.Verdict.Word()),
            ("exit-code", _result.ExitCode.ToString(CultureInfo.InvariantCulture)),
            ("planned", Number(_result.Planned)),
            ("verified", Number(_result.Verified)),
            ("findings", Number(_result.Audit.Findings.Count)),
        ];
        return new JunitSuite("reading", properties, [ReadCase(), PlanCase()], EngineerText.Write(_result), _result.Read.Elapsed);
    }

    private JunitCase ReadCase()
    {
        var words = _result.Read.End switch
        {
            ReadEnd.Complete or ReadEnd.Partial => null,
            ReadEnd.Silent => "the desk never answered",
            ReadEnd.FellSilent => "the desk fell silent while it was read",
            _ => $"another desk answered: '{string.Join(" ", _result.Read.Identity)}'",
        };
        var text = $"{_result.Read.Answered:N0} of {_result.Read.Questions:N0} questions answered at {_result.Subject.DeskAddress}";
        return words is null ? new JunitCase("the desk answers") : new JunitCase("the desk answers", JunitOutcome.Error, _result.Read.End.Word(), words, text);
    }

    private JunitCase PlanCase() => _result.Planned > 0
        ? new JunitCase("the plan names settings")
        : new JunitCase("the plan names settings", JunitOutcome.Error, "nothing-planned", "the plan names no setting, so nothing was verified");

    // Findings stand with their setting class; here stands only whether each rule could be judged.
    private JunitSuite Rules()
    {
        var found = _result.Audit.Findings.Select(finding => finding.Rule.Id).ToHashSet(StringComparer.Ordinal);
        var withoutData = _result.Audit.NotApplicable.Select(rule => rule.Id).ToHashSet(StringComparer.Ordinal);
        var undecided = _result.Audit.CannotTell.ToLookup(item => item.Rule, StringComparer.Ordinal);
        var judged = _result.Read.End is ReadEnd.Complete or ReadEnd.Partial or ReadEnd.FellSilent;
        var cases = new List<JunitCase>();
        foreach (var rule in RuleCatalogue.All)
        {
            var open = undecided[rule.Id].ToList();
            if (open.Count > 0)
                cases.Add(CannotTell(rule, open));
            else if (withoutData.Contains(rule.Id))
                cases.Add(new JunitCase(rule.Id, JunitOutcome.Skipped, Message: "no data for it in this plan or profile"));
            else if (!judged)
                cases.Add(new JunitCase(rule.Id, JunitOutcome.Skipped, Message: "not judged: no state of this desk was read"));
            else if (!found.Contains(rule.Id))
                cases.Add(new JunitCase(rule.Id));
        }

        return new JunitSuite("rules", [("checks", Number(_result.Audit.Evaluated)), ("cannot-tell", Number(_result.Audit.CannotTell.Count))], cases, "", _result.AuditTime);
    }

    private static JunitCase CannotTell(RuleInfo rule, List<Undecided> open) => new(rule.Id, JunitOutcome.Error, "cannot-tell",
        $"{Sentences.Count(open.Count, "check")} without fresh values",
        string.Join('\n', open.Select(item => $"{item.Subject}: missing {string.Join(", ", item.Missing)}")));

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
