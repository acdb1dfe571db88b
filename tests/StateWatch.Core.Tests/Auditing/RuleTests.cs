using StateWatch.Core.Auditing;
using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>Every rule fires on what it is about, with the right severity, and not on what is beside it.</summary>
public class RuleTests
{
    private static readonly Phase[] AllPhases = [Phase.Build, Phase.Soundcheck, Phase.Doors, Phase.Show];

    public static TheoryData<string> RuleIds => [.. RuleCases.All.Select(item => item.Rule)];

    [Fact]
    public void Every_rule_has_five_cases_and_a_near_miss()
    {
        Assert.Equal(RuleCatalogue.All.Select(rule => rule.Id).Order(StringComparer.Ordinal), RuleCases.All.Select(item => item.Rule).Order(StringComparer.Ordinal));
        Assert.All(RuleCases.All, item => Assert.True(item.Fires.Distinct().Count() >= 5 && item.Misses.Length >= 1, item.Rule));
    }

    [Theory]
    [MemberData(nameof(RuleIds))]
    public void What_a_rule_is_about_fires_it_and_nothing_else(string rule)
    {
        var item = Case(rule);
        foreach (var text in item.Fires)
        {
            var findings = RuleShow.Of(item).Judge(Phase.Doors, text).Findings;
            Assert.True(item.Ids(text).SequenceEqual(findings.Select(finding => finding.Id).Order(StringComparer.Ordinal)), $"{text}: {string.Join(", ", findings.Select(finding => finding.Id))}");
        }
    }

    [Theory]
    [MemberData(nameof(RuleIds))]
    public void Near_misses_do_not_fire_a_rule(string rule)
    {
        var item = Case(rule);
        foreach (var text in item.Misses)
        {
            var findings = RuleShow.Of(item).Judge(Phase.Doors, text).Findings;
            Assert.DoesNotContain(findings, finding => finding.Rule.Id == rule && rule != "drift");
            Assert.True(item.Ids(text).SequenceEqual(findings.Select(finding => finding.Id).Order(StringComparer.Ordinal)), $"{text}: {string.Join(", ", findings.Select(finding => finding.Id))}");
        }
    }

    [Theory]
    [MemberData(nameof(RuleIds))]
    public void Severity_follows_the_phase(string rule)
    {
        var item = Case(rule);
        foreach (var text in item.Fires)
        {
            foreach (var phase in AllPhases)
            {
                var letter = phase == Phase.Show && item.Momentary(text) ? 'N' : item.Letters[(int)phase];
                var expected = letter switch { 'U' => "urgent", 'W' => "warning", 'N' => "notice", _ => null };
                var severities = RuleShow.Of(item).JudgeLocked(phase, text).Findings.Select(finding => finding.Severity.Word()).Distinct();
                Assert.Equal(expected is null ? [] : [expected], severities);
            }
        }
    }

    [Theory]
    [MemberData(nameof(RuleIds))]
    public void Free_class_gives_no_drift_and_a_guarded_one_at_most_a_notice(string rule)
    {
        var item = Case(rule);
        foreach (var text in item.Fires)
        {
            foreach (var phase in AllPhases)
            {
                var locked = RuleShow.Of(item).JudgeLocked(phase, text).Findings;
                var demo = RuleShow.Of(item).Judge(phase, text).Findings.ToDictionary(finding => finding.Id, StringComparer.Ordinal);
                foreach (var finding in locked)
                {
                    var expected = finding.Rule.Kind == FindingKind.Risk ? finding.Severity : LockOf(phase, finding.Class) switch
                    {
                        'f' => Severity.Silent,
                        'g' when IsNumber(finding.Id) => Severity.Notice,
                        _ => finding.Severity,
                    };
                    Assert.True(expected == (demo.TryGetValue(finding.Id, out var found) ? found.Severity : Severity.Silent), $"{phase}: {finding.Id}");
                }
            }
        }
    }

    // A guard is an envelope: only numbers lie within one.
    private static bool IsNumber(string finding) => finding[(finding.LastIndexOf('/') + 1)..] is "fader" or "level" or "pan" or "gain" or "trim" or "delay" or "frequency";

    [Theory]
    [MemberData(nameof(RuleIds))]
    public void Sentences_say_what_is_wrong_what_is_heard_and_what_to_do(string rule)
    {
        var finding = RuleShow.Of(Case(rule)).Judge(Phase.Doors, Case(rule).Fires[0]).Findings[0];
        Assert.Equal(RuleSentences.Of[rule], new[] { finding.Words.What, finding.Words.Why, finding.Words.Do });
    }

