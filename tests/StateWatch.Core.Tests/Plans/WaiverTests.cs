using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

public class WaiverTests
{
    private const string Line = "waivers: [{ finding: \"low-cut-off:input/1/low-cut\", owner: A. Engineer, why: worn switch, until: 2026-12-31 }]";

    [Fact]
    public void Waiver_is_read_as_written()
    {
        var line = Assert.Single(Written.Plan(Line).Document.Waivers);
        Assert.Equal(("low-cut-off", "input/1/low-cut", "A. Engineer", "worn switch", new DateOnly(2026, 12, 31), "2026-12-31"),
            (line.Rule, line.Subject, line.Owner, line.Why, line.Until, line.UntilText));
        Assert.Equal(new Place(4, 22), line.Finding.At.Place);
    }

    [Theory]
    [InlineData(2026, 12, 30, true)]
    [InlineData(2026, 12, 31, true)]
    [InlineData(2027, 1, 1, false)]
    public void Last_day_of_a_waiver_is_included(int year, int month, int day, bool active)
    {
        var waivers = Written.Plan(Line).Document.Waivers;
        var diagnostics = new DiagnosticBag();
        WaiverCheck.Dates(waivers, new DateOnly(year, month, day), diagnostics);
        Assert.Equal(active, waivers[0].IsActive(new DateOnly(year, month, day)));
        Assert.Equal(active ? [] : [$"expired-waiver 4:{Line.IndexOf("2026", StringComparison.Ordinal) + 1} the waiver of 'low-cut-off:input/1/low-cut' ended on 2026-12-31 and no longer counts"],
            diagnostics.Items.Select(DemoShow.Say));
    }

    [Theory]
    [InlineData("electrical-loop:group/1>mix/2", true)]
    [InlineData("double-routed:input/1>room", true)]
    [InlineData("electrical-loop:group/1>mix/200", false)]
    [InlineData("electrical-loop:group/1>", false)]
    [InlineData("electrical-loop:room>group/1", false)]
    [InlineData("electrical-loop:group/1>mix/2>group/1", false)]
    public void Waiver_may_name_a_step_of_a_circle_or_a_source_at_a_feed(string finding, bool known)
    {
        var diagnostics = Written.ReadPlan("feeds: { room: { bus: main 1, out: stage 1-2 } }\nwaivers: [{ finding: \"" + finding + "\", owner: A, why: known, until: 2026-12-31 }]", out _);
        Assert.Equal(known ? [] : ["unknown-subject"], diagnostics.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(item => item.Code.Id));
    }

    [Fact]
    public void Waiver_changes_no_expectation()
    {
        const string Rest = "\nfeeds: { room: { bus: main 1, out: stage 1-2 } }\ninputs: { 1: { to: [room], low-cut: on } }";
        var (with, without) = (Written.Plan(Line + Rest), Written.Plan(Rest));
        Assert.Equal(without.Expectations.Select(item => (item.Setting, item.Planned, item.Rank)), with.Expectations.Select(item => (item.Setting, item.Planned, item.Rank)));
    }
}
