using System.Globalization;
using StateWatch.Core.Desks;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Tests.Routing;

/// <summary>
/// Signal flow as one would follow it with a finger: from a strip through every setting that says "on", by names of settings alone. Shares
/// nothing with the routing map. For desks whose main is stereo and that have no circles.
/// </summary>
internal sealed class NaiveFlow(DeskState state, IReadOnlyDictionary<string, string> effects)
{
    /// <summary>Gains of all ways from a strip to an output; left and right legs of the main kept apart.</summary>
    public List<double> Ways(string strip, string output, string leg = "", int depth = 0)
    {
        var ways = new List<double>();
        if (depth > 12)
            return ways;
        var words = strip.Split('/');
        var point = $"{words[0]} {words[1]}{(leg.Length > 0 ? " " + leg : "")}";
        if (Text($"{output}/source") == point && Text($"{output}/on") is null or "on")
            ways.Add(Post(strip));
        if (Text($"{output}/source") == $"{point} direct" && Text($"{output}/on") is null or "on")
            ways.Add(At(strip, Text($"{strip}/direct-out/tap")));
        if (Text($"{strip}/direct-out") is { } direct && $"output/{direct.Replace(' ', '-')}" == output && Text($"{output}/on") is null or "on")
            ways.Add(At(strip, Text($"{strip}/direct-out/tap")));
        foreach (var id in state.Profile.SettingsOf(state.Profile.FindStrip(strip)!.Id))
        {
            var path = state.Profile.Settings[id].Path;
            var rest = path[(strip.Length + 1)..].Split('/');
            if (!state[id].IsOn)
                continue;
            if (rest is ["assign", var kind, var number])
                ways.AddRange(Into($"{kind}/{number}", Post(strip), strip, leg, output, depth));
            else if (rest is ["send", var to, var n, "on"])
                ways.AddRange(Into($"{to}/{n}", At(strip, Text($"{strip}/send/{to}/{n}/tap")) * Factor($"{strip}/send/{to}/{n}/level"), strip, leg, output, depth, $"{strip}/send/{to}/{n}"));
        }

        // Whatever draws from this strip by patch.
        foreach (var input in state.Profile.Strips.Where(one => one.Kind == "input" && Text($"{one.Path}/source") == point))
            ways.AddRange(Ways(input.Path, output, "", depth + 1).Select(gain => gain * Post(strip)));
        if (effects.TryGetValue(strip, out var back))
            ways.AddRange(Ways(back, output, "", depth + 1).Select(gain => gain * Post(strip)));
        return ways;
    }

    private IEnumerable<double> Into(string bus, double gain, string strip, string leg, string output, int depth, string? send = null)
    {
        if (gain == 0)
            return [];
        var pan = Text($"{strip}/pan") is { } text && (send is null || Text($"{send}/pan-follow") is null or "on") ? double.Parse(text.Split(' ')[0], CultureInfo.InvariantCulture) : (double?)null;
        if (bus.StartsWith("main/", StringComparison.Ordinal))
        {
            return leg.Length > 0
                ? Ways(bus, output, leg, depth + 1).Select(way => way * gain)
                : [.. Ways(bus, output, "left", depth + 1).Select(way => way * gain * Share(pan, left: true)), .. Ways(bus, output, "right", depth + 1).Select(way => way * gain * Share(pan, left: false))];
        }

        // The demo pairs matrices 2 and 3; elsewhere an odd bus is the left one.
        var linked = Text($"{bus}/linked") == "on";
        var isLeft = bus == "matrix/2" || (bus != "matrix/3" && int.Parse(bus.Split('/')[1], CultureInfo.InvariantCulture) % 2 == 1);
        // Left into the first bus of a pair, right into the second; half of each into a mono bus.
        var share = leg.Length == 0 ? linked ? Share(pan, isLeft) : 1 : !linked ? 0.5 : leg == "left" == isLeft ? 1 : 0;
        return share == 0 ? [] : Ways(bus, output, "", depth + 1).Select(way => way * gain * share);
    }

    // Constant power: -3 dB in the middle.
    private static double Share(double? pan, bool left) => pan is null ? 1 : left ? Math.Cos((pan.Value / 100 + 1) * Math.PI / 4) : Math.Sin((pan.Value / 100 + 1) * Math.PI / 4);

    private double At(string strip, string? tap) => tap switch
    {
        null or "post-fader" or "post-pan" => Post(strip),
        "input" => Input(strip),
        _ => Open(strip) ? Input(strip) : 0,
    };

    private double Post(string strip)
    {
        if (!Open(strip))
            return 0;
        var gain = Input(strip) * Factor($"{strip}/fader");
        for (var dca = 1; dca <= 8; dca++)
            gain *= Text($"{strip}/dca/{dca}") == "on" ? Factor($"dca/{dca}/fader") : 1;
        return gain;
    }

    private double Input(string strip)
    {
        var gain = Text($"{strip}/trim") is null ? 1 : Factor($"{strip}/trim");
        if (Text($"{strip}/source") is { } source && Text($"socket/{source.Replace(' ', '-')}/gain") is not null)
            gain *= Factor($"socket/{source.Replace(' ', '-')}/gain");
        return Text($"{strip}/polarity") == "on" ? -gain : gain;
    }

    private bool Open(string strip)
    {
        if (Text($"{strip}/on") == "off")
            return false;
        for (var group = 1; group <= 8; group++)
        {
            if (Text($"{strip}/dca/{group}") == "on" && Text($"dca/{group}/on") == "off")
                return false;
            if (Text($"{strip}/mute-group/{group}") == "on" && Text($"mute-group/{group}/active") == "on")
                return false;
        }

        return true;
    }

    private double Factor(string path) => state.Profile.Find(path) is >= 0 and var id && (state[id].Kind is ValueKind.Level or ValueKind.Number)
        ? double.IsNegativeInfinity(state[id].Number) ? 0 : Math.Pow(10, state[id].Number / 20)
        : 1;

    private string? Text(string path) => state.Profile.Find(path) is >= 0 and var id ? state.Profile.Format(state[id]) : null;
}
