using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>A connection that the plan does not make, judged by what arrives over it.</summary>
/// <param name="rule">The rule.</param>
/// <param name="edge">The connection's switch or patch.</param>
/// <param name="facts">What rules look up.</param>
/// <param name="byEffects">Whether ways that come back from an effect count.</param>
internal abstract class ExtraWayCheck(RuleInfo rule, Setting edge, AuditFacts facts, bool byEffects) : RuleCheck(rule, edge.Id, [edge.Id])
{
    // Of what a plan line names coverage tells.
    public override bool PassesOverUnseen { get; } = facts.Plan.For(edge.Id) is not null;

    public override IReadOnlyList<int> Facts { get; } = [facts.Flow.Extra.FactOf(edge.Id)];

    public override bool YieldsToOthers => true;

    /// <summary>The connection's switch or patch.</summary>
    protected Setting Edge { get; } = edge;

    /// <summary>What arrives over it.</summary>
    protected ExtraWays Ways => facts.Flow.Extra;

    public override bool IsViolated(DeskState state)
    {
        if (!FlowWords.IsPatch(Edge) && !state[Subject].IsOn)
            return false;
        var first = new Visitor(this, null);
        return Ways.Visit(Subject, byEffects, ref first);
    }

    /// <summary>Whether an arrival is what the rule is about. Allocates nothing.</summary>
    protected abstract bool IsMeant(ExtraWays.Arrival arrival);

    /// <summary>Everything that it is about, in the state that was judged last.</summary>
    protected List<ExtraWays.Arrival> All()
    {
        var all = new List<ExtraWays.Arrival>();
        var visitor = new Visitor(this, all);
        Ways.Visit(Subject, byEffects, ref visitor);
        return all;
    }

    // Stops at the first where nobody collects.
    private readonly struct Visitor(ExtraWayCheck check, List<ExtraWays.Arrival>? all) : ExtraWays.IVisitor
    {
        public bool Take(ExtraWays ways, ExtraWays.Arrival arrival)
        {
            if (!check.IsMeant(arrival))
                return false;
            all?.Add(arrival);
            return all is null;
        }
    }
}
