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
    [MemberData(nameof(ShippedShow.InAllPhases), MemberType = typeof(ShippedShow))]
    public void Compiler_plans_the_same_settings_with_the_same_values(string show, Phase phase)
    {
        var count = Agree(ShippedShow.Of(show), phase, null);
        output.WriteLine($"{count} planned settings agree in phase {phase.Word()}");
    }

    [Theory]
    [MemberData(nameof(ShippedShow.AtAllCues), MemberType = typeof(ShippedShow))]
    public void Compiler_plans_the_same_settings_with_the_same_values_at_a_cue(string show, string cue)
    {
        var count = Agree(ShippedShow.Of(show), Phase.Show, cue);
        var plan = ShippedShow.Of(show).Plan(Phase.Show, cue);
        var naive = Naive(ShippedShow.Of(show), Phase.Show, cue).Cue!;
        Assert.Equal(naive.Closed.Order(StringComparer.Ordinal), plan.Cue!.Closed.Select(item => item.Strip.Strip.Path).Order(StringComparer.Ordinal));
        Assert.Equal(naive.Open.Order(StringComparer.Ordinal),
            plan.Cue.Open.Where(item => item.Strips.Count == 1).Select(item => item.Strips[0].Strip.Path).Order(StringComparer.Ordinal));
        Assert.Equal(naive.Alternatives.Select(set => string.Join(' ', set)), plan.Cue.Open.Where(item => item.Strips.Count > 1).Select(item => string.Join(' ', item.Strips.Select(strip => strip.Strip.Path))));
        output.WriteLine($"{count} planned settings agree at {cue}; {naive.Open.Count()} open, {naive.Closed.Count()} closed");
    }

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void One_changed_setting_is_found_exactly_when_the_naive_checker_says_it_differs(string show)
    {
        var shipped = ShippedShow.Of(show);
        var seed = (ulong)TestSeed.Value;
        var numbers = new SeededNumbers(seed);
        var naive = Naive(shipped, Phase.Doors);
        var clean = shipped.CleanDesk();
        var desk = Texts(clean);
        Assert.Empty(naive.Differing(desk));
        var auditor = new Core.Auditing.Auditor(shipped.Plan(Phase.Doors));
        var kinds = new Dictionary<string, int>(StringComparer.Ordinal);
        var found = 0;
        var wrong = new List<string>();
        foreach (var setting in Picks(shipped, numbers))
        {
            var before = clean[setting.Id];
            var after = Another(setting, before, numbers);
            clean.Apply(setting.Id, after);
            desk[setting.Path] = shipped.Profile.Format(after);
            var differing = naive.Differing(desk).Union(NaiveRisks.Beyond(naive, desk)).Where(path => !NaiveRisks.IsExplained(naive, path, desk)).ToList();
            var findings = auditor.Judge(clean).Findings;
            // Beyond what is planned only inserts, partners and signals can be told: closed worlds plan every edge that a risk looks at.
            if (!findings.Select(finding => finding.Setting).Order(StringComparer.Ordinal).SequenceEqual(differing.Order(StringComparer.Ordinal)))
                wrong.Add($"{setting.Path} = {desk[setting.Path]}: naive {string.Join(", ", differing)}; findings {string.Join(", ", findings.Select(finding => finding.Id))}");
            found += differing.Count;
            kinds[setting.Kind.Shape] = kinds.GetValueOrDefault(setting.Kind.Shape) + 1;
            clean.Apply(setting.Id, before);
            desk[setting.Path] = shipped.Profile.Format(before);
        }

        output.WriteLine($"seed {seed}: {kinds.Values.Sum()} mutations over {kinds.Count} kinds of settings; {found} differ, {kinds.Values.Sum() - found} do not");
        Assert.True(wrong.Count == 0, $"seed {seed}\n{string.Join('\n', wrong)}");
        Assert.True(kinds.Values.Sum() >= 300 && found >= 150 && kinds.Values.Sum() - found >= 50, $"seed {seed}: one-sided, {found} of {kinds.Values.Sum()}");
        Assert.Equal(shipped.Profile.Settings.Select(setting => setting.Kind.Shape).Distinct().Count(), kinds.Count);
    }

    [Theory]
    [MemberData(nameof(ShippedShow.All), MemberType = typeof(ShippedShow))]
    public void Many_changes_at_once_are_all_told(string show)
    {
        var shipped = ShippedShow.Of(show);
        var seed = (ulong)TestSeed.Value + 1;
        var numbers = new SeededNumbers(seed);
        var naive = Naive(shipped, Phase.Doors);
        var auditor = new Core.Auditing.Auditor(shipped.Plan(Phase.Doors));
        for (var round = 0; round < 100; round++)
        {
            var state = shipped.CleanDesk();
            var changed = new HashSet<string>(StringComparer.Ordinal);
            for (var i = 0; i < 1 + numbers.NextBelow(40); i++)
            {
                var setting = shipped.Profile.Settings[numbers.NextBelow(shipped.Profile.Settings.Count)];
                state.Apply(setting.Id, Another(setting, state[setting.Id], numbers));
                changed.Add(setting.Path);
            }

            var texts = Texts(state);
            var beyond = NaiveRisks.Beyond(naive, texts).ToList();
            var differing = naive.Differing(texts).Union(beyond).Where(path => !NaiveRisks.IsExplained(naive, path, texts)).ToList();
            var told = auditor.Judge(state).Findings.Select(finding => finding.Setting).ToHashSet(StringComparer.Ordinal);
            Assert.True(told.SetEquals(differing), $"seed {seed}, round {round}: {string.Join(", ", told.Except(differing).Concat(differing.Except(told)))}");
            Assert.Empty(told.Except(changed).Except(beyond));
        }
    }

    private static int Agree(ShippedShow show, Phase phase, string? cue)
    {
        var naive = Naive(show, phase, cue);
        var compiled = show.Plan(phase, cue).Expectations.ToDictionary(item => show.Profile.Settings[item.Setting].Path, item => AllowedTexts(show, item), StringComparer.Ordinal);
        Assert.Equal(naive.Allowed.Keys.Order(StringComparer.Ordinal), compiled.Keys.Order(StringComparer.Ordinal));
        foreach (var (path, allowed) in naive.Allowed)
            Assert.True(allowed.SetEquals(compiled[path]), $"{path}: naive {string.Join(", ", allowed)}; compiled {string.Join(", ", compiled[path])}");
        return compiled.Count;
    }

    private static NaiveChecker Naive(ShippedShow show, Phase phase, string? cue = null) =>
        new(show.PlanText, NaiveDesk.Of(show.DeskFile), show.Profile.Settings.Select(setting => setting.Path), phase.Word(), cue);

    private static Dictionary<string, string> Texts(DeskState state) =>
        state.Profile.Settings.ToDictionary(setting => setting.Path, setting => state.Profile.Format(state[setting.Id]), StringComparer.Ordinal);

    // At least one setting of every kind, planned ones and others, then any.
    private static IEnumerable<Setting> Picks(ShippedShow show, SeededNumbers numbers)
    {
        var settings = show.Profile.Settings;
        foreach (var kind in settings.GroupBy(setting => setting.Kind.Shape))
        {
            foreach (var half in kind.GroupBy(setting => show.Plan(Phase.Doors).For(setting.Id) is null))
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

    private static HashSet<string> AllowedTexts(ShippedShow show, Expectation expectation)
    {
        var setting = show.Profile.Settings[expectation.Setting];
        if (setting.Codec is not ScaleCodec { Steps: > 0 })
        {
            Assert.True(expectation.Allows(expectation.Planned));
            if (setting.Codec is ScaleCodec)
                Assert.InRange(expectation.High.Number - expectation.Low.Number, 0, Math.Max(1, expectation.Planned.Number) / 1000);
            else
                Assert.Equal(expectation.Low, expectation.High);
            return [show.Profile.Format(expectation.Planned)];
        }

        var desk = NaiveDesk.Of(show.DeskFile);
        var grid = setting.Kind.Suffix.EndsWith("gain", StringComparison.Ordinal) ? desk.Gains : desk.Faders;
        return [.. Enumerable.Range(expectation.Low.Step, expectation.High.Step - expectation.Low.Step + 1)
            .Select(step => NaiveValues.Spell(grid[step]))];
    }
}
