using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Compiles feeds, effects and groups: their buses, names, outputs, taps and what feeds them.</summary>
internal sealed class FeedCompiler(PlanDocument document, DeskProfile profile, PlanNames names, StatementTable table, StripCompiler strips, DiagnosticBag diagnostics)
{
    private readonly Dictionary<string, Origin> _busOwners = new(StringComparer.Ordinal);
    private readonly OutputCompiler _outputs = new(profile, table, diagnostics);

    /// <summary>What leaves the desk where.</summary>
    public OutputCompiler Outputs => _outputs;

    public void Compile()
    {
        var feeds = new List<(FeedLine Line, Feed Feed)>();
        foreach (var line in document.Feeds)
        {
            var buses = Buses(line.Bus);
            var feed = new Feed(line.Key.Text, line.Purpose, buses, _outputs.Read(line.Out), line.Keys.IsStereo || IsStereo(buses), line.Key.At) { Mono = line.IsMono, MostOpen = line.MostOpen, IsDirect = line.Direct.Count > 0, Loudspeaker = line.Loudspeaker };
            CheckMono(line, buses);
            names.AddFeed(feed);
            feeds.Add((line, feed));
        }

        foreach (var line in document.Effects)
            names.AddFeed(new Feed(line.Keys.Name!.Text, Purpose.Effects, Buses(line.Send), [], false, line.Key.At));
        foreach (var line in document.Groups)
            CompileGroup(line);
        foreach (var (line, feed) in feeds)
            CompileFeed(line, feed);
        foreach (var line in document.Effects)
            CompileEffect(line);
    }

    private void CompileFeed(FeedLine line, Feed feed)
    {
        for (var i = 0; i < feed.Buses.Count; i++)
            strips.SayStrip(feed.Buses[i], line.Keys, i, feed.Buses.Count, Ranks.Narrowed(Ranks.Strip, feed.Buses.Count), Ranks.Narrowed(Ranks.StripFeed, feed.Buses.Count), null);
        SayTaps(line.Tap, feed);
        _outputs.Say(line, feed);
        if (line.From.Count > 0)
            SayFrom(line, feed);
    }

    private void CompileEffect(EffectLine line)
    {
        // An effect whose name is taken is no feed; that is reported already.
        if (names.Feeds.FirstOrDefault(item => item.At == line.Key.At) is not { } feed)
            return;
        SayTaps(line.Tap, feed);
        if (line.Return is null)
            return;
        if (!NumberSet.TryParseWithWord(line.Return.Text, out var kind, out var numbers) || kind != "fx-return" && kind != "input")
        {
            diagnostics.Add(DocumentCodes.BadValue, line.Return.At, $"'{line.Return.Text}' is not an effect return", "write it like fx-return 1, or input 45");
            return;
        }

        for (var i = 0; i < numbers.Length; i++)
            strips.AddListed($"{kind}/{numbers[i]}", line.Return.At, line.Keys, i, numbers.Length);
    }

    private void CompileGroup(StripLine line)
    {
        for (var i = 0; i < line.Numbers.Count; i++)
        {
            var number = line.Numbers[i];
            var path = $"group/{number}";
            if (!Exists(path, line.Key.At))
                continue;
            Own(_busOwners, path, line.Key.At, PlanCodes.BusTwice, "bus");
            if (line.Keys.Name is { } name)
                names.AddFeed(new Feed(NameTemplate.Expand(name.Text, i, number, line.Keys.IsStereo || line.Numbers.Count == 2), line.Purpose ?? Purpose.Group, [path], [], false, line.Key.At));
            strips.AddListed(path, line.Key.At, line.Keys, i, line.Numbers.Count);
        }
    }

    private void SayTaps(ScalarNode? tap, Feed feed)
    {
        if (tap is null)
            return;
        foreach (var bus in feed.Buses)
            strips.AddTap(bus, tap);
    }

    private void SayFrom(FeedLine line, Feed feed)
    {
        var listed = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (name, value) in line.From)
        {
            var sources = names.Buses(name, out var source, out _);
            for (var i = 0; i < sources.Count; i++)
            {
                for (var j = 0; j < feed.Buses.Count; j++)
                {
                    // Left to left and right to right where both are pairs; everything to everything else.
                    if (source!.Stereo && feed.Stereo && sources.Count == 2 && feed.Buses.Count == 2 && i != j)
                        continue;
                    listed.Add(sources[i]);
                    strips.SaySend(sources[i], feed.Buses[j], name, value, Ranks.Feed);
                }
            }
        }

        table.Limit.Spend((long)profile.Strips.Count * feed.Buses.Count, line.Key.At);
        foreach (var strip in profile.Strips)
        {
            foreach (var bus in feed.Buses)
            {
                if (profile.Find($"{strip.Path}/send/{bus}/on") is >= 0 and var id)
                    table.SayById(id, on: false, line.Key.At, Ranks.ShowDefault);
            }
        }
    }

    private bool IsStereo(List<string> buses) => buses.Count == 1 && profile.Counts.IsStereo(buses[0].Split('/')[0]);

    private void CheckMono(FeedLine line, List<string> buses)
    {
        if (line is not { IsMono: true, Mono: { } mono })
            return;
        if (line.Keys.IsStereo)
            diagnostics.Add(PlanCodes.MonoFeed, mono.At, $"feed '{line.Key.Text}' is mono here and stereo at {line.Keys.Stereo!.At.Place}", "keep one of the two");
        else if (buses.Count > 1)
            diagnostics.Add(PlanCodes.MonoFeed, mono.At, $"feed '{line.Key.Text}' is mono, but it has {buses.Count} buses ({line.Bus!.Text})", "give it one bus, or make a feed of each");
        else if (IsStereo(buses))
            diagnostics.Add(PlanCodes.MonoFeed, mono.At, $"feed '{line.Key.Text}' is mono, but {buses[0].Replace('/', ' ')} has two sides", "send it to a matrix or mix of its own, and take that as its bus");
    }

    // A bus that is missing or cannot be read is reported where it is read.
    private List<string> Buses(ScalarNode? scalar)
    {
        var buses = new List<string>();
        if (scalar is null)
            return buses;
        if (!NumberSet.TryParseWithWord(scalar.Text, out var kind, out var numbers) || !SettingCatalogue.BusKinds.Contains(kind))
        {
            diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a bus", $"write a kind and numbers, such as mix 1-4; kinds: {string.Join(", ", SettingCatalogue.BusKinds)}",
                NumberSet.Respell(scalar.Text, SettingCatalogue.BusKinds));
            return buses;
        }

        table.Limit.Spend(numbers.Length, scalar.At);
        foreach (var number in numbers)
        {
            if (!Exists($"{kind}/{number}", scalar.At))
                break;
            Own(_busOwners, $"{kind}/{number}", scalar.At, PlanCodes.BusTwice, "bus");
            buses.Add($"{kind}/{number}");
        }

        return buses;
    }

    private bool Exists(string path, Origin at)
    {
        var words = path.Split('/');
        var count = profile.Counts.Strips(words[0]);
        if (int.Parse(words[1], provider: null) <= count)
            return true;
        diagnostics.Add(PlanCodes.NoSuchStrip, at, $"{profile.Desk} has {count} of kind {words[0]}, so there is no {words[0]} {words[1]}", null);
        return false;
    }

    private void Own(Dictionary<string, Origin> owners, string path, Origin at, DiagnosticCode code, string what)
    {
        if (!owners.TryAdd(path, at))
            diagnostics.Add(code, at, $"{what} '{path}' is already used at {owners[path].Place}", "use another one");
    }
}
