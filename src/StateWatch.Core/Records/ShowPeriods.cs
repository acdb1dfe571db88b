using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Records;

/// <summary>One show at one desk: from when the phase show began until another phase began.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Show">Name of the show.</param>
/// <param name="Began">When it began.</param>
/// <param name="Ended">When it ended; null when it goes on.</param>
/// <param name="IsEndSeen">Whether another phase began or the watch was ended in order; else somebody pulled the plug, and the last line of the record is its end.</param>
public sealed record ShowPeriod(string Desk, string Show, DateTimeOffset Began, DateTimeOffset? Ended, bool IsEndSeen);

/// <summary>Finds the shows in the journal.</summary>
public static class ShowPeriods
{
    /// <summary>A show that was interrupted for no longer goes on: the watch was started again, or the mains failed.</summary>
    public static readonly TimeSpan GoesOnWithin = TimeSpan.FromHours(1);

    /// <summary>A watch that begins in the phase show is in one when no other phase begins, and it does not end, before so long.</summary>
    public static readonly TimeSpan SureAfter = TimeSpan.FromMinutes(1);

    /// <summary>All shows, in the order in which they began.</summary>
    /// <param name="events">The journal of the show, of any number of desks, in order.</param>
    /// <param name="coverage">Samples of coverage: they tell how long a watch ran that was not ended in order.</param>
    /// <param name="now">The moment of asking.</param>
    public static IReadOnlyList<ShowPeriod> Of(IEnumerable<RecordedShowEvent> events, IEnumerable<RecordedCoverage> coverage, DateTimeOffset now)
    {
        // At one moment samples come first: the end of a watch is the last that it writes.
        var lines = coverage.Select(static line => (line.Desk, line.Sample.At, Line: (RecordedShowEvent?)null))
            .Concat(events.Select(static line => (line.Desk, line.Event.At, Line: (RecordedShowEvent?)line)));
        var shows = new List<ShowPeriod>();
        foreach (var desk in lines.GroupBy(static line => line.Desk, StringComparer.Ordinal))
            shows.AddRange(OfDesk(desk.OrderBy(static line => line.At).Select(static line => (line.At, line.Line)), now));
        return [.. shows.OrderBy(static show => show.Began).ThenBy(static show => show.Desk, StringComparer.Ordinal)];
    }

    private static IEnumerable<ShowPeriod> OfDesk(IEnumerable<(DateTimeOffset At, RecordedShowEvent? Line)> lines, DateTimeOffset now)
    {
        ShowPeriod? open = null;
        var (last, isEnded, isSure) = (DateTimeOffset.MinValue, false, true);
        foreach (var (at, line) in lines)
        {
            if (open is not null && at - last > GoesOnWithin)
            {
                yield return open with { Ended = last, IsEndSeen = isEnded };
                open = null;
            }

            (last, isEnded) = (at, line?.Event.Kind == ShowEventKind.WatchEnded);
            if (line is null)
                continue;
            if (IsBeginning(line.Event))
            {
                // A box that was unplugged in a show begins in it a week later, until the schedule says within a moment what it is.
                isSure = line.Event.Kind == ShowEventKind.PhaseBegan || (open is not null && isSure);
                open ??= new ShowPeriod(line.Desk, line.Event.Show, at, null, false);
                continue;
            }

            if (open is null || line.Event.Kind is not (ShowEventKind.PhaseBegan or ShowEventKind.WatchEnded))
                continue;
            var never = !isSure && at - open.Began < SureAfter;
            if (line.Event.Kind == ShowEventKind.WatchEnded && !never)
                continue;
            if (!never)
                yield return open with { Ended = at, IsEndSeen = true };
            open = null;
        }

        if (open is not null)
            yield return isEnded || now - last > GoesOnWithin ? open with { Ended = last, IsEndSeen = isEnded } : open;
    }

    // A watch that was stopped in a show begins in it again and says so by its phase only.
    private static bool IsBeginning(ShowEvent line) => line.Kind switch
    {
        ShowEventKind.PhaseBegan => line.Text == Phase.Show.Word(),
        ShowEventKind.WatchBegan => line.Phase == Phase.Show,
        _ => false,
    };
}
