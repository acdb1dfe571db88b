namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// What of a source arrives where, read naively from texts: every way walked to its end, gains multiplied and added with their sign. On the
/// larch: a mono strip into the stereo main by its pan (constant power), half of each side of the main into a matrix, no pan on groups. All
/// inputs are open at 0 dB unless they draw from a bus. Shares no code with the program.
/// </summary>
internal sealed class NaiveGains(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
{
    private readonly Dictionary<string, List<string>> _returns = NaiveYaml.Map(NaiveYaml.Find(naive.Plan, "effects"))
        .GroupBy(effect => NaiveYaml.Text(effect.Value, "send")!.Replace(' ', '/'), effect => NaiveYaml.Text(effect.Value, "return")!.Replace(' ', '/')).ToDictionary(group => group.Key, group => group.ToList(), StringComparer.Ordinal);

    private readonly ILookup<string, string> _switches = desk.Where(pair => pair.Value == "on" && pair.Key.Split('/') is [_, _, "assign", _, _] or [_, _, "send", _, _, "on"])
        .Select(pair => pair.Key).ToLookup(path => string.Join('/', path.Split('/').Take(2)), StringComparer.Ordinal);

    private readonly ILookup<string, string> _draws = desk.Where(pair => pair.Key.Split('/') is ["input", _, "source"] && pair.Value.Split(' ')[0] is "group" or "mix" or "main" or "matrix" or "input")
        .ToLookup(pair => pair.Value, pair => pair.Key[..^"/source".Length], StringComparer.Ordinal);

    private readonly Dictionary<(string, int, string), double> _known = [];
    private readonly HashSet<(string, int)> _onWay = [];

    /// <summary>Signed gain from a strip to an output such as <c>output/stage-4</c>; not a number when a way leads back into itself.</summary>
    public double To(string strip, string output) => From(strip, 0, output);

    private double From(string strip, int leg, string output)
    {
        if (_known.TryGetValue((strip, leg, output), out var known))
            return known;
        if (!_onWay.Add((strip, leg)))
            return double.NaN;
        var point = strip.Replace('/', ' ') + (leg == 0 ? "" : leg == 1 ? " left" : " right");
        var sum = 0.0;
        if (desk[$"{output}/source"] == point)
            sum += Post(strip);
        if (strip.StartsWith("input/", StringComparison.Ordinal))
            sum += (desk[$"{output}/source"] == point + " direct" ? At(strip, $"{strip}/direct-out/tap") : 0) + (First(output) == strip ? At(strip, $"{strip}/direct-out/tap") : 0);
        sum *= desk[$"{output}/on"] == "on" ? 1 : 0;
        foreach (var path in _switches[strip])
        {
            var parts = path.Split('/');
            var bus = $"{parts[3]}/{parts[4]}";
            var gain = parts[2] == "assign" ? Post(strip) : At(strip, path[..^2] + "tap") * Factor(path[..^2] + "level");
            foreach (var side in bus == "main/1" ? new[] { 1, 2 } : [0])
                sum += Onward(gain * Share(strip, leg, bus, side, path), bus, side, output);
        }

        foreach (var back in _returns.GetValueOrDefault(strip) ?? [])
            sum += Onward(Post(strip), back, 0, output);
        foreach (var input in _draws[point])
            sum += Onward(Post(strip), input, 0, output);
        foreach (var input in _draws[point + " direct"])
            sum += Onward(Post(strip), input, 0, output);
        _onWay.Remove((strip, leg));
        return _known[(strip, leg, output)] = sum;
    }

    private double Onward(double gain, string strip, int leg, string output) => gain == 0 ? 0 : From(strip, leg, output) is var rest && rest == 0 ? 0 : gain * rest;

    private string? First(string output) => Enumerable.Range(1, 48).Select(number => $"input/{number}").FirstOrDefault(input => desk[$"{input}/direct-out"] == output["output/".Length..].Replace('-', ' '));

    private double Share(string strip, int leg, string bus, int side, string path)
    {
        var number = int.Parse(bus.Split('/')[1]);
        var isLinked = bus == "main/1" || desk.GetValueOrDefault($"{bus.Split('/')[0]}/{(number - 1) / 2 * 2 + 1}/linked") == "on";
        var into = side != 0 ? side : number % 2 == 1 ? 1 : 2;
        if (leg != 0)
            return isLinked ? leg == into ? 1 : 0 : 0.5;
        if (!isLinked || !desk.TryGetValue($"{strip}/pan", out var pan) || desk.GetValueOrDefault(path[..^2] + "pan-follow") == "off")
            return 1;
        var angle = (double.Parse(pan.Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture) / 100 + 1) / 2 * Math.PI / 2;
        return into == 1 ? Math.Cos(angle) : Math.Sin(angle);
    }

    private double At(string strip, string tap) => desk.GetValueOrDefault(tap) switch
    {
        "pre-eq" or "pre-fader" => Input(strip) * (IsOpen(strip) ? 1 : 0),
        "input" => Input(strip),
        _ => Post(strip),
    };

    private double Post(string strip) => IsOpen(strip) ? Input(strip) * (IsSource(strip) ? 1 : Factor($"{strip}/fader") * Dcas(strip).Aggregate(1.0, (product, dca) => product * Factor($"{dca}/fader"))) : 0;

    private double Input(string strip) => (desk.GetValueOrDefault($"{strip}/polarity") == "on" ? -1 : 1) * (IsSource(strip) || !desk.ContainsKey($"{strip}/trim") ? 1 : Factor($"{strip}/trim"));

    private bool IsOpen(string strip) => IsSource(strip) || (desk.GetValueOrDefault($"{strip}/on", "on") == "on" && Dcas(strip).All(dca => desk[$"{dca}/on"] == "on")
        && Enumerable.Range(1, 6).All(group => desk.GetValueOrDefault($"{strip}/mute-group/{group}") != "on" || desk[$"mute-group/{group}/active"] == "off"));

    private bool IsSource(string strip) => strip.StartsWith("input/", StringComparison.Ordinal) && desk[$"{strip}/source"].Split(' ')[0] is not ("group" or "mix" or "main" or "matrix" or "input");

    private IEnumerable<string> Dcas(string strip) => Enumerable.Range(1, 8).Where(dca => desk.GetValueOrDefault($"{strip}/dca/{dca}") == "on").Select(dca => $"dca/{dca}");

    private double Factor(string level) => Math.Pow(10, NaiveValues.Decibels(desk[level]) / 20);
}
