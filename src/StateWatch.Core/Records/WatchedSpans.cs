namespace StateWatch.Core.Records;

/// <summary>A stretch of time.</summary>
/// <param name="From">Its beginning.</param>
/// <param name="To">Its end.</param>
public readonly record struct TimeStretch(DateTimeOffset From, DateTimeOffset To)
{
    /// <summary>How long it is.</summary>
    public TimeSpan Length => To - From;
}

/// <summary>When a desk was watched: a watch leaves a sample of coverage each minute, so where nothing was written for longer nobody watched.</summary>
public static class WatchedSpans
{
    /// <summary>How often a watch samples.</summary>
    public static readonly TimeSpan Every = TimeSpan.FromMinutes(1);

    /// <summary>Without a line for so long nobody watched. Three samples: one may come late and one be lost.</summary>
    public static readonly TimeSpan GapAfter = TimeSpan.FromMinutes(3);

    /// <summary>The stretches in which something was written.</summary>
    /// <param name="times">Times of all lines, in any order.</param>
    /// <param name="from">What is before is not looked at.</param>
    /// <param name="to">What is after is not looked at.</param>
    public static IReadOnlyList<TimeStretch> Of(IEnumerable<DateTimeOffset> times, DateTimeOffset from, DateTimeOffset to)
    {
        var spans = new List<TimeStretch>();
        foreach (var time in times.Where(time => time >= from && time <= to).Order())
        {
            if (spans.Count > 0 && time - spans[^1].To <= GapAfter)
                spans[^1] = spans[^1] with { To = time };
            else
                spans.Add(new TimeStretch(time, time));
        }

        // A line stands at the end of the minute that it speaks of.
        for (var i = 0; i < spans.Count; i++)
            spans[i] = spans[i] with { From = Later(spans[i].From - Every, i == 0 ? from : spans[i - 1].To) };
        return spans;
    }

    private static DateTimeOffset Later(DateTimeOffset one, DateTimeOffset other) => one > other ? one : other;
}
