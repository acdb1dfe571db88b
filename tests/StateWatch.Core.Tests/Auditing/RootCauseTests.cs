using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;
using StateWatch.Core.Tests.Reports;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>What follows from another finding is folded under it: people are told the root, programs get everything.</summary>
public class RootCauseTests
{
    [Fact]
    public void Another_show_folds_everything_that_a_show_file_holds()
    {
        var state = DemoShow.CleanDesk();
        foreach (var incident in DemoShow.Incidents.Incidents)
            state.Apply(incident);
        state.Set("desk/show-file", "Midsummer");
        state.Set("desk/box/1/leg/1", "off");
        var result = new Auditor(DemoShow.Plan(Phase.Doors)).Judge(state);
        Assert.Equal(["oscillator-on:desk/oscillator", "stage-box-leg-down:desk/box/1/leg/1", "wrong-show-file:desk/show-file"],
            result.Causes.SelectMany(cause => cause.Told).Select(finding => finding.Id).Order(StringComparer.Ordinal));
        var root = result.Causes.Single(cause => cause.Told[0].Rule.Id == "wrong-show-file");
        Assert.Equal((30, 33), (root.Folded.Count, result.Findings.Count));
        Assert.Equal("wrong-show-file:desk/show-file", root.Id);
        Assert.All(root.Folded, finding => Assert.Equal(root.Id, result.Findings.Single(item => item.Id == finding.Id).CauseId));
    }

    // A tone, a lost clock, a mute from outside: they are what they are, whatever show is loaded.
    [Theory]
    [InlineData("desk/oscillator", "on")]
    [InlineData("desk/clock-locked", "off")]
    [InlineData("desk/external-mute", "on")]
    [InlineData("desk/solo-in-place", "on")]
    [InlineData("desk/input-bank", "recorder")]
    [InlineData("desk/box/2/present", "off")]
    public void What_is_wrong_with_the_desk_itself_is_told_beside_another_show(string path, string value)
    {
        var causes = Causes(("desk/show-file", "Midsummer"), (path, value), ("input/25/source", "none"));
        Assert.Equal(2, causes.Count);
        Assert.Single(causes.Single(cause => cause.Told[0].Rule.Id == "wrong-show-file").Folded);
    }

    [Fact]
    public void A_show_that_somebody_answers_for_hides_nothing()
    {
        var text = DemoShow.PlanText + "\nwaivers: [{ finding: \"wrong-show-file:desk/show-file\", owner: A. Engineer, why: named anew tonight, until: 2030-01-01 }]\n";
        var state = DemoShow.CleanDesk();
        state.Set("desk/show-file", "Midwinter 2");
        state.Set("input/25/source", "none");
        Assert.All(new Auditor(DemoShow.Compile(text, Phase.Doors)).Judge(state).Causes, cause => Assert.Empty(cause.Folded));
    }

    [Fact]
    public void A_recording_on_the_inputs_explains_sources_and_silence_and_nothing_else()
    {
        var causes = Causes(("desk/input-bank", "recorder"), ("input/25/signal", "off"), ("input/16/source", "stage 38"), ("input/25/low-cut", "off"));
        Assert.Equal(["low-cut-off", "playback-as-inputs"], Rules(causes));
        Assert.Equal(["source-silent:input/25/signal", "source-wrong:input/16/source"], Folded(causes));
    }

    [Fact]
    public void A_missing_stage_box_explains_its_own_sockets_only()
    {
        var causes = Causes(("desk/box/2/present", "off"), ("input/25/signal", "off"), ("input/17/signal", "off"), ("socket/stage-18/gain", "0 dB"), ("input/15/signal", "off"), ("socket/local-1/gain", "0 dB"));
        Assert.Equal(["gain-moved", "source-silent", "stage-box-missing"], Rules(causes));
        Assert.Equal(["gain-moved:socket/stage-18/gain", "source-silent:input/17/signal", "source-silent:input/25/signal"], Folded(causes));
        Assert.Equal("source-silent:input/15/signal", Assert.Single(causes.Single(cause => cause.Told[0].Rule.Id == "source-silent").Findings).Id);
    }

    [Fact]
    public void Two_missing_boxes_are_one_line_with_all_that_follows()
    {
        var cause = Assert.Single(Causes(("desk/box/1/present", "off"), ("desk/box/2/present", "off"), ("input/15/signal", "off"), ("input/25/signal", "off")));
        Assert.Equal(("stage-box-missing:desk", 2, 2), (cause.Id, cause.Told.Count, cause.Folded.Count));
    }

    [Fact]
    public void A_box_that_no_profile_describes_explains_no_socket()
    {
        var text = DemoShow.ProfileText.Split('\n').Where(line => !line.StartsWith("boxes:", StringComparison.Ordinal) && !line.Contains("{ sockets: stage", StringComparison.Ordinal));
        var plan = DemoShow.CompileFor(string.Join('\n', text), DemoShow.PlanText, Phase.Doors);
        var state = DemoShow.PlannedDesk(plan);
        state.Set("desk/box/2/present", "off");
        state.Set("input/25/signal", "off");
        Assert.Equal(2, new Auditor(plan).Judge(state).Causes.Count);
    }

    [Theory]
    [InlineData("socket/stage-25/phantom", "off", "phantom-missing")]
    [InlineData("input/25/source", "none", "source-missing")]
    [InlineData("input/25/source", "stage 40", "source-wrong")]
    public void What_takes_the_signal_away_explains_the_silence(string path, string value, string root)
    {
        var cause = Assert.Single(Causes((path, value), ("input/25/signal", "off")));
        Assert.Equal((root, "source-silent:input/25/signal"), (cause.Told[0].Rule.Id, Assert.Single(cause.Folded).Id));
        Assert.Equal(2, Causes((path, value), ("input/26/signal", "off")).Count);
    }

    [Fact]
    public void Another_show_is_told_first_even_when_something_else_is_more_urgent()
    {
        var plan = DemoShow.Plan(Phase.Build);
        var state = DemoShow.CleanDesk();
        state.Set("desk/oscillator", "on");
        state.Set("desk/show-file", "Midsummer");
        Assert.Equal(["wrong-show-file", "oscillator-on"], CauseOrder.Sorted(new Auditor(plan).Judge(state).Causes).Select(cause => cause.Told[0].Rule.Id));
    }

    [Fact]
    public void The_volunteer_is_told_the_root_and_how_much_follows() => Golden.Check("volunteer-wrong-show.txt", VolunteerText.Write(Results.Of("wrong-show")));

    [Fact]
    public void The_engineer_gets_the_kinds_of_what_follows() => Golden.Check("engineer-wrong-show.txt", EngineerText.Write(Results.Of("wrong-show")));

    private static IReadOnlyList<Cause> Causes(params (string Path, string Value)[] changes)
    {
        var state = DemoShow.CleanDesk();
        foreach (var (path, value) in changes)
            state.Set(path, value);
        return new Auditor(DemoShow.Plan(Phase.Doors)).Judge(state).Causes;
    }

    private static IEnumerable<string> Rules(IEnumerable<Cause> causes) => causes.Select(cause => cause.Told[0].Rule.Id).Order(StringComparer.Ordinal);

    private static IEnumerable<string> Folded(IEnumerable<Cause> causes) => causes.SelectMany(cause => cause.Folded).Select(finding => finding.Id).Order(StringComparer.Ordinal);
}
