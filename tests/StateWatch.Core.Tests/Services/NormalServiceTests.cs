using StateWatch.Core.Documents;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Services;

/// <summary>
/// False alarms kill trust: what people legitimately move in a service raises nothing above notice, and a real fault among it is found.
/// </summary>
public class NormalServiceTests(ITestOutputHelper output)
{
    /// <summary>How many seeds each show gets; STATEWATCH_SERVICES gives another number.</summary>
    private static int Seeds { get; } = TestNumber.Of("STATEWATCH_SERVICES", 2);

    /// <summary>The crew finds its way by the names and sockets of this desk.</summary>
    public static TheoryData<string> OnTheLarch => [.. ShippedShow.Names.Where(name => ShippedShow.Of(name).DeskFile == "larch-48.desk.yaml")];

    [Theory]
    [MemberData(nameof(OnTheLarch))]
    public void Two_normal_services_raise_nothing_above_notice(string show)
    {
        var total = Run(show, plantFaults: false);
        Assert.True(total.FalseAlarms.Count == 0, $"seed {TestSeed.Value}: {Counts(total.FalseAlarms)}");
        // The crew must have been at work, and the desk off plan, or nothing was proved.
        Assert.True(total.Sweeps >= 600 * Seeds && total.Moves >= 1000 * Seeds && total.OffPlan >= 10L * total.Sweeps, $"{total.Sweeps} sweeps, {total.Moves} moves, {total.OffPlan} off plan");
    }

    [Theory]
    [MemberData(nameof(OnTheLarch))]
    public void Faults_in_two_normal_services_are_all_found(string show)
    {
        var total = Run(show, plantFaults: true);
        Assert.True(total.Missed.Count == 0, $"seed {TestSeed.Value}: {string.Join("\n", total.Missed.Take(20))}");
        Assert.True(total.FalseAlarms.Count == 0, $"seed {TestSeed.Value}: {Counts(total.FalseAlarms)}");
        Assert.True(total.Found.Count >= 12, Counts(total.Found));
    }

    private Totals Run(string name, bool plantFaults)
    {
        var shipped = ShippedShow.Of(name);
        var total = new Totals();
        var text = Language.WithHandsOn(shipped, out var handsOn);
        var (doors, inShow) = (shipped.Compile(text, Phase.Doors, new DiagnosticBag(), out _)!, shipped.Compile(text, Phase.Show, new DiagnosticBag(), out _)!);
        for (var i = 0; i < Seeds; i++)
            total.Add(new NormalService(doors, inShow, (ulong)(TestSeed.Value + i), handsOn, plantFaults).Run());
        output.WriteLine($"{name}{(plantFaults ? " with faults" : "")}: {Seeds} seeds, {total.Sweeps:N0} sweeps, {total.Moves:N0} moves, {total.OffPlan / Math.Max(1, total.Sweeps)} settings off plan in a sweep, "
            + $"{total.FalseSweeps:N0} sweeps with a false alarm ({Counts(total.FalseAlarms)}); notices {Counts(total.Notices)}"
            + (plantFaults ? $"; planted and found {Counts(total.Found)}; missed {total.Missed.Count}" : ""));
        return total;
    }

    private static string Counts(SortedDictionary<string, int> counts) =>
        counts.Count == 0 ? "none" : string.Join(", ", counts.Select(pair => $"{pair.Key} {pair.Value:N0}"));

    private sealed class Totals
    {
        public int Sweeps { get; private set; }

        public int Moves { get; private set; }

        public long OffPlan { get; private set; }

        public int FalseSweeps { get; private set; }

        public SortedDictionary<string, int> FalseAlarms { get; } = new(StringComparer.Ordinal);

        public SortedDictionary<string, int> Notices { get; } = new(StringComparer.Ordinal);

        public SortedDictionary<string, int> Found { get; } = new(StringComparer.Ordinal);

        public List<string> Missed { get; } = [];

        public void Add(NormalService one)
        {
            Sweeps += one.Sweeps;
            Moves += one.Moves;
            OffPlan += one.OffPlan;
            FalseSweeps += one.FalseSweeps;
            Add(FalseAlarms, one.FalseAlarms);
            Add(Notices, one.Notices);
            Add(Found, one.Found);
            Missed.AddRange(one.Missed);
        }

        private static void Add(SortedDictionary<string, int> sum, IReadOnlyDictionary<string, int> counts)
        {
            foreach (var (key, count) in counts)
                sum[key] = sum.GetValueOrDefault(key) + count;
        }
    }
}
