using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Finds what a name in a plan stands for: a feed, effect or group (or some of its buses), a DCA, a mute group, a role.</summary>
internal sealed class PlanNames(DiagnosticBag diagnostics)
{
    private readonly Dictionary<string, Feed> _feeds = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _dcas = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _muteGroups = new(StringComparer.Ordinal);
    private readonly HashSet<Origin> _reported = [];

    public IEnumerable<Feed> Feeds => _feeds.Values;

    public void AddFeed(Feed feed)
    {
        if (!_feeds.TryAdd(feed.Key, feed))
            diagnostics.Add(PlanCodes.NameTwice, feed.At, $"'{feed.Key}' is also the name of what stands at {_feeds[feed.Key].At.Place}", "give each its own name");
    }

    public void AddDca(NumberedName dca) => AddNumbered(_dcas, dca);

    public void AddMuteGroup(NumberedName muteGroup) => AddNumbered(_muteGroups, muteGroup);

    public int Dca(ScalarNode name) => Numbered(_dcas, name, "DCA", "dcas");

    public int MuteGroup(ScalarNode name) => Numbered(_muteGroups, name, "mute group", "mute-groups");

    /// <summary>The buses a name stands for: all of a feed's, or those named by position, as in <c>wedges 3</c>.</summary>
    /// <param name="name">The name.</param>
    /// <param name="feed">The feed, effect or group it belongs to.</param>
    /// <param name="narrowed">Whether single buses were named.</param>
    public IReadOnlyList<string> Buses(ScalarNode name, out Feed? feed, out bool narrowed)
    {
        narrowed = false;
        if (_feeds.TryGetValue(name.Text, out feed) && feed.IsDirect)
            Report(name.At, DocumentCodes.BadValue, $"'{name.Text}' takes direct outs, so nothing is sent to it", $"list the role or input under its direct: ({feed.At.Place})", null);
        if (feed is not null)
            return feed.Buses;
        var blank = name.Text.LastIndexOf(' ');
        if (blank > 0 && _feeds.TryGetValue(name.Text[..blank], out feed) && NumberSet.TryParse(name.Text[(blank + 1)..], out var positions))
        {
            var buses = feed.Buses;
            narrowed = true;
            if (positions.All(position => position <= buses.Count))
                return [.. positions.Select(position => buses[position - 1])];
            Report(name.At, PlanCodes.NoSuchStrip, $"feed '{feed.Key}' has {buses.Count} {(buses.Count == 1 ? "bus" : "buses")}, so there is no '{name.Text}'", null, null);
            return [];
        }

        feed = null;
        if (blank > 0 && NumberSet.TryParse(name.Text[(blank + 1)..], out _) && !_reported.Contains(name.At) && NearestWord.Among(name.Text[..blank], _feeds.Keys, diagnostics) is { } near)
        {
            near += name.Text[blank..];
            Report(name.At, PlanCodes.UnknownName, $"there is no feed, effect or group '{name.Text}'", $"did you mean '{near}'?", near);
            return [];
        }

        Unknown(name, "feed, effect or group", _feeds.Keys, "define it under feeds, effects or groups");
        return [];
    }

    /// <summary>Where sources of a feed arrive, for rules about who may reach it: its buses, or the outputs of one that takes direct outs.</summary>
    public IReadOnlyList<string> Ends(ScalarNode name, out Feed? feed)
    {
        if (_feeds.TryGetValue(name.Text, out feed))
            return feed.Ends;
        return Buses(name, out feed, out _);
    }

    /// <summary>The buses a text stands for, as <see cref="Buses"/> finds them, or null when it names no feed; nothing is reported.</summary>
    public IReadOnlyList<string>? BusesOf(string name)
    {
        if (_feeds.TryGetValue(name, out var feed))
            return feed.Buses;
        var blank = name.LastIndexOf(' ');
        return blank > 0 && _feeds.TryGetValue(name[..blank], out feed) && NumberSet.TryParse(name[(blank + 1)..], out var positions)
            ? [.. positions.Where(position => position <= feed.Buses.Count).Select(position => feed.Buses[position - 1])] : null;
    }

    public void Unknown(ScalarNode name, string what, IEnumerable<string> known, string advice)
    {
        // One line covers many strips: its fault is told, and looked into, once.
        if (_reported.Contains(name.At))
            return;
        var near = NearestWord.Among(name.Text, known, diagnostics);
        Report(name.At, PlanCodes.UnknownName, $"there is no {what} '{name.Text}'", near is null ? advice : $"did you mean '{near}'?", near);
    }

    private static string Article(string what) => what == "DCA" ? "the DCA" : "the mute group";

    private void AddNumbered(Dictionary<string, int> table, NumberedName item)
    {
        if (!table.TryAdd(item.Name.Text, item.Number))
            diagnostics.Add(PlanCodes.NameTwice, item.Name.At, $"'{item.Name.Text}' is also number {table[item.Name.Text]}", "give each its own name");
    }

    private int Numbered(Dictionary<string, int> table, ScalarNode name, string what, string section)
    {
        if (table.TryGetValue(name.Text, out var number))
            return number;
        Unknown(name, what, table.Keys, $"define {Article(what)} under {section}");
        return 0;
    }

    private void Report(Origin at, DiagnosticCode code, string message, string? advice, string? suggestion)
    {
        if (_reported.Add(at))
            diagnostics.Add(code, at, message, advice, suggestion);
    }
}
