using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>Of two lines that speak of one setting the weightier wins, wherever they stand.</summary>
public class PrecedenceTests
{
    private const string Base = """
        dcas: { 1: All }
        feeds:
          room: { bus: main 1, out: stage 1-2 }
          wedges: { bus: mix 1-2, purpose: monitor, out: stage 3-4, tap: pre-fader }
          fills: { bus: matrix 1, purpose: front-fill, from: { Voices: on } }
        groups: { 1: { name: Voices, to: GROUP } }
        roles:
          voice: { low-cut: on, dca: All, to: [room, wedges] }
        inputs:
          1-4: LINE
          2-3: MIDDLE
          2: ONE
        settings: SETTINGS
        phases: { doors: { settings: PHASE }, show: { settings: { "input/2/low-cut": on } } }
        """;

    // What each line says; the weightier rank is the last one that speaks.
    [Theory]
    [InlineData("group/2/send/matrix/1/on", "off")] // show default: a feed with from closes all others
    [InlineData("group/1/send/matrix/1/on", "on")] // feed > show default
    [InlineData("input/1/dca/1", "on", "LINE={ role: voice }")] // role > show default
    [InlineData("input/1/send/mix/1/tap", "pre-fader", "LINE={ role: voice }")] // feed: its tap
    [InlineData("input/1/send/mix/2/on", "on", "LINE={ role: voice }")] // role's feed > show default
    [InlineData("group/1/send/matrix/1/on", "off", "GROUP={ room: on, fills: off }")] // strip's feed > feed
    [InlineData("input/1/low-cut", "off", "LINE={ role: voice, low-cut: off }")] // strip range > role
    [InlineData("input/2/low-cut", "off", "LINE={ role: voice, low-cut: on }", "MIDDLE={ low-cut: off }")] // narrower range > range
    [InlineData("input/2/low-cut", "off", "LINE={ role: voice }", "MIDDLE={ low-cut: on }", "ONE={ low-cut: off }")] // single strip > narrower range
    [InlineData("input/2/send/mix/2/on", "off", "LINE={ role: voice, to: { wedges 2: off } }")] // strip's feed > role's feed
    [InlineData("input/2/send/mix/2/on", "on", "LINE={ role: voice, to: { wedges 2: off } }", "MIDDLE={ to: [wedges] }")] // narrower range's feed > range's feed
    [InlineData("input/2/send/mix/2/on", "off", "LINE={ role: voice }", "MIDDLE={ to: [wedges] }", "ONE={ to: { wedges: off } }")]
    [InlineData("input/2/send/mix/2/on", "off", "LINE={ role: voice, to: { wedges: on, wedges 2: off } }")] // one bus named > the whole feed, in one line
    [InlineData("input/2/low-cut", "off", "ONE={ role: voice, low-cut: on }", "SETTINGS={ input/2/low-cut: off }")] // settings > single strip
    [InlineData("input/2/send/mix/2/on", "off", "ONE={ role: voice, to: [wedges] }", "SETTINGS={ \"input/1-8/send/mix/2/on\": off }")] // settings > strip's feed
    [InlineData("input/2/low-cut", "off", "SETTINGS={ \"input/1-8/low-cut\": on, input/2/low-cut: off }")] // narrower settings > wider
    [InlineData("input/2/low-cut", "off", "SETTINGS={ input/2/low-cut: on }", "PHASE={ \"input/1-8/low-cut\": off }")] // phase settings > settings, however wide
    [InlineData("input/2/low-cut", "off", "PHASE={ \"input/1-8/low-cut\": on, input/2/low-cut: off }")]
    [InlineData("input/2/low-cut", null)] // the settings of another phase do not count
    public void Weightier_line_wins(string path, string? expected, params string[] lines)
    {
        var text = Base;
        foreach (var line in lines.Concat(["GROUP=[room]", "LINE={ }", "MIDDLE={ }", "ONE={ }", "SETTINGS={ }", "PHASE={ }"]))
            text = text.Replace(line[..line.IndexOf('=', StringComparison.Ordinal)], line[(line.IndexOf('=', StringComparison.Ordinal) + 1)..], StringComparison.Ordinal);
        var plan = Written.Plan(text);
        Assert.Equal(expected, plan.Allowed(path));
        Assert.Equal(Written.Plan(Reversed(text)).Allowed(path), expected);
    }

