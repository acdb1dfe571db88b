using StateWatch.Core.Acoustics;
using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Ways through the desk in words.</summary>
internal static class FlowWords
{
    /// <summary>The buses of the strongest way over an unplanned connection: <c>Tracks (group 5), room (main 1)</c>.</summary>
    public static string Way(AuditFacts facts, ExtraWays.Arrival arrival)
    {
        var flow = facts.Flow;
        var ways = new WayFinder(flow.Live).Find(arrival.Source, [arrival.Column], new StageReader(flow.Live, flow.View));
        var way = ways.FirstOrDefault(one => one.Steps.Any(step => step.Edge == arrival.Edge)) ?? ways[0];
        return string.Join(", then ", way.Steps.Skip(1).Select(step => Step(facts, PathOf(facts, step.From))).Distinct());
    }

    /// <summary>A bus, or the strip an effect comes back on, in words.</summary>
    public static string Step(AuditFacts facts, string path) =>
        facts.FeedOf(path) is null && facts.Profile.FindStrip(path) is { } strip ? facts.Words(strip) : facts.BusWords(path);

    /// <summary>A level with its sign: <c>+5.2 dB</c>.</summary>
    public static string Decibel(double factor) => System.FormattableString.Invariant($"{Decibels.OfFactor(factor):+0.0;-0.0;0.0} dB");

    /// <summary>The path of a node's strip.</summary>
    public static string PathOf(AuditFacts facts, int node) => facts.Profile.Strips[facts.Flow.Map.Nodes[node].Strip].Path;
}
