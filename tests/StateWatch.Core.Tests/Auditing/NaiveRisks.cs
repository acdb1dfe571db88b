using System.Globalization;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// What is told of settings that no plan line names, read naively from texts: a planned unit in a second place, two sides of a linked
/// pair that are not set alike, an open microphone without a signal, a talk circuit that the public would hear. Shares no code with the auditor.
/// </summary>
internal static class NaiveRisks
{
    private static readonly string[] Alike = ["fader", "trim", "polarity", "low-cut", "low-cut/frequency", "delay", "eq/on", "gate/on", "comp/on", "on"];

    public static IEnumerable<string> Beyond(NaiveChecker naive, IReadOnlyDictionary<string, string> desk) =>
        SecondPlaces(naive.Allowed, desk).Concat(UnlikePartners(naive.Allowed, desk)).Concat(naive.OpenMics.Select(strip => $"{strip}/signal").Where(path => desk[path] == "off"))
            .Concat(TalkToPublic(naive, desk));

    /// <summary>Whether a setting is not told because its stage box is missing altogether.</summary>
    public static bool IsExplained(string path, IReadOnlyDictionary<string, string> desk) =>
        path.Split('/') is ["desk", "box", var box, not "present", ..] && desk[$"desk/box/{box}/present"] == "off";

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

    private static IEnumerable<string> SecondPlaces(IReadOnlyDictionary<string, HashSet<string>> allowed, IReadOnlyDictionary<string, string> desk)
    {
        var homes = allowed.Where(pair => IsInsert(pair.Key) && !pair.Value.Contains("none")).ToDictionary(pair => pair.Value.Single(), pair => pair.Key, StringComparer.Ordinal);
        return desk.Where(pair => IsInsert(pair.Key) && homes.TryGetValue(pair.Value, out var home) && home != pair.Key && desk[home] == pair.Value).Select(pair => pair.Key);
    }

    private static IEnumerable<string> UnlikePartners(IReadOnlyDictionary<string, HashSet<string>> allowed, IReadOnlyDictionary<string, string> desk)
    {
        foreach (var (path, values) in allowed)
        {
            if (path.Split('/') is not [var kind, var number, "linked"] || !values.Contains("on") || int.Parse(number) is var odd && odd % 2 == 0)
                continue;
            var (left, right) = ($"{kind}/{odd}", $"{kind}/{odd + 1}");
            if (!allowed.TryGetValue($"{right}/linked", out var other) || !other.Contains("on") || desk[$"{left}/linked"] != "on" || desk[$"{right}/linked"] != "on")
                continue;
            foreach (var suffix in Alike)
            {
                var (one, two) = ($"{left}/{suffix}", $"{right}/{suffix}");
                if (!desk.TryGetValue(one, out var a) || allowed.ContainsKey(one) || allowed.ContainsKey(two))
                    continue;
                var b = desk[two];
                if (a != b && (suffix is not ("fader" or "trim") || !(Math.Abs(Decibels(a) - Decibels(b)) <= 1)))
                    yield return two;
            }
        }
    }

    private static bool IsInsert(string path) => path.Split('/') is [_, _, "insert", _];

    private static double Decibels(string text) => text == "-inf dB" ? double.NegativeInfinity : double.Parse(text.Split(' ')[0], CultureInfo.InvariantCulture);
}
