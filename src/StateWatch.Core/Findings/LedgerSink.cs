using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>Somebody who is told.</summary>
/// <param name="Name">The name.</param>
/// <param name="Least">What matters less than this is not told there; it is in the journal all the same.</param>
public readonly record struct LedgerSink(string Name, Severity Least = Severity.Notice)
{
    /// <summary>A sink that is told everything.</summary>
    public static implicit operator LedgerSink(string name) => FromString(name);

    /// <summary>A sink that is told everything.</summary>
    public static LedgerSink FromString(string name) => new(name);
}
