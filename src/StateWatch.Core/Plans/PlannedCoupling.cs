using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>A loudspeaker that microphones hear: a feed, or one bus of a feed with several that is not stereo.</summary>
/// <param name="Feed">Index in <see cref="ShowPlan.Feeds"/>.</param>
/// <param name="Position">0 for the whole feed, else which of its buses, from 1.</param>
/// <param name="Words">What people call it: <c>room</c>, <c>wedges 3</c>.</param>
public sealed record Loudspeaker(int Feed, int Position, string Words)
{
    /// <summary>The loudspeakers of a plan's feeds, in their order.</summary>
    internal static List<Loudspeaker> Of(IReadOnlyList<Feed> feeds)
    {
        var loudspeakers = new List<Loudspeaker>();
        for (var i = 0; i < feeds.Count; i++)
        {
            var feed = feeds[i];
            if (!feed.Purpose.IsLoudspeaker())
                continue;
            if (feed.Stereo || feed.Buses.Count < 2)
                loudspeakers.Add(new Loudspeaker(i, 0, feed.Key));
            for (var position = 1; !feed.Stereo && feed.Buses.Count > 1 && position <= feed.Buses.Count; position++)
                loudspeakers.Add(new Loudspeaker(i, position, $"{feed.Key} {position}"));
        }

        return loudspeakers;
    }
}

/// <summary>How much of a loudspeaker a microphone hears, by the plan line that counts.</summary>
/// <param name="Microphone">The microphone.</param>
/// <param name="Loudspeaker">Index in <see cref="ShowPlan.Loudspeakers"/>.</param>
/// <param name="Loss">
/// How far below the feed's output signal the microphone's socket hears it, before the preamp, in dB: the gain from socket to output, preamp included, at which this
/// loop would ring. Loop gain in dB is the desk's gain less the loss.
/// </param>
/// <param name="IsMeasured">Whether somebody measured it; else it is an estimate.</param>
/// <param name="Measured">The day it was measured; null for an estimate.</param>
/// <param name="By">Who measured it; null for an estimate.</param>
/// <param name="Setup">Fingerprint of the loop's setup then, as <c>LoopSetup.Fingerprint</c> writes it; null when the line does not say.</param>
/// <param name="Geometry">Where both stand; null for what was measured.</param>
/// <param name="At">The plan line.</param>
public sealed record PlannedCoupling(PlannedStrip Microphone, int Loudspeaker, double Loss, bool IsMeasured, DateOnly? Measured, string? By, string? Setup, CouplingGeometry? Geometry, Origin At)
{
    /// <summary><c>empty</c> or <c>full</c>: whether people were in the room; null when the line does not say.</summary>
    public string? Room { get; init; }

    /// <summary>What an estimate says of the same pair where a measured reference outweighs it, for the time when that is stale; else null.</summary>
    public PlannedCoupling? Estimate { get; init; }

    /// <summary>Whether it is a measured reference that no longer counts on a day; see <see cref="MeasuredLoss.IsStale"/>. An estimate never is.</summary>
    /// <param name="day">The day where the show is (<see cref="PlanDocument.DayOf"/>).</param>
    public bool IsStaleOn(DateOnly day) => Measured is { } measured && MeasuredLoss.IsStale(measured, day);
}
