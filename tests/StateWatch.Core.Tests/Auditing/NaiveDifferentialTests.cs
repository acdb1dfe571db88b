using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>The compiler and the auditor against the naive checker.</summary>
public class NaiveDifferentialTests(ITestOutputHelper output)
{
    private const int Mutations = 600;

    [Theory]
    [InlineData(Phase.Build)]
    [InlineData(Phase.Soundcheck)]
    [InlineData(Phase.Doors)]
    [InlineData(Phase.Show)]
    public void Compiler_plans_the_same_settings_with_the_same_values(Phase phase)
    {
        var naive = Naive(phase);
        var compiled = DemoShow.Plan(phase).Expectations.ToDictionary(item => DemoShow.Profile.Settings[item.Setting].Path, AllowedTexts, StringComparer.Ordinal);
        Assert.Equal(naive.Allowed.Keys.Order(StringComparer.Ordinal), compiled.Keys.Order(StringComparer.Ordinal));
        foreach (var (path, allowed) in naive.Allowed)
            Assert.True(allowed.SetEquals(compiled[path]), $"{path}: naive {string.Join(", ", allowed)}; compiled {string.Join(", ", compiled[path])}");
        output.WriteLine($"{compiled.Count} planned settings agree in phase {phase.Word()}");
    }

    [Fact]
    public void One_changed_setting_is_found_exactly_when_the_naive_checker_says_it_differs()
    {
        var seed = (ulong)TestSeed.Value;
        var numbers = new SeededNumbers(seed);
        var naive = Naive(Phase.Doors);
        var clean = DemoShow.CleanDesk();
        var desk = Texts(clean);
        Assert.Empty(naive.Differing(desk));
        var auditor = new Core.Auditing.Auditor(DemoShow.Plan(Phase.Doors));
        var kinds = new Dictionary<string, int>(StringComparer.Ordinal);
        var found = 0;
        var wrong = new List<string>();
        foreach (var setting in Picks(numbers))
        {
            var before = clean[setting.Id];
            var after = Another(setting, before, numbers);
            clean.Apply(setting.Id, after);
            desk[setting.Path] = DemoShow.Profile.Format(after);
            var differing = naive.Differing(desk).Union(NaiveRisks.Beyond(naive, desk)).ToList();
            var findings = auditor.Judge(clean).Findings;
            // Beyond what is planned only inserts, partners and signals can be told: closed worlds plan every edge that a risk looks at.
            if (!findings.Select(finding => finding.Setting).SequenceEqual(differing))
                wrong.Add($"{setting.Path} = {desk[setting.Path]}: naive {string.Join(", ", differing)}; findings {string.Join(", ", findings.Select(finding => finding.Id))}");
            found += differing.Count;
            kinds[setting.Kind.Shape] = kinds.GetValueOrDefault(setting.Kind.Shape) + 1;
            clean.Apply(setting.Id, before);
            desk[setting.Path] = DemoShow.Profile.Format(before);
        }

        output.WriteLine($"seed {seed}: {kinds.Values.Sum()} mutations over {kinds.Count} kinds of settings; {found} differ, {kinds.Values.Sum() - found} do not");
        Assert.True(wrong.Count == 0, $"seed {seed}\n{string.Join('\n', wrong)}");
        Assert.True(kinds.Values.Sum() >= 300 && found >= 150 && kinds.Values.Sum() - found >= 50, $"seed {seed}: one-sided, {found} of {kinds.Values.Sum()}");
        Assert.Equal(DemoShow.Profile.Settings.Select(setting => setting.Kind.Shape).Distinct().Count(), kinds.Count);
    }