    [Fact]
    public void Ranks_rise_as_the_language_says_and_never_meet()
    {
        int[] ladder =
        [
            Ranks.ShowDefault, Ranks.Feed, Ranks.Role, Ranks.RoleFeed, Ranks.Narrowed(Ranks.Strip, 4096), Ranks.Narrowed(Ranks.Strip, 2), Ranks.Narrowed(Ranks.Strip, 1),
            Ranks.Narrowed(Ranks.StripFeed, 4096), Ranks.Narrowed(Ranks.StripFeed, 1) + 1, Ranks.Narrowed(Ranks.Setting, 100_000), Ranks.Narrowed(Ranks.Setting, 1),
            Ranks.Narrowed(Ranks.Phase, 100_000), Ranks.Narrowed(Ranks.Phase, 1), Ranks.Narrowed(Ranks.Cue, 4096), Ranks.Narrowed(Ranks.Cue, 1) + 1,
            Ranks.Narrowed(Ranks.CueSetting, 100_000), Ranks.Narrowed(Ranks.CueSetting, 1), Ranks.Narrowed(Ranks.CueOpen, 4096), Ranks.Narrowed(Ranks.CueOpen, 1),
        ];
        Assert.Equal(ladder.Order().Distinct(), ladder);
    }

    [Theory]
    [InlineData("LINE={ low-cut: on }|OTHER=1, 3-5: { low-cut: off }", "input/1/low-cut is off here but on at 13:19, and neither line outweighs the other")]
    [InlineData("SETTINGS={ \"input/1-4/low-cut\": on, \"input/4-7/low-cut\": off }", "input/4/low-cut is off here but on at 16:34, and neither line outweighs the other")]
    [InlineData("PHASE={ \"input/1-4/low-cut\": on, \"input/4-7/low-cut\": off }", "input/4/low-cut is off here but on at 17:53, and neither line outweighs the other")]
    public void Lines_of_equal_weight_that_disagree_are_an_error_that_names_both(string lines, string message)
    {
        var text = Base.Replace("2: ONE", "OTHER", StringComparison.Ordinal);
        foreach (var line in lines.Split('|').Concat(["GROUP=[room]", "LINE={ }", "MIDDLE={ }", "OTHER=8: { }", "SETTINGS={ }", "PHASE={ }"]))
            text = text.Replace(line[..line.IndexOf('=', StringComparison.Ordinal)], line[(line.IndexOf('=', StringComparison.Ordinal) + 1)..], StringComparison.Ordinal);
        Assert.Equal([message], Written.ReadPlan(text.Replace("1, 3-5:", "\"1, 3-5\":", StringComparison.Ordinal), out _).Where(item => item.Code.Level == DiagnosticLevel.Error).Select(item => item.Message));
    }

    [Fact]
    public void Lines_of_equal_weight_that_agree_are_none() =>
        Assert.Equal("on", Written.Plan("inputs: { 1-2: { low-cut: on }, 2-3: { low-cut: on } }").Allowed("input/2/low-cut"));

    [Fact]
    public void Any_takes_no_part() =>
        Assert.Equal("off", Written.Plan("inputs: { 1-4: { low-cut: off }, 2: { low-cut: any } }").Allowed("input/2/low-cut"));

    // The lines under inputs the other way round.
    private static string Reversed(string text)
    {
        var lines = text.Split('\n').ToList();
        var at = lines.IndexOf("inputs:") + 1;
        lines.Reverse(at, 3);
        return string.Join('\n', lines);
    }
}
