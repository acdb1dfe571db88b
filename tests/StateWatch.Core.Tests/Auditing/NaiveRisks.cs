namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// What is told of settings that no plan line names, read naively from texts: a planned unit in a second place, two sides of a linked
/// pair that are not set alike, an open microphone without a signal, a talk circuit that the public would hear, half of a pair in a mono
/// feed, a bus or output to the public that is muted or fully down. Shares no code with the auditor.
/// </summary>
internal static class NaiveRisks
{
    private static readonly string[] Alike = ["fader", "trim", "polarity", "low-cut", "low-cut/frequency", "delay", "eq/on", "gate/on", "comp/on", "on"];

    public static IEnumerable<string> Beyond(NaiveChecker naive, IReadOnlyDictionary<string, string> desk) =>
        SecondPlaces(naive, desk).Concat(UnlikePartners(naive.Allowed, desk)).Concat(naive.OpenMics.Select(strip => $"{strip}/signal").Where(path => desk[path] == "off"))
            .Concat(TalkToPublic(naive, desk)).Concat(HalfPairs(naive, desk).Select(edge => edge + "/on")).Concat(ShutFeeds(naive, desk))
            .Concat(NaiveGuard.Moved(naive, desk)).Concat(NaiveFlow.Beyond(naive, desk)).Concat(NaiveRatio.Off(naive, desk));

    /// <summary>Whether a setting is not told because its stage box is missing altogether, or because half of a pair is told at its switch.</summary>
    public static bool IsExplained(NaiveChecker naive, string path, IReadOnlyDictionary<string, string> desk) =>
        (path.Split('/') is ["desk", "box", var box, not "present", ..] && desk[$"desk/box/{box}/present"] == "off")
        || (path.EndsWith("/level", StringComparison.Ordinal) && HalfPairs(naive, desk).Contains(path[..^"/level".Length]));

    // The sends by which one side does not arrive though its partner does.
    private static IEnumerable<string> HalfPairs(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
    {
        bool Planned(string edge) => naive.Allowed.TryGetValue(edge + "/on", out var allowed) && allowed.Contains("on");
        bool Arrives(string edge) => desk[edge + "/on"] == "on" && desk[edge + "/level"] != "-inf dB";
        foreach (var (left, right) in Pairs(naive.Allowed))
        {
            foreach (var bus in naive.MonoBuses)
            {
                var (one, two) = ($"{left}/send/{bus}", $"{right}/send/{bus}");
                if (Planned(one) && Planned(two) && Arrives(one) != Arrives(two))
                    yield return Arrives(one) ? two : one;
            }
        }
    }

    private static IEnumerable<(string Left, string Right)> Pairs(IReadOnlyDictionary<string, HashSet<string>> allowed)
    {
        foreach (var (path, values) in allowed)
        {
            if (path.Split('/') is [var kind, var number, "linked"] && values.Contains("on") && int.Parse(number) is var odd && odd % 2 != 0
                && allowed.TryGetValue($"{kind}/{odd + 1}/linked", out var other) && other.Contains("on"))
                yield return ($"{kind}/{odd}", $"{kind}/{odd + 1}");
        }
    }

    private static IEnumerable<string> TalkToPublic(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
    {
        foreach (var (path, value) in desk)
        {
            if (value != "on" || path.Split('/') is not ["desk", "talk", var number, "to", var bus] || !naive.PublicBuses.Contains(bus.Replace('-', '/')))
                continue;
            if (!naive.Allowed.ContainsKey(path))
                yield return path;
            var key = $"desk/talk/{number}/on";
            if (!naive.Allowed.ContainsKey(key) && desk[key] == "on")
                yield return key;
        }
    }

    private static IEnumerable<string> ShutFeeds(NaiveChecker naive, IReadOnlyDictionary<string, string> desk) =>
        naive.PublicBuses.SelectMany(bus => (string[])[$"{bus}/on", $"{bus}/fader"]).Concat(naive.PublicOutputs.Select(output => $"{output}/on"))
            .Where(path => desk.TryGetValue(path, out var value) && (value == "off" || (value.EndsWith(" dB", StringComparison.Ordinal) && (value == "-inf dB" || double.Parse(value.Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture) < -60))));

    private static IEnumerable<string> SecondPlaces(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
    {
        var homes = naive.Allowed.Where(pair => IsInsert(pair.Key) && !pair.Value.Contains("none"))
            .GroupBy(pair => pair.Value.Single(), pair => pair.Key, StringComparer.Ordinal)
            .Where(unit => unit.Count() == naive.ChannelsOf(unit.Key))
            .ToDictionary(unit => unit.Key, unit => unit.ToList(), StringComparer.Ordinal);
        return desk.Where(pair => IsInsert(pair.Key) && homes.TryGetValue(pair.Value, out var home) && !home.Contains(pair.Key) && home.TrueForAll(place => desk[place] == pair.Value))
            .Select(pair => pair.Key);
    }

    private static IEnumerable<string> UnlikePartners(IReadOnlyDictionary<string, HashSet<string>> allowed, IReadOnlyDictionary<string, string> desk)
    {
        foreach (var (left, right) in Pairs(allowed))
        {
            if (desk[$"{left}/linked"] != "on" || desk[$"{right}/linked"] != "on")
                continue;
            foreach (var suffix in Alike)
            {
                var (one, two) = ($"{left}/{suffix}", $"{right}/{suffix}");
                if (!desk.TryGetValue(one, out var a) || allowed.ContainsKey(one) || allowed.ContainsKey(two))
                    continue;
                var b = desk[two];
                if (a != b && (suffix is not ("fader" or "trim") || !(Math.Abs(NaiveValues.Decibels(a) - NaiveValues.Decibels(b)) <= 1)))
                    yield return two;
            }
        }
    }

    private static bool IsInsert(string path) => path.Split('/') is [_, _, "insert", _];
}
