using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>The demo desk as planned, and with the demo incidents.</summary>
public class IncidentAuditTests
{
    public static TheoryData<int> Numbers => [.. Enumerable.Range(0, DemoShow.Incidents.Incidents.Count)];

    [Theory]
    [InlineData(Phase.Build)]
    [InlineData(Phase.Soundcheck)]
    [InlineData(Phase.Doors)]
    [InlineData(Phase.Show)]
    public void Clean_desk_gives_no_finding(Phase phase)
    {
        var result = new Auditor(DemoShow.Plan(phase)).Judge(DemoShow.CleanDesk());
        Assert.Empty(result.Findings);
        Assert.Empty(result.Causes);
        Assert.Empty(result.CannotTell);
        Assert.True(result.Evaluated > 3000);
    }

    [Fact]
    public void There_are_fourteen_incidents_with_as_many_expectations() =>
        Assert.Equal((14, 31), (DemoShow.Incidents.Incidents.Count, DemoShow.Incidents.Incidents.Sum(incident => incident.Expect.Count)));

    [Theory]
    [MemberData(nameof(Numbers))]
    public void Incident_gives_exactly_what_it_expects(int number)
    {
        var incident = DemoShow.Incidents.Incidents[number];
        var state = DemoShow.CleanDesk();
        state.Apply(incident);
        Assert.Equal(incident.Expect.Order(StringComparer.Ordinal), DemoShow.Findings(state, Phase.Doors).Select(finding => finding.Id).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void All_incidents_together_give_all_they_expect()
    {
        var state = DemoShow.CleanDesk();
        foreach (var incident in DemoShow.Incidents.Incidents)
            state.Apply(incident);
        Assert.Equal(DemoShow.Incidents.Incidents.SelectMany(incident => incident.Expect).Order(StringComparer.Ordinal),
            DemoShow.Findings(state, Phase.Doors).Select(finding => finding.Id).Order(StringComparer.Ordinal));
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
