using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Records;

/// <summary>Something that called for somebody.</summary>
/// <param name="At">When.</param>
/// <param name="Key">What it was about.</param>
/// <param name="Severity">How much it mattered.</param>
public readonly record struct Alarm(DateTimeOffset At, string Key, Severity Severity);

/// <summary>
/// How many alarms people were given in a time, by the measures of the process industry's alarm standards. What was announced is counted, not what
/// happened: a recall that was told in one line is one alarm.
/// </summary>
/// <param name="Watched">How long anybody watched; averages and shares are of this time.</param>
/// <param name="Alarms">How many there were.</param>
public sealed record AlarmLoad(TimeSpan Watched, int Alarms)
{
    /// <summary>The length of a period.</summary>
    public static readonly TimeSpan Period = TimeSpan.FromMinutes(10);

    private static readonly TimeSpan Minute = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan Day = TimeSpan.FromHours(24);

    /// <summary>Alarms in ten minutes, on average; 0 when nobody watched.</summary>
    public double PerTenMinutes => Watched > TimeSpan.Zero ? Alarms / (Watched / Period) : 0;

    /// <summary>Alarms in an hour, on average.</summary>
    public double PerHour => PerTenMinutes * 6;

    /// <summary>The most in any ten minutes, wherever they begin.</summary>
    public int Peak { get; init; }

    /// <summary>When those ten minutes began; null without alarms.</summary>
    public DateTimeOffset? PeakAt { get; init; }

    /// <summary>How many periods of ten minutes there were, end to end.</summary>
    public int Periods { get; init; }

    /// <summary>Those with more than 10 alarms.</summary>
    public int PeriodsAboveTen { get; init; }

    /// <summary>How many hours there were, end to end.</summary>
    public int Hours { get; init; }

    /// <summary>Those with more than 30 alarms.</summary>
    public int HoursAboveThirty { get; init; }

    /// <summary>How often a flood began: a period with more than 10 alarms.</summary>
    public int Floods { get; init; }

    /// <summary>How long floods lasted: until a period with fewer than 5 alarms began.</summary>
    public TimeSpan InFlood { get; init; }

    /// <summary>Findings that went off plan three times within a minute or more often, told or not, by key.</summary>
    public IReadOnlyList<string> Chattering { get; init; } = [];

    /// <summary>Findings that were announced, and cleared within a minute before anybody acknowledged them, by key; not those that chatter.</summary>
    public IReadOnlyList<string> Fleeting { get; init; } = [];

    /// <summary>The most findings that stood for longer than 24 hours at the same time.</summary>
    public int Stale { get; init; }

    /// <summary>The ten keys with most alarms, and how many each.</summary>
    public IReadOnlyList<(string Key, int Alarms)> Top { get; init; } = [];

    /// <summary>Alarms of each severity: notice, warning, urgent.</summary>
    public (int Notice, int Warning, int Urgent) Mix { get; init; }

    /// <summary>Share of periods above ten alarms, 0 to 1.</summary>
    public double ShareAboveTen => Periods == 0 ? 0 : (double)PeriodsAboveTen / Periods;

    /// <summary>Share of hours above thirty alarms, 0 to 1.</summary>
    public double ShareAboveThirty => Hours == 0 ? 0 : (double)HoursAboveThirty / Hours;

    /// <summary>Share of the time in flood, 0 to 1.</summary>
    public double ShareInFlood => Watched > TimeSpan.Zero ? Math.Min(1, InFlood / Watched) : 0;

    /// <summary>Share of the ten most frequent keys in all alarms, 0 to 1.</summary>
    public double TopShare => Alarms == 0 ? 0 : (double)Top.Sum(static one => one.Alarms) / Alarms;

