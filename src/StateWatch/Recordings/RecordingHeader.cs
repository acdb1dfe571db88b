using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Recordings;

/// <summary>What a recording begins with: everything that a watch is made of.</summary>
/// <param name="Format"><see cref="CurrentFormat"/>.</param>
/// <param name="Program">Version of the program that wrote it; told only.</param>
/// <param name="Desk">site/desk.</param>
/// <param name="Address">Where the desk was, as messages name it.</param>
/// <param name="Frequency">Ticks a second of the link's clock.</param>
/// <param name="Plan">Plan and profile.</param>
/// <param name="Sinks">Those who were told.</param>
internal sealed record RecordingHeader(string Format, string Program, string Desk, string Address, long Frequency, RecordedPlan Plan, IReadOnlyList<RecordedSink> Sinks)
{
    /// <summary>The format that is written and read.</summary>
    public const string CurrentFormat = "statewatch/recording/1";

    /// <summary>The phase to begin with; null for the one that was stored, or that the plan says for sweeps.</summary>
    public Phase? Phase { get; init; }

    /// <summary>What was stored of the desk when it began, or null.</summary>
    public StoredDesk? Stored { get; init; }

    /// <summary>Whether everything that was stored is of this desk: all that is told of a finding goes by its key.</summary>
    public bool IsOfOneDesk => Stored is null || (Stored.Ledger.Findings.All(finding => IsOwn(finding?.Key)) && Stored.Words.Keys.All(IsOwn));

    private bool IsOwn(string? key) => key is not null && key.StartsWith(Desk, StringComparison.Ordinal) && key.AsSpan(Desk.Length) is ['/', _, ..];
}

/// <summary>Plan and profile as texts.</summary>
/// <param name="Fingerprint">SHA-256 of the texts, hexadecimal.</param>
/// <param name="Files">The plan, the plans below it, the profile last.</param>
internal sealed record RecordedPlan(string Fingerprint, IReadOnlyList<RecordedFile> Files)
{
    /// <summary>What is recorded of a plan.</summary>
    public static RecordedPlan Of(WatchedPlan plan) => new(plan.Fingerprint, [.. plan.Sources.Select(static source => new RecordedFile(source.Name, source.Text))]);
}

/// <summary>One file.</summary>
/// <param name="Name">Its name for messages.</param>
/// <param name="Text">Its text.</param>
internal sealed record RecordedFile(string Name, string Text);

/// <summary>Somebody who was told.</summary>
/// <param name="Name">The name.</param>
/// <param name="Least">What mattered less was not told there.</param>
internal sealed record RecordedSink(string Name, Severity Least);
