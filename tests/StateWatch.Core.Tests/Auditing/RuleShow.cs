using System.Collections.Concurrent;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>The show a rule is tried on: the demo's, or a small plan for the demo's desk where the demo gives the rule no reason.</summary>
internal sealed class RuleShow
{
    private static readonly ConcurrentDictionary<string, RuleShow> Shows = new();
    private static readonly int Phases = DemoShow.PlanText.IndexOf("\nphases:", StringComparison.Ordinal);

    private readonly ConcurrentDictionary<Phase, Lazy<Auditor>> _locked = new();
    private readonly ConcurrentDictionary<Phase, Lazy<Auditor>> _phased = new();
    private readonly string _text;
    private readonly string _phases;

    private readonly Lazy<ShowPlan> _clean;

    private readonly string? _cue;

    private RuleShow(string text, string? cue = null)
    {
        _text = text;
        _cue = cue;
        // A small plan may need phases of its own: what the show phase judges is not what the others do.
        _phases = text.Contains("\nphases:", StringComparison.Ordinal) ? "" : DemoShow.PlanText[Phases..];
        _clean = new Lazy<ShowPlan>(() => DemoShow.Compile(text + _phases, Phase.Doors, cue));
    }

    public static RuleShow Of(RuleCase item) => item.AtCue ? Shows.GetOrAdd("cue", _ => new RuleShow(CueShow.Of(DemoShow.PlanText[..Phases]), "Sermon")) : Shows.GetOrAdd(item.Plan ?? "", lines => new RuleShow(lines.Length == 0 ? DemoShow.PlanText[..Phases]
        : $"format: statewatch/show/1\nshow: Small\ndesk: ../desks/larch-48.desk.yaml\n{lines}\n"));

    /// <summary>The verdict on a changed desk by the plan without phases: everything is locked, so severities show as they are.</summary>
    public AuditResult JudgeLocked(Phase phase, string changes) =>
        _locked.GetOrAdd(phase, one => new Lazy<Auditor>(() => new Auditor(DemoShow.Compile(_text, one, _cue)))).Value.Judge(Changed(changes));

    /// <summary>The verdict on a changed desk by the plan with the demo's phases.</summary>
    public AuditResult Judge(Phase phase, string changes) =>
        _phased.GetOrAdd(phase, one => new Lazy<Auditor>(() => new Auditor(DemoShow.Compile(_text + _phases, one, _cue)))).Value.Judge(Changed(changes));

    private DeskState Changed(string changes)
    {
        var state = _cue is null ? DemoShow.PlannedDesk(_clean.Value) : CueShow.CleanDesk(_clean.Value);
        foreach (var (path, value) in RuleCase.Changes(changes))
            state.Set(path, value);
        return state;
    }
}
