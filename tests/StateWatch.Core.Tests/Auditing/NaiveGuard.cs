using System.Globalization;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// Guards of the shipped plans, read naively from texts: every way from a source to the outputs of a feed walked to its end, planned or not, the powers of
/// all ways added up, live against planned. On the larch: nothing is muted, pans and patches stand as the plan has them, nothing comes back from an effect.
/// Shares no code with the program.
/// </summary>
internal sealed class NaiveGuard(NaiveChecker naive, ILookup<string, string> switches, Func<string, string?> value)
{
    private readonly Dictionary<(string, int, string), double> _known = [];
    private readonly HashSet<(string, int)> _onWay = [];

    /// <summary>The faders of the guarded inputs that are louder or softer at the feed than the guard allows.</summary>
    public static IEnumerable<string> Moved(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
    {
        if (NaiveYaml.Find(naive.Plan, "guard") is not List<object> guards)
            yield break;
        var live = new NaiveGuard(naive, Switches(desk.Where(static pair => pair.Value == "on").Select(static pair => pair.Key)), path => desk.GetValueOrDefault(path));
        var planned = new NaiveGuard(naive, Switches(desk.Keys.Where(path => naive.Said(path) == "on")), naive.Said);
        foreach (var guard in guards)
        {
            var outputs = NaiveYaml.Text(NaiveYaml.Find(NaiveYaml.Find(naive.Plan, "feeds"), NaiveYaml.Text(guard, "level-at")!), "out")!.Split(' ');
            var ends = outputs[1].Split('-').Select(int.Parse).ToArray();
            var (up, down) = (Limit(guard, "up"), Limit(guard, "down"));
            foreach (var (strip, _) in naive.WithRole(NaiveYaml.Text(guard, "of")!))
            {
                var (there, wanted) = (0.0, 0.0);
                for (var number = ends[0]; number <= ends[^1]; number++)
                {
                    there += live.Power(strip, 0, $"output/{outputs[0]}-{number}");
                    wanted += planned.Power(strip, 0, $"output/{outputs[0]}-{number}");
                }

                var moved = 10 * Math.Log10(there / wanted);
                if (moved > up + 1e-6 || moved < -down - 1e-6)
                    yield return $"{strip}/fader";
            }
        }
    }

    private static double Limit(object guard, string key) => NaiveYaml.Text(guard, key) is { } text and not "free" ? NaiveValues.Decibels(text) : double.PositiveInfinity;

    private static ILookup<string, string> Switches(IEnumerable<string> on) => on.Where(static path => path.Split('/') is [_, _, "assign", _, _] or [_, _, "send", _, _, "on"])
        .ToLookup(static path => string.Join('/', path.Split('/').Take(2)), StringComparer.Ordinal);

    private double Power(string strip, int leg, string output)
    {
        if (_known.TryGetValue((strip, leg, output), out var known))
            return known;
        if (!_onWay.Add((strip, leg)))
            return double.NaN;
        var point = strip.Replace('/', ' ') + (leg == 0 ? "" : leg == 1 ? " left" : " right");
        var sum = 0.0;
        if (naive.Said($"{output}/source") is { } source && (source == point || source == point + " direct"))
            sum += Square(source == point ? Post(strip) : At(strip, $"{strip}/direct-out/tap"));
        if (naive.Said($"{strip}/direct-out") == output["output/".Length..].Replace('-', ' '))
            sum += Square(At(strip, $"{strip}/direct-out/tap"));
        foreach (var path in switches[strip])
        {
            var parts = path.Split('/');
            var bus = $"{parts[3]}/{parts[4]}";
            var gain = parts[2] == "assign" ? Post(strip) : At(strip, path[..^2] + "tap") * Factor(path[..^2] + "level", "-10 dB");
            foreach (var side in bus == "main/1" ? new[] { 1, 2 } : [0])
            {
                var share = Share(strip, leg, bus, side, path);
                if (gain * share != 0 && Power(bus, side, output) is not 0 and var rest)
                    sum += Square(gain * share) * rest;
            }
        }

        _onWay.Remove((strip, leg));
        return _known[(strip, leg, output)] = sum;
    }

    private double Share(string strip, int leg, string bus, int side, string path)
    {
        var number = int.Parse(bus.Split('/')[1], CultureInfo.InvariantCulture);
        var isLinked = bus == "main/1" || naive.Said($"{bus.Split('/')[0]}/{(number - 1) / 2 * 2 + 1}/linked") == "on";
        var into = side != 0 ? side : number % 2 == 1 ? 1 : 2;
        if (leg != 0)
            return isLinked ? leg == into ? 1 : 0 : 0.5;
        // Strips without a pan go to both sides as they are, and so does a send that does not follow the pan.
        if (!isLinked || !strip.StartsWith("input/", StringComparison.Ordinal) || (path.Contains("/send/", StringComparison.Ordinal) && naive.Said(path[..^2] + "pan-follow") != "on"))
            return 1;
        var pan = naive.Said($"{strip}/pan") is { } text ? double.Parse(text.Split(' ')[0], CultureInfo.InvariantCulture) : 0;
        var angle = (pan / 100 + 1) / 2 * Math.PI / 2;
        return into == 1 ? Math.Cos(angle) : Math.Sin(angle);
    }

    private double At(string strip, string tap) => value(tap) is "pre-eq" or "pre-fader" or "input" ? Input(strip) : Post(strip);

    private double Post(string strip) => Input(strip) * Factor($"{strip}/fader", "0 dB")
        * Enumerable.Range(1, 8).Where(dca => value($"{strip}/dca/{dca}") == "on").Aggregate(1.0, (product, dca) => product * Factor($"dca/{dca}/fader", "0 dB"));

    private double Input(string strip) => Factor($"{strip}/trim", "0 dB") * (naive.Said($"{strip}/source") is { } source && source != "none" ? Factor($"socket/{source.Replace(' ', '-')}/gain", "0 dB") : 1);

    private double Factor(string level, string unknown) => Math.Pow(10, NaiveValues.Decibels(value(level) ?? unknown) / 20);

    private static double Square(double gain) => gain * gain;
}
