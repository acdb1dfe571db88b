using CsCheck;

namespace StateWatch.Core.Tests.Findings;

public class LedgerModelTests(ITestOutputHelper output)
{
    private static int Sequences { get; } = TestNumber.Of("STATEWATCH_LEDGERS", 2_000);

    // To see one that failed again without living through all before it.
    private static int First { get; } = TestNumber.Of("STATEWATCH_LEDGERS_FROM", 0);

    [Fact]
    public void Whatever_happens_ledger_and_reference_model_agree_on_every_state_and_announcement()
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var told = 0;
        var random = new PCG(11, (ulong)TestSeed.Value);
        for (var sequence = 0; sequence < Sequences; sequence++)
        {
            var happenings = LedgerHappening.Any.Array[20, 70].Generate(random, null, out _);
            if (sequence < First)
                continue;
            var pair = new DoubleLedger(sequence % 5 > 0);
            for (var step = 0; step < happenings.Length; step++)
            {
                try
                {
                    pair.Happen(happenings[step]);
                    if (step % 3 == 0)
                        pair.Compare(happenings[step].ToString());
                }
                catch (Exception fault)
                {
                    throw new InvalidOperationException($"seed {TestSeed.Value}, sequence {sequence}, step {step}: {fault.Message}\nafter\n{string.Join('\n', happenings.Take(step + 1).TakeLast(70))}", fault);
                }
            }

            pair.Compare("the end");
            if (sequence % 20 < 2)
                pair.Settle(sequence % 2 == 0);
            told += pair.Told.Count;
            seen.UnionWith(pair.Seen);
        }

        output.WriteLine($"ledgers: {Sequences} sequences from seed {TestSeed.Value}, {told} announcements");
        output.WriteLine(string.Join(", ", seen.Order(StringComparer.Ordinal)));
        // What random happenings never reach would be agreed on for nothing.
        foreach (var kind in Enum.GetNames<Core.Findings.LevelKind>().Concat(["digest", "bulk-change", "source-unreachable", "incomplete-view", "HoldBegan damped", "Closed plan-changed", "Closed phase-changed", "Shelve EventOver", "Shelve Protected"]))
            Assert.Contains(kind, seen);
    }
}
