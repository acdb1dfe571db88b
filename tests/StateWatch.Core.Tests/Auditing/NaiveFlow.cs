namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// Ways through buses as a naive reader follows them, from texts: what is planned on, from strip to bus to bus. Tells the mutes and faders
/// that no plan line names and that stop what must arrive, and talk circuits on a bus that leads to the public. Shares no code with the auditor.
/// </summary>
internal static class NaiveFlow
{
    public static IEnumerable<string> Beyond(NaiveChecker naive, IReadOnlyDictionary<string, string> desk) => Stopped(naive, desk).Concat(TalkOnTheWay(naive, desk)).Distinct();

    private static IEnumerable<string> Stopped(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
    {
        foreach (var (key, feed) in NaiveYaml.Map(NaiveYaml.Find(naive.Plan, "feeds")))
        {
            var ends = naive.BusesOf(key);
            foreach (var (role, _) in NaiveYaml.Pairs(NaiveYaml.Find(feed, "must-carry")))
            {
                foreach (var strip in naive.InRole(role))
                {
                    var ways = new List<List<string>>();
                    Follow(naive, [strip], ends, ways);
                    var stops = ways.Select(way => Stops(naive, way, desk).ToList()).ToList();
                    if (stops.Count == 0 || stops.Exists(list => list.Count == 0))
                        continue;
                    foreach (var stop in stops.SelectMany(list => list).Where(stop => !naive.Allowed.ContainsKey(stop)))
                        yield return stop;
                }
            }
        }
    }

    private static void Follow(NaiveChecker naive, List<string> way, IReadOnlyList<string> ends, List<List<string>> ways)
    {
        if (ends.Contains(way[^1]))
        {
            ways.Add(way);
            return;
        }

        foreach (var (_, to) in naive.Edges[way[^1]])
        {
            if (!way.Contains(to))
                Follow(naive, [.. way, to], ends, ways);
        }
    }

    // What stands on a way and lets nothing through; the strip's own mute and fader are its own affair.
    private static IEnumerable<string> Stops(NaiveChecker naive, List<string> way, IReadOnlyDictionary<string, string> desk)
    {
        for (var i = 1; i < way.Count; i++)
        {
            var edge = naive.Edges[way[i - 1]].First(one => one.To == way[i]).Path;
            if (desk[edge] == "off")
                yield return edge;
            else if (edge.EndsWith("/on", StringComparison.Ordinal) && desk[edge[..^2] + "level"] == "-inf dB")
                yield return edge[..^2] + "level";
            if (desk.TryGetValue($"{way[i]}/on", out var on) && on == "off")
                yield return $"{way[i]}/on";
            if (desk.TryGetValue($"{way[i]}/fader", out var fader) && fader == "-inf dB" && LeavesAfterFader(naive, way, i, desk))
                yield return $"{way[i]}/fader";
        }

        var outputs = naive.Allowed.Where(pair => pair.Key.StartsWith("output/", StringComparison.Ordinal) && pair.Key.EndsWith("/source", StringComparison.Ordinal)
            && pair.Value.Any(point => point == way[^1].Replace('/', ' ') || point.StartsWith(way[^1].Replace('/', ' ') + " ", StringComparison.Ordinal))).Select(pair => pair.Key[..^"/source".Length]).ToList();
        var shut = outputs.Where(output => !naive.Allowed[$"{output}/source"].Contains(desk[$"{output}/source"]) || desk.GetValueOrDefault($"{output}/on") == "off").ToList();
        if (outputs.Count == 0 || shut.Count < outputs.Count)
            yield break;
        foreach (var output in shut)
            yield return desk.GetValueOrDefault($"{output}/on") == "off" ? $"{output}/on" : $"{output}/source";
    }

    private static bool LeavesAfterFader(NaiveChecker naive, List<string> way, int at, IReadOnlyDictionary<string, string> desk) => at == way.Count - 1
        || desk.GetValueOrDefault(naive.Edges[way[at]].First(one => one.To == way[at + 1]).Path[..^2] + "tap", "post-fader") is "post-fader" or "post-pan";

    private static IEnumerable<string> TalkOnTheWay(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
    {
        foreach (var (path, value) in desk)
        {
            if (value != "on" || naive.Allowed.ContainsKey(path) || path.Split('/') is not ["desk", "talk", _, "to", var bus])
                continue;
            var ways = new List<List<string>>();
            Follow(naive, [bus.Replace('-', '/')], [.. naive.PublicBuses], ways);
            if (ways.Exists(way => !IsShut(way[0], desk) && !Stops(naive, way, desk).Any()))
                yield return path;
        }
    }

    private static bool IsShut(string bus, IReadOnlyDictionary<string, string> desk) => desk.GetValueOrDefault($"{bus}/on") == "off" || desk.GetValueOrDefault($"{bus}/fader") == "-inf dB";
}
