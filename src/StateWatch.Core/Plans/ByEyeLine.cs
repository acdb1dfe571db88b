using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Something that no desk can tell, for a person to look at: a sentence.</summary>
/// <param name="Look">What should be so: <c>Wedge amplifiers are on</c>.</param>
/// <param name="Where">Where to look, or null.</param>
/// <param name="At">Where it is written.</param>
public sealed record ByEyeLine(string Look, string? Where, Origin At)
{
    /// <summary>The line of a checklist: <c>Wedge amplifiers are on (stage left)</c>.</summary>
    public string Text => Where is null ? Look : $"{Look} ({Where})";
}

/// <summary>A setting that this desk's profile does not map, for a person to look at.</summary>
/// <param name="Path">The path as written, perhaps with ranges.</param>
/// <param name="Be">What it should be, as written.</param>
public sealed record ByEyeSetting(ScalarNode Path, ScalarNode Be);
