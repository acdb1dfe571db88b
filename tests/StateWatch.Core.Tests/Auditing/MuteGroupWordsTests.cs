using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>An active mute group silences: its words are the other way round than those of a strip that is on.</summary>
public class MuteGroupWordsTests
{
    [Fact]
    public void Group_that_was_left_muted_is_silent_and_is_opened_with_faders_down()
    {
        var show = ShippedShow.Of("marrowmere-congress");
        var state = show.CleanDesk();
        state.Set("mute-group/3/active", "on");
        var finding = Assert.Single(new Core.Auditing.Auditor(show.Plan(Phase.Doors)).Judge(state).Findings);
        Assert.Equal("muted-by-group", finding.Rule.Id);
        Assert.Contains("silent, whatever their own mutes say.", finding.Words.Why);
        Assert.Contains("faders down first, then release it", finding.Words.Short!.Fix);
    }

    [Fact]
    public void Group_that_should_be_muted_is_heard()
    {
        var show = ShippedShow.Of("marrowmere-congress");
        var plan = show.Compile(show.PlanText.Replace("\"mute-group/3/active\": off", "\"mute-group/3/active\": on", StringComparison.Ordinal), Phase.Doors, new(), out _)!;
        var state = show.CleanDesk();
        var words = Assert.Single(new Core.Auditing.Auditor(plan).Judge(state).Findings).Words;
        Assert.Equal(("It is heard when it should be silent.", "Mute it."), (words.Why, words.Do));
    }
}