    [Theory]
    [MemberData(nameof(RuleIds))]
    public void Words_for_a_volunteer_fit_two_lines_and_begin_with_the_fader_down(string rule)
    {
        foreach (var text in Case(rule).Fires)
        {
            foreach (var finding in RuleShow.Of(Case(rule)).Judge(Phase.Doors, text).Findings)
            {
                var words = Assert.IsType<ShortWords>(finding.Words.Short);
                Assert.InRange($"{words.What}: {words.Heard}. {words.Fix}.".Length, 20, 190);
                Assert.DoesNotMatch(@"[.]$|safe", words.What + words.Heard);
                Assert.All((string[])[finding.Words.Do, words.Fix, words.FixAll ?? words.Fix], remedy => Assert.True(Reports.CautiousWordsTests.IsCautious(remedy), remedy));
                if (finding.Class is SettingClass.Patch or SettingClass.Preamp)
                    Assert.Contains("call the engineer", words.Fix);
            }
        }
    }

    [Theory]
    [InlineData("socket/stage-26/phantom = off", "Stage 26: phantom power is off at stage 26")]
    [InlineData("desk/sample-rate = 96 kHz", "Sample rate is 96 kHz, planned 48 kHz")]
    [InlineData("input/15/send/mix/13/level = -20 dB", "Vocal 1 (input 15): send level to Hall (mix 13) is -20.0 dB, planned -15.0 dB (-16.0 dB to -14.0 dB)")]
    [InlineData("input/25/insert/1/in = off", "Lectern (input 25): insert in/out 1 is off, planned on")]
    [InlineData("group/1/fader = -inf", "Voices (group 1): fader is -inf dB, planned 0.0 dB (-1.0 dB to 1.0 dB)")]
    public void Sentences_name_what_the_plan_names(string change, string what) =>
        Assert.Equal(what, Assert.Single(new Auditor(DemoShow.Plan(Phase.Doors)).Judge(Changed(change)).Findings).Words.What);

    [Fact]
    public void Circle_of_buses_is_called_by_its_lowest_step_and_names_the_setting_beside_it()
    {
        var finding = Assert.Single(RuleShow.Of(Case("electrical-loop")).Judge(Phase.Doors, Case("electrical-loop").Fires[0]).Findings);
        Assert.Equal(("electrical-loop:fx-return/1>mix/14", "fx-return/1>mix/14", "fx-return/1/send/mix/14/on"), (finding.Id, finding.Subject, finding.Setting));
    }

    // A lane in the middle goes to each side at -3.01 dB (sine and cosine of 45 degrees), each side into a mono matrix at one half: 2 x 0.7071 x 0.5
    // = 0.7071, that is -3.0 dB once round, though neither side alone brings more than -9.0 dB. 1 / (1 - 0.7071) = 3.414, that is +10.7 dB. Two
    // groups by two lanes: -1 dB and -1 dB, 0.7943 once round, 1 / (1 - 0.7943) = 4.862, that is +13.7 dB. (J. O. Smith, Physical Audio Signal
    // Processing, feedback comb filters.)
    [Theory]
    [InlineData("input/46/source = matrix 5; input/46/on = on; input/46/assign/main/1 = on", "Once round is -3.0 dB (all ways together; the shortest: overflow (matrix 5) 0.0 dB, input 46 -3.0 dB, room (main 1) -6.0 dB): it rings, some notes up to 10.7 dB louder, and howls when one of these faders goes up.")]
    [InlineData("input/46/source = matrix 5; input/46/on = on; input/46/assign/main/1 = on; input/46/fader = 5 dB", "Once round is 2.0 dB (all ways together; the shortest: overflow (matrix 5) 0.0 dB, input 46 2.0 dB, room (main 1) -6.0 dB): it builds up and howls without any microphone.")]
    [InlineData("input/47/source = group 3; input/47/on = on; input/47/fader = -1 dB; input/47/assign/group/4 = on; input/48/source = group 4; input/48/on = on; input/48/fader = -1 dB; input/48/assign/group/3 = on",
        "Once round is -2.0 dB (Singers (group 3) 0.0 dB, input 47 -1.0 dB, Instruments (group 4) 0.0 dB, input 48 -1.0 dB): it rings, some notes up to 13.7 dB louder, and howls when one of these faders goes up.")]
    public void Circle_is_told_with_all_that_comes_back_once_round(string changes, string why) =>
        Assert.Equal(why, Assert.Single(RuleShow.Of(Case("electrical-loop")).Judge(Phase.Doors, changes).Findings).Words.Why);

