using StateWatch.Core.Records;

namespace StateWatch.History;

/// <summary>Reads what a question needs and answers it.</summary>
internal static class HistoryAnswer
{
    private static readonly TimeSpan WithoutShow = TimeSpan.FromHours(24);

    // The end of a time is not included, so it lies just after the last line.
    private static readonly TimeSpan JustAfter = TimeSpan.FromSeconds(1);

    /// <summary>Answers.</summary>
    /// <param name="reader">The history.</param>
    /// <param name="desk">site/desk, or null for all.</param>
    /// <param name="time">From when to when; by default the last show, or of shows everything.</param>
    /// <param name="parts">What is asked.</param>
    /// <param name="now">The moment of asking.</param>
    public static HistoryReport Of(HistoryReader reader, string? desk, (DateTimeOffset? From, DateTimeOffset? To) time, HistoryParts parts, DateTimeOffset now)
    {
        var journal = reader.ShowEvents(desk, time.To ?? DateTimeOffset.MaxValue);
        ShowPeriod? show = null;
        TimeStretch asked;
        var isOfShow = time is (null, null) && parts != HistoryParts.Shows;
        if (isOfShow)
        {
            show = LastShow(reader, desk, journal, now);
            asked = show is null ? LastDay(reader, desk, journal, now) : new TimeStretch(show.Began, show.Ended ?? (now > show.Began ? now : show.Began + JustAfter));
        }
        else
        {
            // A machine without a clock of its own may have written in what is now the future.
            var (first, last) = journal.Count > 0 ? (journal[0].Event.At, journal[^1].Event.At + JustAfter) : (now, now);
            var to = time.To ?? (last > now ? last : now);
            to = time.To is null && time.From >= to ? time.From.Value + JustAfter : to;
            asked = new TimeStretch(time.From ?? (first < to ? first : to - WithoutShow), to);
        }

        // A show that is asked about may have begun before.
        var samplesFrom = parts == HistoryParts.Shows ? DateTimeOffset.MinValue : asked.From;
        var lines = new HistoryLines(
            journal,
            reader.Coverage(desk, samplesFrom, asked.To),
            parts.HasFlag(HistoryParts.Changes) ? reader.Changes(desk, asked.From, asked.To) : [],
            reader.Events(desk, asked.To),
            reader.Announcements(desk, DateTimeOffset.MinValue, asked.To),
            reader.Findings(desk));
        return HistoryReport.Of(new HistoryQuestion(now, reader.Place, desk, asked, parts) { Show = show, IsWithoutShow = isOfShow && show is null }, lines);
    }

    private static ShowPeriod? LastShow(HistoryReader reader, string? desk, IReadOnlyList<RecordedShowEvent> journal, DateTimeOffset now)
    {
        // When it began the journal tells alone; samples, of which there are many more, tell when it ended.
        if (ShowPeriods.Of(journal, [], now) is not [.., var last])
            return null;
        return ShowPeriods.Of(journal.Where(line => line.Event.At >= last.Began), reader.Coverage(desk, last.Began, now), now) is [.., var whole] ? whole : last;
    }

    private static TimeStretch LastDay(HistoryReader reader, string? desk, IReadOnlyList<RecordedShowEvent> journal, DateTimeOffset now)
    {
        var last = journal is [.., var line] ? line.Event.At : now;
        last = reader.Coverage(desk, last, now) is [.., var sample] ? sample.Sample.At : last;
        return new TimeStretch(last - WithoutShow, last + JustAfter);
    }
}
