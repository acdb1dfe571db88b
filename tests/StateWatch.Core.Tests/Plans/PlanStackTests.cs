using StateWatch.Core.Documents;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Plans;

/// <summary>A small plan for this week over the one for every week.</summary>
public class PlanStackTests
{
    private const string Weekly = "format: statewatch/show/1\nshow: Weekly\ndesk: a.desk.yaml\nsweep-phase: doors\ndcas: { 1: Talkers, 2: Band }\nfeeds:\n  room: { bus: main 1, out: stage 1-2 }\ninputs:\n  1: { name: Kick, from: stage 1 }\n  2: { name: Bass, from: stage 2 }\n";

    [Fact]
    public void The_upper_plan_counts_and_what_it_does_not_say_stays()
    {
        var document = Read(new() { ["weekly"] = Weekly, ["today"] = "format: statewatch/show/1\nextends: weekly\nshow: Today\ninputs: { 2: { name: Double bass }, 3: { name: Guest } }\n" }, out var diagnostics)!;
        Assert.Empty(diagnostics.Items);
        Assert.Equal(("Today", "a.desk.yaml", Phase.Doors), (document.Show, document.Desk.Text, document.SweepPhase));
        Assert.Equal(["Kick", "Double bass", "Guest"], document.Inputs.Select(line => line.Keys.Name!.Text));
        Assert.Equal(["stage 1", "stage 2", null], document.Inputs.Select(line => line.Keys.From?.Text));
    }

    [Fact]
    public void Every_value_keeps_the_place_where_it_stands()
    {
        var document = Read(new() { ["weekly"] = Weekly, ["today"] = "format: statewatch/show/1\nextends: weekly\nshow: Today\ninputs: { 2: { name: Double bass } }\n" }, out _)!;
        var bass = document.Inputs[1].Keys;
        Assert.Equal(new Origin("today", new Place(4, 22)), bass.Name!.At);
        Assert.Equal(new Origin("weekly", new Place(10, 26)), bass.From!.At);
    }

    [Fact]
    public void Lists_and_single_values_replace_what_is_below()
    {
        var document = Read(new()
        {
            ["weekly"] = Weekly + "groups: { 1: { name: All, to: [room] } }\n",
            ["today"] = "format: statewatch/show/1\nextends: weekly\nshow: Today\ngroups: { 1: { to: [] } }\ndcas: { 2: Choir }\n",
        }, out _)!;
        Assert.Empty(document.Groups[0].Keys.To);
        Assert.Equal(["Talkers", "Choir"], document.Dcas.Select(dca => dca.Name.Text));
    }

    [Fact]
    public void Plans_may_lie_over_each_other_but_not_in_a_circle()
    {
        var files = new Dictionary<string, string>
        {
            ["weekly"] = Weekly,
            ["season"] = "format: statewatch/show/1\nextends: weekly\nshow: Season\n",
            ["today"] = "format: statewatch/show/1\nextends: season\nshow: Today\n",
        };
        Assert.Equal("Today", Read(files, out _)!.Show);
        files["weekly"] = "format: statewatch/show/1\nextends: today\nshow: Weekly\n";
        Assert.Null(Read(files, out var diagnostics));
        var fault = Assert.Single(diagnostics.Items);
        Assert.Equal((PlanCodes.CannotExtend, new Origin("weekly", new Place(2, 10))), (fault.Code, fault.At));
    }

    [Fact]
    public void A_long_chain_and_a_plan_that_is_not_there_are_told_at_their_place()
    {
        var files = Enumerable.Range(0, 12).ToDictionary(i => i == 0 ? "today" : $"p{i}", i => $"format: statewatch/show/1\nextends: p{i + 1}\nshow: S{i}\n");
        Assert.Null(Read(files, out var diagnostics));
        Assert.Equal(PlanCodes.CannotExtend, Assert.Single(diagnostics.Items).Code);
        Assert.Null(Read(new() { ["today"] = "format: statewatch/show/1\nextends: [a]\nshow: S\n" }, out diagnostics));
        Assert.Equal(DocumentCodes.WrongShape, Assert.Single(diagnostics.Items).Code);
    }

    [Fact]
    public void A_plan_below_of_another_format_is_refused_at_its_own_place()
    {
        Assert.Null(Read(new() { ["weekly"] = "format: statewatch/desk/1\n", ["today"] = "format: statewatch/show/1\nextends: weekly\nshow: T\n" }, out var diagnostics));
        Assert.Equal("weekly", Assert.Single(diagnostics.Items).At.File);
    }

    private static PlanDocument? Read(Dictionary<string, string> files, out DiagnosticBag diagnostics)
    {
        diagnostics = new DiagnosticBag();
        return PlanReader.Read(new SourceText("today", files["today"]), diagnostics, path => files.TryGetValue(path.Text, out var text) ? new SourceText(path.Text, text) : null);
    }
}
