using StateWatch.Core.Acoustics;
using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
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
    public static string Decibel(double factor) => FormattableString.Invariant($"{Decibels.OfFactor(factor):+0.0;-0.0;0.0} dB");

    /// <summary>Whether a connection is a patch, not a switch.</summary>
    public static bool IsPatch(Setting edge) => edge.Kind.Suffix == "source";

    /// <summary>What a connection leads into: the bus of a switch, the input of a patch.</summary>
    public static string Target(AuditFacts facts, Setting edge) => EdgePaths.BusOf(edge) ?? facts.Profile.Strips[edge.Strip].Path;

    /// <summary>What to do about a connection that the plan does not make, without a full stop.</summary>
    public static string Off(AuditFacts facts, Setting edge)
    {
        var strip = facts.Profile.Strips[edge.Strip];
        var place = strip.Kind == "desk" ? $"talk {edge.Path.Split('/')[2]}" : AuditFacts.Place(strip);
        return IsPatch(edge) ? $"Fader of {place} down first, then mute it; call the engineer to patch its source back" : $"Switch it off: {place} to {EdgePaths.BusOf(edge)!.Replace('/', ' ')}";
    }

    /// <summary>What two ways of one source do to each other, one sentence.</summary>
    public static string Together(AuditFacts facts, ExtraWays.Arrival arrival)
    {
        var sum = Decibel(facts.Flow.Extra.Rise(arrival));
        if (facts.Flow.Extra.Both(arrival) is not var (planned, extra))
            return $"Both ways add up to {sum} over the planned one, and sound hollow where they differ in delay or processing.";
        var later = facts.Flow.Delays.Of(extra) - facts.Flow.Delays.Of(planned);
        var lower = Math.Abs(Decibels.OfFactor(extra.Gain) - Decibels.OfFactor(planned.Gain));
        var turned = extra.Gain < 0 != planned.Gain < 0;
        if (Math.Abs(later) > WayDelays.Same)
            return FormattableString.Invariant($"The second way is {Math.Abs(later):0.0#} ms {(later > 0 ? "later" : "earlier")}: up to {sum} over the planned one, and hollow, with {CombWords.Of(Math.Abs(later), lower, turned)}.");
        var rest = Math.Abs(1 + extra.Gain / planned.Gain);
        return turned ? $"They are of opposed polarity and take each other away: {(rest < 1e-3 ? "nothing is left" : Decibel(rest))} against the planned one alone."
            : $"Both ways add up to {sum} over the planned one, and sound hollow where they differ in delay or processing.";
    }

    /// <summary>The path of a node's strip.</summary>
    public static string PathOf(AuditFacts facts, int node) => facts.Profile.Strips[facts.Flow.Map.Nodes[node].Strip].Path;
}
