using StateWatch.Simulator;
using StateWatch.Simulator.Scenarios;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>What hands of a scenario do at the same time gets into nobody's way, and costs no more memory the longer it lasts.</summary>
public class ScriptedHandsTests
{
    private const string Fader = "input/1/fader";
    private static readonly DateTime Ten = new(2026, 12, 6, 10, 0, 0);
    private readonly VirtualDesk _desk = SmallDesk.Create();

    [Fact]
    public void Desk_that_is_silent_twice_is_silent_until_the_later_end()
    {
        var hands = Hands(At(0) with { Silent = TimeSpan.FromSeconds(30) }, At(10) with { Silent = TimeSpan.FromSeconds(60) }, At(20) with { Silent = TimeSpan.FromSeconds(5) });
        Act(hands, 29);
        Assert.True(_desk.Silent);
        Act(hands, 69);
        Assert.True(_desk.Silent);
        Act(hands, 70);
        Assert.False(_desk.Silent);
    }

    [Theory]
    [InlineData("-20.0 dB", false)]
    [InlineData("-40.0 dB", true)]
    public void Level_that_is_set_while_it_glides_stays_where_it_was_set(string level, bool isPutBack)
    {
        SmallDesk.Set(_desk, Fader, "-40 dB");
        var hands = Hands(At(0) with { Set = [Value("10 dB")], Over = TimeSpan.FromSeconds(20) }, At(10) with { Set = isPutBack ? [] : [Value("-20 dB")], PutBack = isPutBack ? [Id] : [] });
        Act(hands, 9);
        Assert.NotEqual("-40.0 dB", SmallDesk.Get(_desk, Fader));
        Act(hands, 60);
        Assert.Equal(level, SmallDesk.Get(_desk, Fader));
    }

    [Fact]
    public void Glide_that_lasts_all_day_keeps_one_step_waiting_and_ends_where_it_is_to()
    {
        SmallDesk.Set(_desk, Fader, "-40 dB");
        var hands = Hands(At(0) with { Set = [Value("0 dB")], Over = TimeSpan.FromHours(24) });
        Act(hands, 43_200);
        Assert.Equal(1, hands.Waiting);
        Assert.Equal("-20.0 dB", SmallDesk.Get(_desk, Fader));
        Act(hands, 86_400);
        Assert.Equal((0, _desk.Profile.Format(Value("0 dB").Item2)), (hands.Waiting, SmallDesk.Get(_desk, Fader)));
    }

    private int Id => _desk.Profile.Find(Fader);

    private static Happening At(int seconds) => new(Ten.AddSeconds(seconds), "", default!);

    private static void Act(ScriptedHands hands, int seconds) => hands.Act(Ten.AddSeconds(seconds));

    private (int, Core.Settings.SettingValue) Value(string text)
    {
        Assert.True(_desk.Profile.Settings[Id].Codec.TryParse(text, out var value, out var problem), problem);
        return (Id, value);
    }

    private ScriptedHands Hands(params Happening[] happenings) => new(new Scenario("hands", Ten, Ten.AddDays(2), null, 1, happenings, [], 0, TimeSpan.FromMinutes(1)), _desk, static _ => []);
}
