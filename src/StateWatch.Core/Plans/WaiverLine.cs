using System.Globalization;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>
/// One waiver: somebody knows of a finding, says why it may stay, and until when. It changes no severity, verdict or exit code; it is printed.
/// </summary>
/// <param name="Finding">The finding's id, <c>rule:subject</c>.</param>
/// <param name="Owner">Who answers for it.</param>
/// <param name="Why">Why it may stay.</param>
/// <param name="Until">The last day it counts, where the show is (its zone, or local time).</param>
/// <param name="UntilAt">Where that day is written.</param>
public sealed record WaiverLine(ScalarNode Finding, string Owner, string Why, DateOnly Until, Origin UntilAt)
{
    /// <summary>The rule's id.</summary>
    public string Rule => Finding.Text[..Finding.Text.IndexOf(':', StringComparison.Ordinal)];

    /// <summary>What it is about: a setting path, or two strips or a strip and a feed with <c>&gt;</c> between them.</summary>
    public string Subject => Finding.Text[(Finding.Text.IndexOf(':', StringComparison.Ordinal) + 1)..];

    /// <summary>The last day it counts, as ISO 8601 writes it: <c>2026-12-31</c>.</summary>
    public string UntilText => Until.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>Whether it counts on a day.</summary>
    public bool IsActive(DateOnly day) => day <= Until;
}
