using StateWatch.Core.Documents;

namespace StateWatch.Upgrades;

/// <summary>What has to change in a file so that it is of the next format.</summary>
/// <param name="From">The format it is of, such as <c>statewatch/show/1</c>.</param>
/// <param name="To">The format it is of afterwards.</param>
/// <param name="Changes">The scalars to write anew, besides the format line, each with its new text.</param>
internal sealed record FormatStep(string From, string To, Func<MapNode, IEnumerable<(ScalarNode Old, string New)>> Changes)
{
    /// <summary>All steps there are, oldest first. There are none: every format is in its first version.</summary>
    public static IReadOnlyList<FormatStep> All { get; } = [];
}
