using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Compiles where feeds leave the desk: which output carries which signal, with its delay and limiter.</summary>
internal sealed class OutputCompiler(DeskProfile profile, StatementTable table, DiagnosticBag diagnostics)
{
    private readonly Dictionary<string, Origin> _owners = new(StringComparer.Ordinal);

    /// <summary>The output strips that a feed's <c>out:</c> names, in the order written; empty when any of them cannot be read.</summary>
    public List<string> Read(IReadOnlyList<ScalarNode> items)
    {
        var outputs = new List<string>();
        var readable = true;
        foreach (var item in items)
            readable &= Read(item, outputs);
        return readable ? outputs : [];
    }

    /// <summary>Says what each output of a feed carries: its signals in order, and those again for every further item of the list.</summary>
    public void Say(FeedLine line, Feed feed)
    {
        if (feed.Outputs.Count == 0 || feed.Buses.Count == 0)
            return;
        var signals = Signals(feed);
        // One signal may leave anywhere. Several leave once at 'stage 1-2', and again for every further item of a list.
        if (signals.Count > 1 && (line.Out.Count == 1 ? feed.Outputs.Count != signals.Count : feed.Outputs.Count % signals.Count != 0))
        {
            diagnostics.Add(PlanCodes.CountMismatch, line.Out[0].At,
                $"feed '{feed.Key}' has {signals.Count} signals ({string.Join(", ", signals)}) but {feed.Outputs.Count} outputs", "name one output for each");
            return;
        }

        var at = 0;
        foreach (var item in line.Out)
        {
            for (var count = CountOf(item); count > 0; count--, at++)
                table.Say($"{feed.Outputs[at]}/source", item, signals[at % signals.Count], Ranks.Feed);
        }

        SayEach(feed, line);
    }

    /// <summary>Says what stands in <c>delay:</c> and <c>limiter:</c>: one value for all outputs, or one for each in their order.</summary>
    public void SayEach(Feed feed, FeedLine line)
    {
        SayEach(feed, line.Delay, "delay", static text => text);
        SayEach(feed, line.Limiter, "limiter/in", static text => text is "in" ? "on" : text is "out" ? "off" : text);
    }

    private static int CountOf(ScalarNode item) => NumberSet.TryParseWithWord(item.Text, out _, out var numbers) ? numbers.Length : 0;

    private void SayEach(Feed feed, IReadOnlyList<ScalarNode> values, string suffix, Func<string, string> spell)
    {
        if (values.Count > 1 && values.Count != feed.Outputs.Count)
        {
            diagnostics.Add(PlanCodes.CountMismatch, values[0].At, $"feed '{feed.Key}' has {feed.Outputs.Count} outputs but {values.Count} values here", "write one for all of them, or one for each in their order");
            return;
        }

        for (var i = 0; i < feed.Outputs.Count && values.Count > 0; i++)
        {
            var value = values[values.Count == 1 ? 0 : i];
            table.Say($"{feed.Outputs[i]}/{suffix}", value, spell(value.Text), Ranks.Feed);
        }
    }

    // What leaves the desk: each bus, a stereo bus as its two sides.
    private List<string> Signals(Feed feed)
    {
        var signals = new List<string>();
        foreach (var bus in feed.Buses)
        {
            var words = bus.Split('/');
            if (profile.Counts.IsStereo(words[0]))
                signals.AddRange([$"{words[0]} {words[1]} left", $"{words[0]} {words[1]} right"]);
            else
                signals.Add($"{words[0]} {words[1]}");
        }

        return signals;
    }

    private bool Read(ScalarNode item, List<string> outputs)
    {
        var banks = profile.Counts.Banks("output");
        if (!NumberSet.TryParseWithWord(item.Text, out var bank, out var numbers))
        {
            diagnostics.Add(DocumentCodes.BadValue, item.At, $"'{item.Text}' is not an output", "write a bank and numbers, such as stage 1-2", NumberSet.Respell(item.Text, banks));
            return false;
        }

        foreach (var number in numbers)
        {
            if (number > profile.Counts.Bank("output", bank))
            {
                diagnostics.Add(PlanCodes.NoSuchStrip, item.At, $"{profile.Desk} has no output '{bank} {number}'",
                    $"its outputs: {string.Join(", ", banks.Select(known => $"{known} 1-{profile.Counts.Bank("output", known)}"))}",
                    NumberSet.Respell(item.Text, banks) is { } near && near != item.Text ? near : null);
                return false;
            }

            var path = $"output/{bank}-{number}";
            if (!_owners.TryAdd(path, item.At))
                diagnostics.Add(PlanCodes.OutputTwice, item.At, $"output '{path}' is already used at {_owners[path].Place}", "use another one");
            outputs.Add(path);
        }

        return true;
    }
}
