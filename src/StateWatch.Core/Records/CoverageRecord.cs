namespace StateWatch.Core.Records;

/// <summary>How much of a plan was seen in a stretch of time.</summary>
/// <param name="Time">The stretch.</param>
/// <param name="Samples">How often it was looked at; 0 when nobody watched.</param>
/// <param name="Worst">The least share seen, 0 to 1; null without samples.</param>
/// <param name="Mean">The mean share, 0 to 1; null without samples.</param>
/// <param name="CannotTell">The most checks that could not be judged at one moment.</param>
public readonly record struct CoveragePart(TimeStretch Time, int Samples, double? Worst, double? Mean, int CannotTell);

/// <summary>How much of one desk's plan was seen over time.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Whole">All of the time.</param>
/// <param name="WorstAt">When the least was seen; null without samples.</param>
public sealed record CoverageRecord(string Desk, CoveragePart Whole, DateTimeOffset? WorstAt)
{
    private const int MostParts = 96;

    /// <summary>The time in equal parts, at most 96, none shorter than a minute.</summary>
    public IReadOnlyList<CoveragePart> Parts { get; init; } = [];

    /// <summary>When nobody watched.</summary>
    public IReadOnlyList<TimeStretch> Gaps { get; init; } = [];

    /// <summary>Of one desk.</summary>
    /// <param name="desk">site/desk.</param>
    /// <param name="samples">Its samples between the two moments, in order.</param>
    /// <param name="from">The first moment.</param>
    /// <param name="to">The second.</param>
    public static CoverageRecord Of(string desk, IReadOnlyList<RecordedCoverage> samples, DateTimeOffset from, DateTimeOffset to)
    {
        var length = TimeSpan.FromTicks(Math.Max(TimeSpan.TicksPerMinute, (to - from).Ticks / MostParts));
        var parts = new List<CoveragePart>();
        var next = 0;
        for (var start = from; start < to; start += length)
        {
            var end = to - start > length ? start + length : to;
            var first = next;
            while (next < samples.Count && samples[next].Sample.At < end)
                next++;
            parts.Add(Part(samples, first, next, new TimeStretch(start, end)));
            if (end == to)
                break;
        }

        var worst = samples.Count == 0 ? (DateTimeOffset?)null : samples.MinBy(Share).Sample.At;
        return new CoverageRecord(desk, Part(samples, 0, samples.Count, new TimeStretch(from, to)), worst) { Parts = parts, Gaps = [.. GapsOf(samples, from, to)] };
    }

    // A sample stands at the end of the minute that it speaks of.
    private static IEnumerable<TimeStretch> GapsOf(IReadOnlyList<RecordedCoverage> samples, DateTimeOffset from, DateTimeOffset to)
    {
        var last = from;
        foreach (var (_, sample) in samples)
        {
            if (sample.At - last > WatchedSpans.GapAfter)
                yield return new TimeStretch(last, sample.At - WatchedSpans.Every);
            last = sample.At;
        }

        if (to - last > WatchedSpans.GapAfter)
            yield return new TimeStretch(last, to);
    }

    private static CoveragePart Part(IReadOnlyList<RecordedCoverage> samples, int first, int end, TimeStretch time)
    {
        if (first == end)
            return new CoveragePart(time, 0, null, null, 0);
        var (worst, sum, cannotTell) = (1.0, 0.0, 0);
        for (var i = first; i < end; i++)
        {
            var share = Share(samples[i]);
            (worst, sum, cannotTell) = (Math.Min(worst, share), sum + share, Math.Max(cannotTell, samples[i].Sample.CannotTell));
        }

        return new CoveragePart(time, end - first, worst, sum / (end - first), cannotTell);
    }

    // A plan that speaks of nothing has nothing unseen.
    private static double Share(RecordedCoverage one) => one.Sample.Planned == 0 ? 1 : (double)one.Sample.Verified / one.Sample.Planned;
}
