namespace StateWatch.Core.Routing;

/// <summary>What of a source arrives at a feed.</summary>
public enum PairState : byte
{
    /// <summary>Nothing: no way is open.</summary>
    Closed,

    /// <summary>Ways are open but cancel each other.</summary>
    Cancelled,

    /// <summary>It arrives.</summary>
    Carried,

    /// <summary>A way leads through a circle of buses that does not die away: it howls.</summary>
    Unstable,
}

/// <summary>States of pairs.</summary>
public static class PairStates
{
    /// <summary>What is left of the sum of all ways below which they count as cancelled: -120 dB.</summary>
    public const double Cancelled = 1e-6;

    /// <summary>The state of a pair from its two gains.</summary>
    /// <param name="signed">Signed sum of all ways.</param>
    /// <param name="total">Sum of their magnitudes.</param>
    public static PairState Of(double signed, double total) =>
        total == 0 ? PairState.Closed
        : !double.IsFinite(total) ? PairState.Unstable
        : Math.Abs(signed) <= Cancelled * total ? PairState.Cancelled
        : PairState.Carried;
}
