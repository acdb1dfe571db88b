using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Auditing;

/// <summary>
/// Every (rule, subject) of a plan by number, in the order in which they are judged; and, as compressed rows, which of them a setting or a
/// derived fact decides. Immutable, but for the flow in its facts.
/// </summary>
internal sealed class RuleChecks
{
    private readonly RuleCheck[] _checks;
    private readonly CompressedRows _inputs;
    private readonly CompressedRows _decided;
    private readonly CompressedRows _yielding;

    /// <summary>Enumerates every check of every rule for a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="baseline">For a watch, the levels that guards measure from; null for a sweep.</param>
    /// <param name="rules">The rules; null for all there are.</param>
    public RuleChecks(ShowPlan plan, IReadOnlyList<BaselineLevel>? baseline = null, IReadOnlyList<IAuditRule>? rules = null)
    {
        Facts = new AuditFacts(plan, baseline);
        // They give out numbers of facts, of which no more may come once the rows are made.
        _ = Facts.Levels;
        var checks = new List<RuleCheck>();
        var notApplicable = new List<RuleInfo>();
        var used = new HashSet<string>(StringComparer.Ordinal);
        foreach (var rule in rules ?? RuleCatalogue.Families)
        {
            used.Clear();
            foreach (var check in rule.ChecksFor(Facts))
            {
                checks.Add(check);
                used.Add(check.Rule.Id);
            }

            notApplicable.AddRange(rule.Rules.Where(info => !used.Contains(info.Id)));
        }

        _checks = [.. checks];
        NotApplicable = notApplicable;
        List<(int Row, int Item)> inputs = [], decided = [], yielding = [];
        for (var number = 0; number < _checks.Length; number++)
        {
            foreach (var input in _checks[number].Inputs)
            {
                inputs.Add((number, input));
                decided.Add((input, number));
            }

            foreach (var fact in _checks[number].Facts)
                decided.Add((fact, number));
            if (_checks[number].YieldsToOthers)
                yielding.Add((_checks[number].Subject, number));
        }

        var settings = plan.Profile.Settings.Count;
        _inputs = new CompressedRows(_checks.Length, inputs);
        _decided = new CompressedRows(Facts.Flow.Facts.End, decided);
        _yielding = new CompressedRows(settings, yielding);
        Inputs = DistinctInputs(inputs, new bool[settings]);
    }

    /// <summary>What rules look up.</summary>
    public AuditFacts Facts { get; }

    /// <summary>How many checks there are.</summary>
    public int Count => _checks.Length;

    /// <summary>Rules the plan or profile gives no data for.</summary>
    public IReadOnlyList<RuleInfo> NotApplicable { get; }

    /// <summary>Every setting that must be read to judge: expectations and rule inputs.</summary>
    public IReadOnlyList<int> Inputs { get; }

    /// <summary>A check.</summary>
    public RuleCheck this[int number] => _checks[number];

    /// <summary>The settings a check needs.</summary>
    public ReadOnlySpan<int> InputsOf(int number) => _inputs[number];

    /// <summary>The checks that a setting or derived fact decides.</summary>
    public ReadOnlySpan<int> DecidedBy(int settingOrFact) => _decided[settingOrFact];

    /// <summary>The checks on a setting that are not told when an earlier one explains it.</summary>
    public ReadOnlySpan<int> YieldingAt(int setting) => _yielding[setting];

    private int[] DistinctInputs(List<(int Row, int Item)> inputs, bool[] isKnown)
    {
        var distinct = new List<int>();
        foreach (var setting in Facts.Plan.Expectations.Select(item => item.Setting).Concat(inputs.Select(pair => pair.Item)).Concat(Facts.Flow.Wanted).Concat(Facts.Levels.Wanted).Concat(Facts.Loops.References.Settings))
        {
            if (isKnown[setting])
                continue;
            isKnown[setting] = true;
            distinct.Add(setting);
        }

        return [.. distinct];
    }
}