    /// <summary>Computes it.</summary>
    /// <param name="alarms">What was announced, in order.</param>
    /// <param name="episodes">The episodes of the time, for what stood and what was fleeting.</param>
    /// <param name="events">The journal of findings of the time, in order, for what chattered.</param>
    /// <param name="watched">The stretches in which somebody watched, in order; alarms outside of them are counted, but in no period.</param>
    public static AlarmLoad Of(IReadOnlyList<Alarm> alarms, IReadOnlyList<FindingEpisode> episodes, IEnumerable<LedgerEvent> events, IReadOnlyList<TimeStretch> watched)
    {
        var time = TimeSpan.FromTicks(watched.Sum(static span => span.Length.Ticks));
        var periods = watched.Select(span => Counts(alarms, span, Period)).ToList();
        var hours = watched.SelectMany(span => Counts(alarms, span, TimeSpan.FromHours(1))).ToList();
        var (peak, peakAt) = PeakOf(alarms);
        var (floods, flooded) = FloodsOf(periods);
        var chattering = ChatteringOf(events);
        return new AlarmLoad(time, alarms.Count)
        {
            Peak = peak,
            PeakAt = peakAt,
            Periods = periods.Sum(static counts => counts.Count),
            PeriodsAboveTen = periods.Sum(static counts => counts.Count(static count => count > 10)),
            Hours = hours.Count,
            HoursAboveThirty = hours.Count(static count => count > 30),
            Floods = floods,
            InFlood = flooded * Period,
            Chattering = chattering,
            Fleeting = [.. episodes.Where(IsFleeting).Select(static episode => episode.Key).Except(chattering, StringComparer.Ordinal).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
            Stale = StaleOf(episodes, watched is [] ? DateTimeOffset.MinValue : watched[^1].To),
            Top = [.. alarms.GroupBy(static alarm => alarm.Key, StringComparer.Ordinal).Select(static group => (Key: group.Key, Alarms: group.Count()))
                .OrderByDescending(static one => one.Alarms).ThenBy(static one => one.Key, StringComparer.Ordinal).Take(10)],
            Mix = (alarms.Count(static alarm => alarm.Severity <= Severity.Notice), alarms.Count(static alarm => alarm.Severity == Severity.Warning), alarms.Count(static alarm => alarm.Severity == Severity.Urgent)),
        };
    }

    private static List<int> Counts(IReadOnlyList<Alarm> alarms, TimeStretch span, TimeSpan length)
    {
        var counts = new List<int>();
        for (var start = span.From; start < span.To; start += length)
            counts.Add(0);
        foreach (var alarm in alarms)
        {
            if (alarm.At >= span.From && alarm.At <= span.To && counts.Count > 0)
                counts[(int)Math.Min((alarm.At - span.From) / length, counts.Count - 1)]++;
        }

        return counts;
    }

    private static (int Peak, DateTimeOffset? At) PeakOf(IReadOnlyList<Alarm> alarms)
    {
        var (peak, at, first) = (0, (DateTimeOffset?)null, 0);
        for (var last = 0; last < alarms.Count; last++)
        {
            while (alarms[last].At - alarms[first].At >= Period)
                first++;
            if (last - first + 1 > peak)
                (peak, at) = (last - first + 1, alarms[first].At);
        }

        return (peak, at);
    }

    private static (int Floods, int Periods) FloodsOf(IEnumerable<IReadOnlyList<int>> stretches)
    {
        var (floods, periods) = (0, 0);
        foreach (var counts in stretches)
        {
            var isFlood = false;
            foreach (var count in counts)
            {
                floods += !isFlood && count > 10 ? 1 : 0;
                isFlood = isFlood ? count >= 5 : count > 10;
                periods += isFlood ? 1 : 0;
            }
        }

        return (floods, periods);
    }

    private static IReadOnlyList<string> ChatteringOf(IEnumerable<LedgerEvent> events)
    {
        var chattering = new SortedSet<string>(StringComparer.Ordinal);
        foreach (var group in events.Where(static line => line.Kind is LedgerEventKind.Raised or LedgerEventKind.Reopened or LedgerEventKind.Relapsed).GroupBy(static line => line.Key, StringComparer.Ordinal))
        {
            var times = group.Select(static line => line.At.Wall).ToList();
            for (var i = 2; i < times.Count; i++)
            {
                if (times[i] - times[i - 2] < Minute)
                    chattering.Add(group.Key);
            }
        }

        return [.. chattering];
    }

    private static bool IsFleeting(FindingEpisode episode) =>
        episode is { Alarms: > 0, Cleared: { } cleared } && cleared - episode.Raised < Minute && (episode.AcknowledgedAt is not { } known || known > cleared);

    // From a day after it was raised until it was cleared a finding is stale; the most that overlap.
    private static int StaleOf(IReadOnlyList<FindingEpisode> episodes, DateTimeOffset end)
    {
        var turns = new List<(DateTimeOffset At, int Change)>();
        foreach (var episode in episodes)
        {
            var (from, to) = (episode.Raised + Day, episode.Cleared ?? end);
            if (to <= from)
                continue;
            turns.Add((from, 1));
            turns.Add((to, -1));
        }

        turns.Sort();
        var (now, most) = (0, 0);
        foreach (var (_, change) in turns)
            most = Math.Max(most, now += change);
        return most;
    }
}
