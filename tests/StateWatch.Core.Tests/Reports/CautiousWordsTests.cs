using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Tests.Reports;

/// <summary>
/// Sudden level can injure hearing: every sentence that could make something louder begins with the fader down. Checked for every
/// setting of every shipped plan turned wrong, in each direction.
/// </summary>
public class CautiousWordsTests
{
    // Whatever begins like this makes nothing louder; everything else must say "down first".
    private static readonly string[] Harmless =
    [
        "Switch it off", "Switch that route off", "Switch the oscillator off", "Switch these routes off", "Switch its send to", "Switch their sends to", "Mute it", "Mute them",
        "Bring it down", "Faders down of those", "Call the engineer", "Fader down; call the engineer", "Faders down; call the engineer", "Bus fader down; call the engineer",
        "Touch nothing", "Do not", "Find out what", "Check what is really on", "Add it", "Add them", "Add input", "Add effect return", "Add group", "Set it back to",
        "Set it back", "Switch it in", "Switch them in", "Switch the limiter in", "In-ears out", "Switch the low-cut filter on", "Switch their low-cut filters on",
        "Switch solo-in-place off while no solo key is lit", "Switch it off while no solo key is lit", "Main faders down", "When there is a moment, set it back",
    ];

    private static readonly Lazy<Dictionary<string, List<Finding>>> OfShows = new(() => ShippedShow.Names.ToDictionary(static show => show, static show => TurnEachWrong(show).ToList(), StringComparer.Ordinal));

    private static IEnumerable<Finding> All => OfShows.Value.Values.SelectMany(static findings => findings);

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void Every_kind_of_planned_setting_was_turned_wrong(string show)
    {
        var plan = ShippedShow.Of(show).Plan(Phase.Doors);
        var shapes = plan.Expectations.Select(item => plan.Profile.Settings[item.Setting].Kind.Shape).Distinct();
        Assert.Empty(shapes.Except(OfShows.Value[show].Select(finding => plan.Profile.Settings[plan.Profile.Find(finding.Setting)].Kind.Shape)));
    }

    [Fact]
    public void Remedies_that_could_make_something_louder_begin_with_the_fader_down()
    {
        var bold = All.SelectMany(finding => (string?[])[finding.Words.Do, finding.Words.Short?.Fix, finding.Words.Short?.FixAll])
            .Distinct()
            .Where(remedy => remedy is not null && !IsCautious(remedy));
        Assert.Empty(bold);
    }

    [Fact]
    public void A_volunteer_is_never_told_to_touch_gain_phantom_power_or_patch()
    {
        foreach (var finding in All.Where(finding => finding.Class is SettingClass.Patch or SettingClass.Preamp))
            Assert.Contains("call the engineer", finding.Words.Short!.Fix);
    }

    [Fact]
    public void Every_finding_has_short_words_that_fit_two_lines()
    {
        foreach (var finding in All)
        {
            var words = Assert.IsType<ShortWords>(finding.Words.Short);
            Assert.True($"{words.What}: {words.Heard}. {words.Fix}.".Length is >= 20 and <= 190, $"{words.What}: {words.Heard}. {words.Fix}.");
            Assert.DoesNotMatch(@"[.]$|safe", words.What + words.Heard);
            Assert.True(char.IsLower(words.Heard[0]), words.Heard);
        }
    }

    internal static bool IsCautious(string remedy) =>
        remedy.Contains("down first", StringComparison.OrdinalIgnoreCase) || remedy.Contains("fader down and mute everywhere first", StringComparison.Ordinal)
        || Harmless.Any(start => remedy.StartsWith(start, StringComparison.Ordinal));

    private static IEnumerable<Finding> TurnEachWrong(string show)
    {
        var plan = ShippedShow.Of(show).Plan(Phase.Doors);
        var auditor = new Auditor(plan);
        var state = ShippedShow.Of(show).CleanDesk();
        Assert.Empty(auditor.Judge(state).Findings);
        foreach (var group in plan.Expectations.GroupBy(item => (plan.Profile.Settings[item.Setting].Kind.Shape, item.Planned)))
        {
            foreach (var expectation in group.Take(3))
            {
                foreach (var wrong in WrongValues(plan.Profile, expectation))
                {
                    _ = state.Apply(expectation.Setting, wrong);
                    foreach (var finding in auditor.Judge(state).Findings)
                        yield return finding;
                }

                _ = state.Apply(expectation.Setting, expectation.Planned);
            }
        }
    }

    private static IEnumerable<SettingValue> WrongValues(DeskProfile profile, Expectation expectation)
    {
        var codec = profile.Settings[expectation.Setting].Codec;
        string[] texts = expectation.Planned.Kind switch
        {
            ValueKind.Switch => [expectation.Planned.IsOn ? "off" : "on"],
            ValueKind.Level => ["9 dB", "-55 dB", "-inf dB", "20 dB", "60 dB"],
            ValueKind.Number => ["1", "300", "50"],
            ValueKind.Choice => [.. codec.Words],
            _ => ["none", "stage 40", "usb 9", "main 1 right", "mix 9", "Other"],
        };
        foreach (var text in texts)
        {
            if (codec.TryParse(text, out var value, out _) && !expectation.Allows(value))
                yield return value;
        }
    }
}
