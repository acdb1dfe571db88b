using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>Every shipped show's desk as planned, and with the show's incidents.</summary>
public class IncidentAuditTests
{
    public static TheoryData<string, int> Numbers
    {
        get
        {
            var data = new TheoryData<string, int>();
            foreach (var show in ShippedShow.Names)
            {
                for (var number = 0; number < ShippedShow.Of(show).Incidents.Incidents.Count; number++)
                    data.Add(show, number);
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(ShippedShow.InAllPhases), MemberType = typeof(ShippedShow))]
    public void Clean_desk_gives_no_finding(string show, Phase phase)
    {
        var shipped = ShippedShow.Of(show);
        var result = new Auditor(shipped.Plan(phase)).Judge(shipped.CleanDesk());
        Assert.Empty(result.Findings);
        Assert.Empty(result.Causes);
        Assert.Empty(result.CannotTell);
        Assert.True(result.Evaluated > 2000);
    }

    [Theory]
    [MemberData(nameof(ShippedShow.AtAllCues), MemberType = typeof(ShippedShow))]
    public void Desk_as_planned_at_a_cue_gives_no_finding(string show, string cue)
    {
        var shipped = ShippedShow.Of(show);
        var result = new Auditor(shipped.Plan(Phase.Show, cue)).Judge(shipped.DeskAt(cue));
        Assert.Empty(result.Findings);
        Assert.Empty(result.CannotTell);
    }

    [Fact]
    public void There_are_fourteen_incidents_with_as_many_expectations() =>
        Assert.Equal((14, 31), (DemoShow.Incidents.Incidents.Count, DemoShow.Incidents.Incidents.Sum(incident => incident.Expect.Count)));

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void Every_show_has_at_least_eight_incidents(string show) =>
        Assert.True(ShippedShow.Of(show).Incidents.Incidents.Count >= 8);

    [Theory]
    [MemberData(nameof(Numbers))]
    public void Incident_gives_exactly_what_it_expects(string show, int number)
    {
        var shipped = ShippedShow.Of(show);
        var incident = shipped.Incidents.Incidents[number];
        var state = shipped.CleanDesk();
        state.Apply(incident);
        Assert.Equal(incident.Expect.Order(StringComparer.Ordinal), shipped.FindingIds(state, Phase.Doors));
    }

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void All_incidents_together_give_all_they_expect(string show)
    {
        var shipped = ShippedShow.Of(show);
        var state = shipped.CleanDesk();
        foreach (var incident in shipped.Incidents.Incidents)
            state.Apply(incident);
        // Where another incident patches an output elsewhere, what must not arrive there does not: then its connection is a plain drift.
        static IEnumerable<string> Plain(IEnumerable<string> ids) => ids.Select(id => id.Replace("carried-against-plan:", "drift:", StringComparison.Ordinal)).Order(StringComparer.Ordinal);
        Assert.Equal(Plain(shipped.Incidents.Incidents.SelectMany(incident => incident.Expect)), Plain(shipped.FindingIds(state, Phase.Doors)));
    }

    [Fact]
    public void Stale_values_are_never_judged()
    {
        var state = DemoShow.CleanDesk();
        foreach (var incident in DemoShow.Incidents.Incidents)
            state.Apply(incident);
        state.StartGeneration();
        var result = new Auditor(DemoShow.Plan(Phase.Doors)).Judge(state);
        Assert.Empty(result.Findings);
        Assert.Equal(0, result.Evaluated);
        Assert.NotEmpty(result.CannotTell);
        Assert.All(result.CannotTell, item => Assert.NotEmpty(item.Missing));
    }

    [Fact]
    public void Judging_twice_gives_the_same()
    {
        var auditor = new Auditor(DemoShow.Plan(Phase.Doors));
        var state = DemoShow.CleanDesk();
        foreach (var incident in DemoShow.Incidents.Incidents)
            state.Apply(incident);
        var first = auditor.Judge(state);
        Assert.Empty(auditor.Judge(DemoShow.CleanDesk()).Findings);
        Assert.Equal(first.Findings, auditor.Judge(state).Findings);
    }
}
