using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>The rules of cues against a checker that knows nothing but setting texts, over random desks and random cues.</summary>
public class CueDifferentialTests(ITestOutputHelper output)
{
    private static readonly string[] Talkers = ["25"];
    private static readonly string[] Handhelds = ["28", "29", "30", "31"];
    private static readonly string[] Closed = ["input/15", "input/16", "input/17", "input/18", "input/19", "input/20", "input/21", "input/22", "input/23", "input/24", "group/3", "fx-return/1", "fx-return/2"];

    [Fact]
    public void Random_desks_are_judged_as_the_naive_checker_does()
    {
        var seed = (ulong)TestSeed.Value + 7;
        var numbers = new SeededNumbers(seed);
        var plan = CueShow.Compile(DemoShow.PlanText, Phase.Show);
        var auditor = new Auditor(plan);
        string[] strips = [.. Talkers.Concat(Handhelds).Select(number => $"input/{number}"), .. Closed];
        var counts = new int[2];
        for (var round = 0; round < 400; round++)
        {
            var state = CueShow.CleanDesk(plan);
            for (var change = numbers.NextBelow(12); change >= 0; change--)
                Change(state, strips[numbers.NextBelow(strips.Length)], numbers);
            var expected = Expected(state).Order(StringComparer.Ordinal).ToList();
            var findings = auditor.Judge(state).Findings;
            var told = findings.Where(item => item.Rule.Id.StartsWith("cue-", StringComparison.Ordinal)).Select(item => item.Id).Order(StringComparer.Ordinal);
            Assert.True(expected.SequenceEqual(told), $"seed {seed}, round {round}: naive {string.Join(", ", expected)}; findings {string.Join(", ", findings.Select(item => item.Id))}");
            // No mute is told a second time as a plain drift.
            Assert.DoesNotContain(findings, item => item.Rule.Id == "drift" && strips.Any(strip => item.Setting == $"{strip}/on"));
            counts[0] += expected.Count(id => id.StartsWith("cue-not-open", StringComparison.Ordinal));
            counts[1] += expected.Count(id => id.StartsWith("cue-not-closed", StringComparison.Ordinal));
        }

        output.WriteLine($"seed {seed}: {counts[0]} not open, {counts[1]} not closed in 400 desks");
        Assert.True(counts[0] > 100 && counts[1] > 100, $"seed {seed}: one-sided, {counts[0]} and {counts[1]}");
    }

    [Fact]
    public void Desk_prepared_from_the_plan_at_any_cue_is_as_planned()
    {
        var seed = (ulong)TestSeed.Value + 8;
        var numbers = new SeededNumbers(seed);
        string[] names =
        [
            "Lectern", "Headset 1", "Headset", "Handheld 2", "Handheld", "talker", "choir", "Choir 3", "vocal", "drums", "Kick", "Playback", "playback", "Film R", "Voices", "Singers",
            "Drum squash", "Hall", "Plate", "audience", "click",
        ];
        var (compiled, refused) = (0, 0);
        for (var round = 0; round < 60; round++)
        {
            string Some() => string.Join(", ", Enumerable.Range(0, 1 + numbers.NextBelow(4)).Select(_ => names[numbers.NextBelow(names.Length)]).Distinct());
            var effects = numbers.NextBelow(3) switch { 0 => "", 1 => ", effects: muted", _ => ", effects: open" };
            var text = CueShow.Of(DemoShow.PlanText).Replace("open: [Lectern, Handheld], closed: [choir, vocal, Singers], effects: muted", $"open: [{Some()}], closed: [{Some()}]{effects}", StringComparison.Ordinal);
            var diagnostics = new DiagnosticBag();
            var phase = (Phase)numbers.NextBelow(4);
            var plan = PlanCompiler.Compile(PlanReader.Read(new SourceText("x.plan.yaml", text), diagnostics)!, DemoShow.Profile, phase, diagnostics, cue: "Sermon");
            if (plan is null)
            {
                refused++;
                Assert.All(diagnostics.Items.Where(item => item.Code.Level == DiagnosticLevel.Error), item => Assert.Equal("conflict", item.Code.Id));
                continue;
            }

            compiled++;
            Assert.Equal([], new Auditor(plan).Judge(CueShow.CleanDesk(plan)).Findings.Select(item => $"seed {seed}, round {round}: {item.Id}"));
        }

        output.WriteLine($"seed {seed}: {compiled} cues compiled, {refused} refused as contradictions");
        Assert.True(compiled > 20, $"seed {seed}: {compiled}");
    }

    private static void Change(DeskState state, string strip, SeededNumbers numbers)
    {
        var (group, dca) = (1 + numbers.NextBelow(3), 1 + numbers.NextBelow(8));
        var onOff = numbers.Chance(0.5) ? "on" : "off";
        switch (numbers.NextBelow(7))
        {
            case 0 or 1:
                state.Set($"{strip}/on", onOff);
                break;
            case 2:
                state.Set($"{strip}/fader", numbers.Chance(0.5) ? "-inf" : "-60 dB");
                break;
            case 3:
                state.Set($"{strip}/mute-group/{group}", onOff);
                break;
            case 4:
                state.Set($"mute-group/{group}/active", onOff);
                break;
            case 5:
                state.Set($"{strip}/dca/{dca}", onOff);
                break;
            default:
                if (numbers.Chance(0.5))
                    state.Set($"dca/{dca}/on", onOff);
                else
                    state.Set($"dca/{dca}/fader", onOff == "on" ? "0 dB" : "-inf");
                break;
        }
    }

    private static IEnumerable<string> Expected(DeskState state)
    {
        foreach (var number in Talkers.Where(number => !IsOpen(state, $"input/{number}")))
            yield return $"cue-not-open:input/{number}/on";
        if (!Handhelds.Any(number => IsOpen(state, $"input/{number}")))
            yield return $"cue-not-open:input/{Handhelds[0]}/on";
        foreach (var strip in Closed.Where(strip => IsOpen(state, strip)))
            yield return $"cue-not-closed:{strip}/on";
    }

    private static bool IsOpen(DeskState state, string strip) =>
        state.Get($"{strip}/on") == "on" && state.Get($"{strip}/fader") != "-inf dB"
        && !Enumerable.Range(1, 6).Any(group => state.Get($"{strip}/mute-group/{group}") == "on" && state.Get($"mute-group/{group}/active") == "on")
        && !Enumerable.Range(1, 8).Any(dca => state.Get($"{strip}/dca/{dca}") == "on" && (state.Get($"dca/{dca}/on") == "off" || state.Get($"dca/{dca}/fader") == "-inf dB"));
}
