using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Compiles feeds that take direct outs instead of a bus, such as personal monitors: every listed strip has the next place of the feed.</summary>
internal sealed class DirectCompiler(PlanDocument document, DeskProfile profile, PlanNames names, StatementTable table, IReadOnlyList<PlannedStrip> strips, OutputCompiler outputs, DiagnosticBag diagnostics)
{
    public void Compile()
    {
        foreach (var line in document.Feeds)
        {
            if (line.Direct.Count > 0 && names.Feeds.FirstOrDefault(feed => feed.At == line.Key.At) is { } feed)
                Compile(line, feed);
        }
    }

    private void Compile(FeedLine line, Feed feed)
    {
        var sources = Sources(line);
        outputs.SayEach(feed, line);
        if (sources.Count > feed.Outputs.Count && feed.Outputs.Count > 0)
        {
            diagnostics.Add(PlanCodes.TooManySources, line.Out[0].At, $"feed '{feed.Key}' has {sources.Count} sources for {feed.Outputs.Count} places; {sources[feed.Outputs.Count].Name} is the first without one",
                "name more places, or fewer sources");
            return;
        }

        var at = 0;
        foreach (var item in line.Out)
        {
            if (!NumberSet.TryParseWithWord(item.Text, out var bank, out var numbers))
                continue;
            for (var i = 0; i < numbers.Length && at < sources.Count && at < feed.Outputs.Count; i++, at++)
                Say(sources[at].Strip, $"{bank} {numbers[i]}", feed.Outputs[at], item, line.Tap);
        }
    }

    // A desk may tell the patch at the strip, at the output or at both. At the output it also shows another strip's direct out on that place.
    private void Say(Strip strip, string place, string output, ScalarNode item, ScalarNode? tap)
    {
        var (own, source) = (profile.Find($"{strip.Path}/direct-out"), profile.Find($"{output}/source"));
        var direct = $"input {strip.Number} direct";
        var isTold = source >= 0 && profile.Settings[source].Codec is var codec && codec.TryParse(direct, out _, out _);
        if (isTold)
            table.SayById(source, item, direct, Ranks.Feed);
        if (own >= 0 || !isTold)
            table.Say($"{strip.Path}/direct-out", item, place, Ranks.Feed);
        if (tap is not null)
            table.Say($"{strip.Path}/direct-out/tap", tap, tap.Text, Ranks.Feed);
    }

    private List<PlannedStrip> Sources(FeedLine line)
    {
        var found = new List<PlannedStrip>();
        var inputs = strips.Where(strip => strip.Strip.Kind == "input").ToList();
        foreach (var name in line.Direct)
        {
            if (document.Roles.Any(role => role.Key.Text == name.Text))
                found.AddRange(inputs.Where(strip => strip.Role == name.Text && !found.Contains(strip)));
            else if (inputs.Find(strip => strip.Name == name.Text) is not { } single)
                names.Unknown(name, "role or input", document.Roles.Select(role => role.Key.Text).Concat(inputs.Select(strip => strip.Name)), "write a role, or the name of an input");
            else if (!found.Contains(single))
                found.Add(single);
        }

        return found;
    }
}