    // The feedforward comb of J. O. Smith, Physical Audio Signal Processing: notches at odd multiples of 1 / (2 t), with opposed polarity at
    // multiples of 1 / t. -3 dB is 0.70795: 20 lg 1.70795 = 4.65, 20 lg 0.29205 = -10.69. 1 ms: 500 Hz, 1.5 kHz, 2.5 kHz; 0.5 ms turned: 2, 4, 6 kHz.
    [Theory]
    [InlineData("input/45/fader = -3 dB; input/45/delay = 1 ms", "The second way is 1.0 ms later: up to +4.6 dB over the planned one, and hollow, with notches at 500 Hz, 1.5 kHz and 2.5 kHz, 10.7 dB deep.")]
    [InlineData("input/45/fader = -3 dB; input/45/delay = 0.5 ms; input/45/polarity = on", "The second way is 0.5 ms later: up to +4.6 dB over the planned one, and hollow, with the lowest notes missing, and notches at 2 kHz, 4 kHz and 6 kHz, 10.7 dB deep.")]
    [InlineData("input/45/fader = -3 dB; input/45/polarity = on", "They are of opposed polarity and take each other away: -10.7 dB against the planned one alone.")]
    [InlineData("input/45/fader = -3 dB; output/local-4/delay = 1 ms", "Both ways add up to +4.6 dB over the planned one, and sound hollow where they differ in delay or processing.")]
    public void Second_way_is_told_with_what_it_does_to_the_first(string changes, string why) =>
        Assert.Equal(why, RuleShow.Of(Case("double-routed")).Judge(Phase.Doors, "input/45/source = group 1; input/45/on = on; input/45/send/matrix/4/on = on; input/45/send/matrix/4/level = 0 dB; " + changes).Findings.Single(finding => finding.Rule.Id == "double-routed").Words.Why);

    // Fills: the voices come from the room at -10 dB (half of each side, twice) and from their group at -10 dB: 0.3162 of 0.6325 is left, -6.0 dB.
    [Theory]
    [InlineData("group/1/send/matrix/1/on = off", "It is 6.0 dB weaker in the first rows than planned.")]
    [InlineData("group/3/send/matrix/2/on = off", "It is not heard on the stream.")]
    public void Planned_way_that_is_shut_is_told_by_what_is_left(string change, string why) =>
        Assert.Equal(why, RuleShow.Of(Case("feed-source-off")).Judge(Phase.Doors, change).Findings.Single(finding => finding.Rule.Id == "feed-source-off").Words.Why);

    [Fact]
    public void Several_findings_of_one_cause_are_told_in_one_line()
    {
        var state = Changed("input/12/send/mix/1/tap = post-fader; input/15/send/mix/1/tap = post-fader; input/15/send/mix/2/tap = post-fader");
        Assert.Equal(["Wedges 1 (mix 1): 2 sends post-fader", "Vocal 1 (input 15) goes to wedges 2 (mix 2) post-fader, planned pre-fader"],
            new Auditor(DemoShow.Plan(Phase.Doors)).Judge(state).Causes.Select(cause => cause.Text));
    }

    // As the demo plan's phases say.
    private static char LockOf(Phase phase, SettingClass settingClass) => (phase, settingClass) switch
    {
        (Phase.Build, SettingClass.Levels or SettingClass.Mutes or SettingClass.Preamp or SettingClass.Processing or SettingClass.Labels) => 'f',
        (Phase.Soundcheck, SettingClass.Levels or SettingClass.Mutes or SettingClass.Preamp) => 'f',
        (Phase.Doors, SettingClass.Levels) => 'g',
        (Phase.Show, SettingClass.Levels or SettingClass.Preamp) => 'g',
        (Phase.Show, SettingClass.Mutes or SettingClass.Labels) => 'f',
        _ => 'l',
    };

    private static RuleCase Case(string rule) => RuleCases.All.Single(item => item.Rule == rule);

    private static DeskState Changed(string text)
    {
        var state = DemoShow.CleanDesk();
        foreach (var (path, value) in RuleCase.Changes(text))
            state.Set(path, value);
        return state;
    }
}
