using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>
/// Something for one sink, to be stored together with the ledger's state before it is sent, and handed back by <see cref="FindingLedger.Delivered"/>
/// when the sink has taken it. One id always means the same change, however often it is sent.
/// </summary>
/// <param name="Sink">For whom.</param>
/// <param name="Key">site/desk/rule:subject, or site/desk/digest.</param>
/// <param name="Level">What is told; the kind none means cleared. Of a digest only the number counts.</param>
/// <param name="Condition">Where the finding stands at this moment; what is unstable may be on plan just now.</param>
/// <param name="At">When it came about.</param>
public sealed record Announcement(string Sink, string Key, Level Level, Condition Condition, Moment At)
{
    /// <summary>Who acknowledged it, put it aside or took it out of service, where that is what is told; else null.</summary>
    public string? By { get; init; }

    /// <summary>Of what is cleared: <c>recovered</c>, <c>plan-changed</c>, <c>phase-changed</c>, or <c>less-severe</c> where it stands and matters less than the sink is told. Of what is held: the hold's word, and why. Else null.</summary>
    public string? Why { get; init; }

    /// <summary>Of a digest: its lines, protected checks first, then by key. Else null.</summary>
    public IReadOnlyList<DigestLine>? Digest { get; init; }

    /// <summary>Of a bulk change: the keys of its members, protected checks first, then by key. Else empty.</summary>
    public IReadOnlyList<string> Members { get; init; } = [];

    /// <summary>key#episode, the same for everything told of one episode.</summary>
    public string Subject => $"{Key}#{Level.Episode}";

    /// <summary>key#episode#transition.</summary>
    public string Id => $"{Key}#{Level.Episode}#{Level.Transition}";
}

/// <summary>One line of a digest.</summary>
/// <param name="Key">site/desk/rule:subject.</param>
/// <param name="Level">What is told.</param>
/// <param name="Passed">0 for a line that tells the level; else how many episodes came and went without being told, the last of which is that of the level.</param>
/// <param name="Severity">How much it matters, or mattered.</param>
public readonly record struct DigestLine(string Key, Level Level, int Passed, Severity Severity);
