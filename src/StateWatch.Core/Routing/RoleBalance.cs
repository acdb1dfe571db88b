using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Routing;

/// <summary>
/// How much louder some sources are than others at a feed, against the same at another feed (the room): a front fill that gets the voices
/// once more holds them over the band. Ways of one source add with their sign; sources add by power.
/// </summary>
public static class RoleBalance
{
    /// <summary>Level of sources at a feed, in dB: the power sum over sources and columns; -inf when none arrives, not a number where one howls.</summary>
    /// <param name="graph">The gains.</param>
    /// <param name="nodes">Nodes of the sources.</param>
    /// <param name="columns">Columns of the feed.</param>
    public static double Level(GainGraph graph, ReadOnlySpan<int> nodes, ReadOnlySpan<int> columns)
    {
        var power = 0.0;
        foreach (var node in nodes)
        {
            var gains = graph.Signed(node);
            foreach (var column in columns)
                power += gains[column] * gains[column];
        }

        return Decibels.OfPower(power);
    }

    /// <summary>How much louder one group of sources is than another at a feed, beyond what it is in the reference feed, in dB.</summary>
    /// <param name="graph">The gains.</param>
    /// <param name="of">Nodes of the sources that are held over the others.</param>
    /// <param name="over">Nodes of the others.</param>
    /// <param name="at">Columns of the feed.</param>
    /// <param name="reference">Columns of the feed it is compared with, as a rule the room's.</param>
    /// <returns>dB; not a number when one of the four levels is silent or howls.</returns>
    public static double Ratio(GainGraph graph, ReadOnlySpan<int> of, ReadOnlySpan<int> over, ReadOnlySpan<int> at, ReadOnlySpan<int> reference)
    {
        var there = Level(graph, of, at) - Level(graph, over, at);
        var here = Level(graph, of, reference) - Level(graph, over, reference);
        return double.IsFinite(there) && double.IsFinite(here) ? there - here : double.NaN;
    }
}
