using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Strips that a plan names as left and right of one source, and whether the plan sends a strip into a bus.</summary>
internal static class StereoPairs
{
    /// <summary>Every pair that can be sent somewhere: inputs and groups that are <c>stereo: true</c>, and the two buses of a stereo feed; as paths such as <c>input/35</c>.</summary>
    public static List<(string Left, string Right)> Of(ShowPlan plan)
    {
        var pairs = new HashSet<(string, string)>();
        AddLines(pairs, plan.Document.Inputs, "input");
        AddLines(pairs, plan.Document.Groups, "group");
        foreach (var line in plan.Document.Effects)
        {
            if (line.Keys.IsStereo && line.Return is not null && NumberSet.TryParseWithWord(line.Return.Text, out var kind, out var numbers) && numbers.Length == 2)
                pairs.Add(($"{kind}/{numbers[0]}", $"{kind}/{numbers[1]}"));
        }

        foreach (var feed in plan.Feeds)
        {
            if (feed.Stereo && feed.Buses.Count == 2)
                pairs.Add((feed.Buses[0], feed.Buses[1]));
        }

        return [.. pairs];
    }

    /// <summary>The setting that lets a strip into a bus, an assign or a send's switch, or -1 when the profile sees none.</summary>
    public static int EdgeOf(ShowPlan plan, string strip, string bus) =>
        plan.Profile.Find($"{strip}/assign/{bus}") is >= 0 and var assign ? assign : plan.Profile.Find($"{strip}/send/{bus}/on");

    /// <summary>The expectation by which the plan sends a strip into a bus, or null when it does not or only at -inf.</summary>
    public static Expectation? PlannedEdge(ShowPlan plan, string strip, string bus)
    {
        var edge = EdgeOf(plan, strip, bus);
        if (edge < 0 || plan.For(edge) is not { Planned.IsOn: true } expectation)
            return null;
        return plan.For(EdgePaths.LevelOf(plan.Profile, plan.Profile.Settings[edge])) is { High: { Kind: ValueKind.Level } high } && double.IsNegativeInfinity(high.Number) ? null : expectation;
    }

    private static void AddLines(HashSet<(string, string)> pairs, IReadOnlyList<StripLine> lines, string kind)
    {
        foreach (var line in lines)
        {
            if (!line.Keys.IsStereo)
                continue;
            for (var i = 0; i + 1 < line.Numbers.Count; i += 2)
                pairs.Add(($"{kind}/{line.Numbers[i]}", $"{kind}/{line.Numbers[i + 1]}"));
        }
    }
}
