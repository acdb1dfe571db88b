using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>Guards against a naive reading of plan and desk, where whatever could move a level moves.</summary>
public class GuardDifferentialTests(ITestOutputHelper output)
{
    private const int Rounds = 800;

    [Fact]
    public void Whatever_moves_a_guard_tells_exactly_the_sources_that_a_naive_walk_finds_too_loud()
    {
        var shipped = ShippedShow.Of("saltmarsh-weekly");
        var plan = shipped.Plan(Phase.Doors);
        var naive = new NaiveChecker(shipped.PlanText, NaiveDesk.Of(shipped.DeskFile), shipped.Profile.Settings.Select(setting => setting.Path), Phase.Doors.Word());
        var auditor = new Core.Auditing.Auditor(plan);
        var guarded = naive.WithRole("talker").ToList();
        var numbers = new SeededNumbers((ulong)TestSeed.Value + 5);
        // All that lies on any way from a talker: its own, its socket's, groups', mixes' and the mains'.
        var own = shipped.Profile.Settings.Where(setting => IsLevelOrConnection(setting) && guarded.Exists(item => setting.Path.StartsWith(item.Strip + "/", StringComparison.Ordinal) || setting.Path == $"socket/{item.Socket}/gain")).ToList();
        var shared = shipped.Profile.Settings.Where(setting => IsLevelOrConnection(setting) && setting.Kind.StripKind is "group" or "main" or "dca" or "mix" or "matrix").ToList();
        var near = own.Where(setting => setting.Kind.Suffix is "fader" or "trim" or "gain" or "assign/<bus>/#").ToList();
        var (told, byUnplanned) = (0, 0);
        for (var round = 0; round < Rounds; round++)
        {
            var state = shipped.CleanDesk();
            var changed = new List<string>();
            for (var i = 0; i < 1 + numbers.NextBelow(12); i++)
            {
                var setting = numbers.NextBelow(5) switch
                {
                    0 => shared[numbers.NextBelow(shared.Count)],
                    1 => own[numbers.NextBelow(own.Count)],
                    _ => near[numbers.NextBelow(near.Count)],
                };
                var text = setting.Codec.Kind switch
                {
                    ValueKind.Switch => state[setting.Id].IsOn ? "off" : "on",
                    ValueKind.Level or ValueKind.Number when setting.Kind.Suffix == "pan" => "40 %",
                    ValueKind.Level or ValueKind.Number => $"{10 - numbers.NextBelow(20)} dB",
                    _ => setting.Codec.Words.ElementAt(numbers.NextBelow(setting.Codec.Words.Count())),
                };
                if (!setting.Codec.TryParse(text, out var value, out _))
                    continue;
                state.Apply(setting.Id, value);
                changed.Add($"{setting.Path} = {text}");
            }

            var texts = shipped.Profile.Settings.ToDictionary(setting => setting.Path, setting => shipped.Profile.Format(state[setting.Id]), StringComparer.Ordinal);
            var expected = NaiveGuard.Moved(naive, texts).Order(StringComparer.Ordinal).ToList();
            var found = auditor.Judge(state).Findings.Where(finding => finding.Rule.Id == "level-guard").Select(finding => finding.Subject).Order(StringComparer.Ordinal).ToList();
            Assert.True(expected.SequenceEqual(found), $"seed {TestSeed.Value}, round {round}: naive {string.Join(' ', expected)}; told {string.Join(' ', found)}\n{string.Join('\n', changed)}");
            told += found.Count;
            byUnplanned += changed.Exists(line => line.Contains("/assign/", StringComparison.Ordinal) && line.EndsWith(" on", StringComparison.Ordinal)) ? found.Count : 0;
        }

        output.WriteLine($"{told} sources told, {byUnplanned} of them beside a connection that the plan does not make");
        Assert.True(told > 60 && byUnplanned > 30, $"{told} told, {byUnplanned} beside unplanned connections");
    }

    private static bool IsLevelOrConnection(Setting setting) => setting.Kind.Suffix is "fader" or "trim" or "gain" or "on" or "pan" or "dca/#" or "assign/<bus>/#" or "send/<bus>/#/on" or "send/<bus>/#/level" or "send/<bus>/#/tap";
}
