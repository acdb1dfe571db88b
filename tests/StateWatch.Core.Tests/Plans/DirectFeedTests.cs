using StateWatch.Core.Auditing;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>Feeds that take direct outs: personal monitors, multitrack recording. On the demo's desk, which tells the patch at the strip and at the output.</summary>
public class DirectFeedTests
{
    private const string Band = "inputs: { 1-2: { name: \"Drum {n}\", role: drums }, 5: { name: Click, role: click }, 3-4: { name: \"Voice {n}\", role: vocal }, 6: { name: Other, role: vocal } }\n"
        + "roles: { drums: { low-cut: on }, vocal: { low-cut: on }, click: { private: click } }\n";

    private const string Personal = "feeds: { personal: { purpose: in-ears, direct: [vocal, Click, drums], out: [usb 1-2, usb 5-8], tap: input } }\n";

    [Fact]
    public void Sources_take_the_places_in_order_one_each()
    {
        Assert.DoesNotContain(Read(Personal + Band, out var plan), item => item.Code.Level == DiagnosticLevel.Error);
        Assert.Equal(["usb 1", "usb 2", "usb 5", "usb 6", "usb 7", "usb 8", null],
            new[] { 3, 4, 6, 5, 1, 2, 7 }.Select(number => plan!.Allowed($"input/{number}/direct-out")));
        Assert.Equal(["input", null], new[] { 1, 7 }.Select(number => plan!.Allowed($"input/{number}/direct-out/tap")));
        Assert.Equal(["input 3 direct", "input 2 direct", null], new[] { 1, 8, 9 }.Select(number => plan!.Allowed($"output/usb-{number}/source")));
    }

    [Fact]
    public void Forty_one_sources_for_forty_places_are_told()
    {
        var items = Read("feeds: { personal: { purpose: in-ears, direct: [band], out: [usb 1-32, local 1-8] } }\nroles: { band: { low-cut: on } }\ninputs: { 1-41: { name: \"Band {n}\", role: band } }", out _);
        var item = Assert.Single(items, item => item.Code.Level == DiagnosticLevel.Error);
        Assert.Equal(("too-many-sources", "feed 'personal' has 41 sources for 40 places; Band 41 is the first without one"), (item.Code.Id, item.Message));
    }

    [Fact]
    public void Whoever_has_a_direct_out_is_carried_somewhere_and_a_strip_without_one_is_not()
    {
        var items = Read(Personal.Replace(", drums]", "]", StringComparison.Ordinal) + Band, out _);
        Assert.Equal(["Drum 1 goes to no feed and no group", "Drum 2 goes to no feed and no group"], items.Select(item => item.Message));
    }

    [Theory]
    [InlineData("never: [click]", "Click goes to output usb-6, but 'never: click' stands at 4:116 (feed 'personal')")]
    [InlineData("only: [vocal, click]", "Drum 1 goes to output usb-7, but 'only: vocal, click' stands at 4:115 (feed 'personal')")]
    [InlineData("must-carry: [drums]", null)]
    public void Constraints_hold_for_direct_outs(string constraint, string? message)
    {
        var items = Read(Personal.Replace("tap: input", "tap: input, " + constraint, StringComparison.Ordinal) + Band, out _).Where(item => item.Code.Level == DiagnosticLevel.Error);
        Assert.Equal(message is null ? [] : [message], items.Select(item => item.Message).Take(1));
    }

    [Fact]
    public void Role_that_must_be_carried_and_is_not_listed_is_an_error() =>
        Assert.Contains(Read(Personal.Replace(", drums], ", "], must-carry: [drums], ", StringComparison.Ordinal) + Band, out _), item => item.Code.Id == "constraint-broken");

    [Fact]
    public void Feed_without_a_bus_is_nothing_to_be_independent_of() =>
        Assert.Contains("'personal' takes direct outs and has no bus (4:10), so it moves no other feed",
            Read(Personal.Replace(" }\n", ", tape: { bus: matrix 1, purpose: record, out: stage 1, independent-of: personal } }\n", StringComparison.Ordinal) + Band, out _).Select(item => item.Message));

    [Theory]
    [InlineData("input/7/direct-out = usb 1; output/usb-1/source = input 7 direct", "output-source-wrong:output/usb-1/source")]
    [InlineData("input/3/direct-out = usb 9", "drift:input/3/direct-out")]
    [InlineData("input/7/direct-out = usb 9; output/usb-9/source = input 7 direct", null)] // a free place
    public void Another_direct_out_on_a_place_that_is_taken_is_found(string changes, string? id)
    {
        _ = Read(Personal + Band, out var plan);
        var state = DemoShow.PlannedDesk(plan!);
        foreach (var (path, value) in Tests.Auditing.RuleCase.Changes(changes))
            state.Set(path, value);
        var found = new Auditor(plan!).Judge(state).Findings.Select(finding => finding.Id).ToList();
        if (id is null)
            Assert.Empty(found);
        else
            Assert.Contains(id, found);
    }

    private static IReadOnlyList<Diagnostic> Read(string lines, out ShowPlan? plan) => Written.ReadPlan(lines, out plan, Phase.Doors, DemoShow.Profile);
}