    [Fact]
    public void Many_changes_at_once_are_all_told()
    {
        var seed = (ulong)TestSeed.Value + 1;
        var numbers = new SeededNumbers(seed);
        var naive = Naive(Phase.Doors);
        var auditor = new Core.Auditing.Auditor(DemoShow.Plan(Phase.Doors));
        for (var round = 0; round < 100; round++)
        {
            var state = DemoShow.CleanDesk();
            var changed = new HashSet<string>(StringComparer.Ordinal);
            for (var i = 0; i < 1 + numbers.NextBelow(40); i++)
            {
                var setting = DemoShow.Profile.Settings[numbers.NextBelow(DemoShow.Profile.Settings.Count)];
                state.Apply(setting.Id, Another(setting, state[setting.Id], numbers));
                changed.Add(setting.Path);
            }

            var texts = Texts(state);
            var beyond = NaiveRisks.Beyond(naive, texts).ToList();
            var differing = naive.Differing(texts).Union(beyond).Where(path => !NaiveRisks.IsExplained(path, texts)).ToList();
            var told = auditor.Judge(state).Findings.Select(finding => finding.Setting).ToHashSet(StringComparer.Ordinal);
            Assert.True(told.SetEquals(differing), $"seed {seed}, round {round}: {string.Join(", ", told.Except(differing).Concat(differing.Except(told)))}");
            Assert.Empty(told.Except(changed).Except(beyond));
        }
    }

    private static NaiveChecker Naive(Phase phase) => new(DemoShow.PlanText, DemoShow.Profile.Settings.Select(setting => setting.Path), phase.Word());

    private static Dictionary<string, string> Texts(DeskState state) =>
        DemoShow.Profile.Settings.ToDictionary(setting => setting.Path, setting => DemoShow.Profile.Format(state[setting.Id]), StringComparer.Ordinal);

    // At least one setting of every kind, planned ones and others, then any.
    private static IEnumerable<Setting> Picks(SeededNumbers numbers)
    {
        var settings = DemoShow.Profile.Settings;
        foreach (var kind in settings.GroupBy(setting => setting.Kind.Shape))
        {
            foreach (var half in kind.GroupBy(setting => DemoShow.Plan(Phase.Doors).For(setting.Id) is null))
            {
                var members = half.ToList();
                for (var i = 0; i < 2; i++)
                    yield return members[numbers.NextBelow(members.Count)];
            }
        }

        for (var i = 0; i < Mutations; i++)
            yield return settings[numbers.NextBelow(settings.Count)];
    }

    private static SettingValue Another(Setting setting, SettingValue before, SeededNumbers numbers)
    {
        for (var tries = 0; tries < 1000; tries++)
        {
            var text = setting.Codec switch
            {
                ScaleCodec { Steps: > 0 } scale => Near(scale, before, numbers),
                ScaleCodec => $"{before.Number + 0.5 + numbers.NextBelow(50)}",
                TextCodec => $"Other {numbers.NextBelow(100)}",
                var words => words.Words.ElementAt(numbers.NextBelow(words.Words.Count())),
            };
            Assert.True(setting.Codec.TryParse(text, out var value, out var problem), $"{setting.Path}: {problem}");
            if (value != before)
                return value;
        }

        throw new InvalidOperationException($"{setting.Path} has only one value");
    }

    // Half of the time a few steps away, so that both sides of a tolerance are met.
    private static string Near(ScaleCodec scale, SettingValue before, SeededNumbers numbers)
    {
        if (numbers.Chance(0.5) && double.IsFinite(before.Number))
        {
            var moved = before.Number + (numbers.NextUnit() - 0.5) * 5;
            if (scale.TryParse(moved.ToString("0.000"), out _, out _))
                return moved.ToString("0.000");
        }

        return scale.Kind == ValueKind.Level ? $"{-60 + numbers.NextBelow(70)}" : $"{numbers.NextBelow(60)}";
    }

    private static HashSet<string> AllowedTexts(Expectation expectation)
    {
        var setting = DemoShow.Profile.Settings[expectation.Setting];
        if (setting.Codec is not ScaleCodec { Steps: > 0 })
        {
            Assert.True(expectation.Allows(expectation.Planned));
            if (setting.Codec is ScaleCodec)
                Assert.InRange(expectation.High.Number - expectation.Low.Number, 0, expectation.Planned.Number / 1000);
            else
                Assert.Equal(expectation.Low, expectation.High);
            return [DemoShow.Profile.Format(expectation.Planned)];
        }

        var grid = setting.Kind.Suffix.EndsWith("gain", StringComparison.Ordinal) ? [.. Enumerable.Range(0, 61).Select(gain => (double)gain)] : NaiveValues.Faders;
        return [.. Enumerable.Range(expectation.Low.Step, expectation.High.Step - expectation.Low.Step + 1)
            .Select(step => grid[step].ToString("0.0##") + " dB")];
    }
}
