using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Reports;

/// <summary>Finds what somebody means by the two ends of a trace.</summary>
/// <param name="plan">The plan.</param>
/// <param name="map">Its signal flow.</param>
public sealed class TraceNames(ShowPlan plan, RoutingMap map)
{
    private const int MostListed = 40;

    /// <summary>Everything the plan names that a signal can begin at.</summary>
    public IEnumerable<TraceSource> Sources => plan.Strips.Where(strip => strip.Strip.Kind == "input").Select(strip => OfStrip(strip.Strip)).OfType<TraceSource>();

    /// <summary>All feeds that leave the desk, those of several buses bus by bus.</summary>
    public IEnumerable<TraceTarget> Targets
    {
        get
        {
            foreach (var feed in plan.Feeds.Where(feed => feed.Purpose is not (Purpose.Parallel or Purpose.Effects or Purpose.Group)))
            {
                for (var number = IsOne(feed) ? 0 : 1; number <= (IsOne(feed) ? 0 : feed.Ends.Count); number++)
                {
                    if (Member(feed, number) is { } target)
                        yield return target;
                }
            }
        }
    }

    /// <summary>The source somebody means: a planned name, a path such as <c>input/25</c>, or <c>talk 1</c>.</summary>
    /// <param name="text">What was written.</param>
    /// <param name="problem">Why there is none, for people.</param>
    public TraceSource? Source(string text, out string problem)
    {
        problem = "";
        var path = text.Replace(' ', '/');
        if (Profile.FindStrip(path) is { } strip && OfStrip(strip) is { } source)
            return source;
        if (path.StartsWith("talk/", StringComparison.Ordinal) && int.TryParse(path["talk/".Length..], out var circuit)
            && Nodes(node => node.Kind == NodeKind.Talk && node.Leg == circuit) is { Count: > 0 } nodes)
            return new TraceSource($"Talk {circuit}", path, nodes);
        var named = plan.Strips.Where(item => item.Name == text).ToList();
        if (named.Count == 0)
            named = [.. plan.Strips.Where(item => string.Equals(item.Name, text, StringComparison.OrdinalIgnoreCase))];
        if (named.Count == 1 && OfStrip(named[0].Strip) is { } planned)
            return planned;
        var names = plan.Strips.Select(item => item.Name).ToList();
        problem = named.Count > 1
            ? $"the plan names {named.Count} strips '{Clean(text)}'; write one of {string.Join(", ", named.Take(MostListed).Select(item => item.Strip.Path))}."
            : $"the plan has no input '{Clean(text)}'{Near(text, names)}";
        return null;
    }

    /// <summary>The feed somebody means: its key, its key and the number of one of its buses, or the path of a bus or output of it.</summary>
    /// <param name="text">What was written.</param>
    /// <param name="problem">Why there is none, for people.</param>
    public TraceTarget? Target(string text, out string problem)
    {
        problem = "";
        var number = 0;
        var feed = FeedOf(text);
        var blank = text.LastIndexOfAny([' ', '/']);
        if (feed is null && blank > 0 && int.TryParse(text[(blank + 1)..], out number) && number > 0)
            feed = FeedOf(text[..blank]);
        if (feed is null && FeedAt(text.Replace(' ', '/')) is var (at, place))
            (feed, number) = (at, place);
        if (feed is null)
        {
            problem = $"the plan has no feed '{Clean(text)}'{Near(text, plan.Feeds.Select(item => item.Key))}";
            return null;
        }

        if (number > feed.Ends.Count)
        {
            problem = $"the feed '{Clean(feed.Key)}' has {feed.Ends.Count}, so there is no '{Clean(text)}'; write '{Clean(feed.Key)} 1' to '{Clean(feed.Key)} {feed.Ends.Count}'.";
            return null;
        }

        if (Member(feed, number) is { } target)
            return target;
        problem = $"the feed '{Clean(feed.Key)}' ends nowhere that the profile of the desk sees.";
        return null;
    }

    private DeskProfile Profile => plan.Profile;

    private static bool IsOne(Feed feed) => feed.Stereo || feed.Ends.Count == 1;

    private static string Clean(string text) => PlainText.Clean(text, 60);

    private static string Near(string text, IEnumerable<string> known)
    {
        var all = known.ToList();
        if (NearestWord.Among(text, all) is { } near)
            return $"; did you mean '{Clean(near)}'?";
        var begin = all.Where(name => name.StartsWith(text, StringComparison.OrdinalIgnoreCase)).ToList();
        var list = begin.Count > 0 ? begin : all;
        var more = list.Count > MostListed ? $" and {list.Count - MostListed} more" : "";
        return list.Count == 0 ? "; it names none." : $".\nIt has: {string.Join(", ", list.Take(MostListed).Select(Clean))}{more}.";
    }

    private TraceSource? OfStrip(Strip strip)
    {
        var stages = map.Strips.FirstOrDefault(item => item.Strip == strip.Id);
        if (stages is null)
            return null;
        var name = plan.Strips.FirstOrDefault(item => item.Strip.Id == strip.Id)?.Name ?? strip.Path.Replace('/', ' ');
        return new TraceSource(name == strip.Path ? strip.Path.Replace('/', ' ') : name, strip.Path, stages.Nodes);
    }

    private Feed? FeedOf(string key) => plan.Feeds.FirstOrDefault(feed => feed.Key == key)
        ?? (plan.Feeds.Where(feed => string.Equals(feed.Key, key, StringComparison.OrdinalIgnoreCase)).ToList() is [var one] ? one : null);

    private (Feed Feed, int Number)? FeedAt(string path)
    {
        foreach (var feed in plan.Feeds)
        {
            for (var i = 0; i < feed.Ends.Count; i++)
            {
                if (feed.Ends[i] == path || (feed.Outputs.Count == feed.Ends.Count && feed.Outputs[i] == path))
                    return (feed, i + 1);
            }
        }

        return null;
    }

    // Number 0 is all of it. A feed's columns stand in the order of its outputs, or of its buses' legs where it has none.
    private TraceTarget? Member(Feed feed, int number)
    {
        var columns = map.ColumnsOf(plan.Feeds.ToList().IndexOf(feed));
        if (columns.Count == 0)
            return null;
        if (number == 0)
            return new TraceTarget(feed.Key, feed, [.. columns]);
        if (columns.Count % feed.Ends.Count != 0)
            return null;
        var each = columns.Count / feed.Ends.Count;
        return new TraceTarget(feed.Ends.Count == 1 ? feed.Key : $"{feed.Key} {number}", feed, [.. columns.Skip((number - 1) * each).Take(each)]);
    }

    private List<int> Nodes(Func<RoutingNode, bool> wanted) => [.. Enumerable.Range(0, map.Nodes.Count).Where(node => wanted(map.Nodes[node]))];
}
