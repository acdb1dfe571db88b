using StateWatch.Core.Auditing;

namespace StateWatch.Core.Findings;

/// <summary>Somebody knows of a finding.</summary>
/// <param name="By">Who.</param>
/// <param name="Until">On the monotonic clock: when it expires.</param>
/// <param name="Severity">How much it mattered then.</param>
/// <param name="Band">How far away it was then.</param>
public sealed record Acknowledgement(string By, TimeSpan Until, Severity Severity, int Band);

/// <summary>Somebody put a finding aside, or took it out of service.</summary>
/// <param name="By">Who.</param>
/// <param name="Why">Why.</param>
/// <param name="Until">On the monotonic clock: when it ends.</param>
/// <param name="OnlyEpisode">The one episode it is for; null for all until its end.</param>
public sealed record HoldOrder(string By, string Why, TimeSpan Until, int? OnlyEpisode = null);

/// <summary>One change that is expected.</summary>
/// <param name="Key">site/desk/rule:subject.</param>
/// <param name="Values">Canonical texts of the live values that are permitted; at least one.</param>
public sealed record ExpectedChange(string Key, IReadOnlyList<string> Values);

/// <summary>Changes that are expected for a while: drift to other values, or of other checks, is told as ever.</summary>
/// <param name="Id">Name of the window; one of the same name is replaced.</param>
/// <param name="By">Who.</param>
/// <param name="Why">Why.</param>
/// <param name="Until">On the monotonic clock: its hard end.</param>
/// <param name="Changes">What is expected; at least one.</param>
public sealed record ExpectedWindow(string Id, string By, string Why, TimeSpan Until, IReadOnlyList<ExpectedChange> Changes)
{
    /// <summary>Whether it is no expected change but the time a desk is given to get to another plan: any value is permitted, and what is off plan at the end begins then.</summary>
    public bool IsSettling { get; init; }
}
