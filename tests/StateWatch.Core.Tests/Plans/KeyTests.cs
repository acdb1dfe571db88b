using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>What the desk's keys do.</summary>
public class KeyTests
{
    [Fact]
    public void Keys_are_planned_as_if_their_settings_were_written()
    {
        var settings = Written.ReadPlan("settings: { desk/key/1: mute group 1, \"desk/key/7-8\": nothing }", out var one, desk: DemoShow.Profile);
        var keys = Written.ReadPlan("keys: { 1: mute group 1, 7-8: nothing }", out var two, desk: DemoShow.Profile);
        Assert.Empty(settings.Concat(keys));
        Assert.Equal(3, two!.Expectations.Count(item => DemoShow.Profile.Settings[item.Setting].Kind.Suffix == "key/#"));
        Assert.Equal(one!.Expectations.Select(item => (item.Setting, item.Planned)), two.Expectations.Select(item => (item.Setting, item.Planned)));
    }

    [Fact]
    public void One_key_outweighs_a_range()
    {
        Assert.Empty(Written.ReadPlan("keys: { 7-8: nothing, 8: dim }", out var plan, desk: DemoShow.Profile));
        Assert.Equal(["nothing", "dim"], new[] { "desk/key/7", "desk/key/8" }.Select(plan!.Allowed));
    }

    [Fact]
    public void Misspelled_chore_gets_the_desks_word() =>
        Assert.Equal(("bad-value", "mute group 1"), Written.ReadPlan("keys: { 1: mute grup 1 }", out _, desk: DemoShow.Profile).Select(item => (item.Code.Id, item.Suggestion)).Single());
}
