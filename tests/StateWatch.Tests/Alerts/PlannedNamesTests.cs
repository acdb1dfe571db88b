using StateWatch.Alerts;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Watching;

namespace StateWatch.Tests.Alerts;

/// <summary>What names are hidden is known by the plans.</summary>
public sealed class PlannedNamesTests
{
    private const string Desk = """
        format: statewatch/desk/1
        desk: Nook 2
        link: { osc: udp, to: 127.0.0.1:9056 }
        strips: { input: 3, mix: 1 }
        codecs:
          yes: { wire: int, switch: [0, 1] }
          word: { wire: string, length: 16 }
        settings:
          "input/{i}/name": { at: "/seat/{i}/word", args: [word] }
          "input/{i}/on": { at: "/seat/{i}/awake", args: [yes] }
        """;

    [Fact]
    public void Names_of_a_plan_that_was_replaced_stay_known()
    {
        var names = new PlannedNames();
        var (first, second, other) = (Plan("inputs: { 1: { name: Ada } }"), Plan("inputs: { 1: { name: Ben } }"), Plan("inputs: { 2: { name: Cleo } }"));
        Assert.Equal(["Ada", "Cleo"], Distinct(names.With([first, other])));
        Assert.Equal(["Ada", "Ben", "Cleo"], Distinct(names.With([second, other])));
        Assert.Same(names.With([second, other]), names.With([second, other]));
    }

    private static IEnumerable<string> Distinct(IEnumerable<PlannedName> names) => names.Select(static one => one.Name).Distinct().Order(StringComparer.Ordinal);

    private static WatchedPlan Plan(string text)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("nook.desk.yaml", Desk), diagnostics);
        var document = PlanReader.Read(new SourceText("nook.plan.yaml", $"format: statewatch/show/1\nshow: Nook\ndesk: nook.desk.yaml\n{text}\n"), diagnostics);
        Assert.False(diagnostics.HasErrors, string.Join("\n", diagnostics.Items.Select(static item => $"{item.At}: {item.Message}")));
        var plan = new WatchedPlan(document!, profile!, "0123456789abcdef");
        Assert.False(plan.HasFaults(diagnostics), string.Join("\n", diagnostics.Items.Select(static item => $"{item.At}: {item.Message}")));
        return plan;
    }
}
