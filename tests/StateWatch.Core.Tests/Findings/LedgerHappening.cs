using CsCheck;

namespace StateWatch.Core.Tests.Findings;

internal enum HappeningKind
{
    Observe,
    Flutter,
    Many,
    LinkUp,
    LinkLost,
    Gap,
    Snapshot,
    Acknowledge,
    Shelve,
    Unshelve,
    OutOfService,
    Return,
    Expect,
    EndExpected,
    Settle,
    EndSettling,
    EventEnds,
    Reload,
    Phase,
    SinkLost,
    SinkRecovered,
    Deliver,
    Restart,
    Restore,
    Look,
}

/// <summary>Something that happens to ledger and model alike, some ticks after the one before; what the numbers mean depends on its kind.</summary>
internal readonly record struct LedgerHappening(HappeningKind Kind, int Wait, int Check, int Number, bool Flag)
{
    private static readonly Gen<HappeningKind> Kinds = Gen.Frequency(
        (30, Gen.Const(HappeningKind.Observe)),
        (6, Gen.Const(HappeningKind.Flutter)),
        (7, Gen.Const(HappeningKind.Many)),
        (3, Gen.Const(HappeningKind.LinkUp)),
        (2, Gen.Const(HappeningKind.LinkLost)),
        (3, Gen.Const(HappeningKind.Gap)),
        (7, Gen.Const(HappeningKind.Snapshot)),
        (4, Gen.Const(HappeningKind.Acknowledge)),
        (4, Gen.Const(HappeningKind.Shelve)),
        (1, Gen.Const(HappeningKind.Unshelve)),
        (2, Gen.Const(HappeningKind.OutOfService)),
        (1, Gen.Const(HappeningKind.Return)),
        (4, Gen.Const(HappeningKind.Expect)),
        (1, Gen.Const(HappeningKind.EndExpected)),
        (5, Gen.Const(HappeningKind.Settle)),
        (1, Gen.Const(HappeningKind.EndSettling)),
        (1, Gen.Const(HappeningKind.EventEnds)),
        (2, Gen.Const(HappeningKind.Reload)),
        (1, Gen.Const(HappeningKind.Phase)),
        (2, Gen.Const(HappeningKind.SinkLost)),
        (3, Gen.Const(HappeningKind.SinkRecovered)),
        (6, Gen.Const(HappeningKind.Deliver)),
        (2, Gen.Const(HappeningKind.Restart)),
        (3, Gen.Const(HappeningKind.Restore)),
        (6, Gen.Const(HappeningKind.Look)));

    private static readonly Gen<int> Waits = Gen.Frequency(
        (4, Gen.Const(0)), (8, Gen.Int[0, 6]), (4, Gen.Int[5, 30]), (2, Gen.Int[30, 350]), (1, Gen.Int[300, 1300]));

    private static readonly Gen<int> LongWaits = Gen.Frequency((150, Waits), (1, Gen.Int[3000, 12500]));

    /// <summary>Anything at all.</summary>
    public static Gen<LedgerHappening> Any { get; } = Gen.Select(Kinds, LongWaits, Gen.Frequency((3, Gen.Int[0, 4]), (2, Gen.Int[0, DoubleLedger.Checks - 1])), Gen.Int[0, 999], Gen.Bool)
        .Select(static (kind, wait, check, number, flag) => new LedgerHappening(kind, wait, check, number, flag));
}
