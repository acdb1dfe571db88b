using StateWatch.Core.Desks;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>
/// How late ways through the desk are, as far as delay settings tell: those of the strips on them. An output's delay is left out, since ways
/// to one output have joined before it; what a desk itself takes for a bus or an insert no setting tells.
/// </summary>
/// <param name="map">What sits where.</param>
/// <param name="state">The settings; a delay that was not seen counts as none.</param>
public sealed class WayDelays(RoutingMap map, DeskState state)
{
    /// <summary>Up to this many ms two ways count as equally late: about one sample at 48 kHz (1000 / 48000 = 0.0208).</summary>
    public const double Same = 0.02;

    private readonly int _input = map.Profile.Texts.Intern("input");
    private readonly Dictionary<int, StripStages> _stripOf = map.Strips.SelectMany(strip => strip.Nodes.Select(node => (node, strip))).ToDictionary(pair => pair.node, pair => pair.strip);

    /// <summary>The delay settings of a map's strips.</summary>
    public static IEnumerable<int> Settings(RoutingMap map) => map.Strips.Select(strip => strip.Delay).Where(setting => setting >= 0);

    /// <summary>The delay of a way, in ms.</summary>
    public double Of(Way way) => way.Steps.Sum(step => Of(step.Edge, step.From));

    /// <summary>The delay of the strip that an edge leaves, in ms; 0 for what is taken before it.</summary>
    /// <param name="number">The edge.</param>
    /// <param name="from">The node it leaves.</param>
    public double Of(int number, int from)
    {
        if (!_stripOf.TryGetValue(from, out var strip) || strip.Delay < 0 || state[strip.Delay] is not { HasValue: true, Unit: Unit.Millisecond } delay)
            return 0;
        var edge = map.Edges[number];
        var tap = edge.Kind switch
        {
            EdgeKind.Send => edge.Tap,
            EdgeKind.Output or EdgeKind.DirectOut => strip.DirectOutTap,
            _ => -1,
        };
        return tap >= 0 && state[tap].HasValue && state[tap].TextId == _input ? 0 : delay.Number;
    }
}
