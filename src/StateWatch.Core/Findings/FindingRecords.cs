namespace StateWatch.Core.Findings;

/// <summary>Writes findings as records and reads them back, with their times moved to the clock of this run.</summary>
internal static class FindingRecords
{
    private const long MostTicks = 36_500 * TimeSpan.TicksPerDay;

    public static FindingRecord Write(TrackedFinding finding, LedgerBook book) => new(finding.Key)
    {
        Check = finding.Check,
        Evidence = finding.Evidence,
        StaleReason = finding.StaleReason,
        Reading = finding.Reading,
        LastDrift = finding.LastDrift,
        Condition = finding.Condition,
        Since = finding.Since,
        Accumulated = finding.Accumulated,
        LesserSince = finding.LesserSince,
        PendingAt = finding.PendingAt,
        ClosedAt = finding.ClosedAt,
        ClosedFor = finding.ClosedFor,
        RaisedAt = finding.RaisedAt,
        Episode = finding.Episode,
        Relapses = finding.Relapses,
        Severity = finding.Severity,
        IsLatched = finding.IsLatched,
        Acknowledgement = finding.Acknowledgement,
        Holds = finding.Holds,
        Shelf = finding.Shelf,
        OutOfService = finding.OutOfService,
        Restlessness = finding.Restlessness,
        RestlessAt = finding.RestlessAt,
        DampedAt = finding.DampedAt,
        NextLook = finding.NextLook,
        SteadySince = finding.SteadySince,
        Level = finding.Level,
        FirstTransition = finding.FirstTransition,
        Sinks = [.. finding.Sinks.Select((sink, number) => Write(sink, book.Sinks[number].Name))],
        IsGathering = finding.IsGathering,
        IsRecent = finding.IsRecent,
        IsRetired = finding.IsRetired,
    };

    private static SinkRecord Write(SinkStanding sink, string name) =>
        new(name, sink.Offered, sink.Told, sink.Passed, sink.PassedEpisode, sink.PassedSeverity);

    /// <summary>Reads a finding back.</summary>
    /// <param name="record">What was written.</param>
    /// <param name="finding">The finding.</param>
    /// <param name="book">The ledger's book.</param>
    /// <param name="shift">What to add to its times.</param>
    /// <param name="freshShift">What to add to the times in which fresh evidence adds up: being away is a gap.</param>
    public static void Read(FindingRecord record, TrackedFinding finding, LedgerBook book, TimeSpan shift, TimeSpan freshShift)
    {
        var now = book.Now.Clock;
        var fresh = now + freshShift - shift;
        (finding.Evidence, finding.StaleReason) = (record.Evidence, record.StaleReason);
        (finding.Reading, finding.LastDrift) = (record.Reading, record.LastDrift);
        (finding.Condition, finding.Since) = (record.Condition, Past(record.Since, freshShift, fresh));
        finding.Accumulated = record.Accumulated > TimeSpan.Zero ? Moved(record.Accumulated, TimeSpan.Zero) : TimeSpan.Zero;
        finding.LesserSince = record.LesserSince is { } lesser ? Past(lesser, freshShift, fresh) : null;
        finding.HasLasted = finding.DriftedFor(fresh) >= LedgerNumbers.MomentaryFor;
        (finding.PendingAt, finding.RaisedAt) = (Past(record.PendingAt, shift, now), record.RaisedAt);
        (finding.ClosedAt, finding.ClosedFor) = (record.ClosedAt is { } closed ? Past(closed, shift, now) : null, record.ClosedFor);
        (finding.Episode, finding.Relapses, finding.Severity, finding.IsLatched) = (record.Episode, record.Relapses, record.Severity, record.IsLatched);
        (finding.Restlessness, finding.RestlessAt) = (double.IsFinite(record.Restlessness) ? record.Restlessness : 0, Past(record.RestlessAt, shift, now));
        (finding.DampedAt, finding.NextLook) = (Past(record.DampedAt, shift, now), Moved(record.NextLook, shift));
        finding.SteadySince = Past(record.SteadySince, freshShift, fresh);
        (finding.Level, finding.FirstTransition) = (record.Level, record.FirstTransition);
        (finding.IsGathering, finding.IsRetired) = (record.IsGathering, record.IsRetired);
        finding.NextLook = finding.NextLook - now > LedgerNumbers.DampedLook ? now : finding.NextLook;
        if (record.Acknowledgement is { By.Length: > 0 } known && Moved(known.Until, shift) is var until && until - now <= LedgerNumbers.AcknowledgedFor)
            finding.Acknowledgement = known with { Until = until };
        finding.Shelf = Read(record.Shelf, shift, now);
        finding.OutOfService = Read(record.OutOfService, shift, now);
        finding.Holds = record.Holds & ~(Holds.Shelved | Holds.OutOfService);
        if (finding.Shelf is not null && !finding.Check.IsProtected)
            finding.Holds |= Holds.Shelved;
        if (finding.OutOfService is not null)
            finding.Holds |= Holds.OutOfService;
        foreach (var standing in record.Sinks)
            Read(standing, finding, book);
    }

    /// <summary>A time on the clock of this run; one beyond all sense, from storage that was damaged, is brought back to where it does no harm.</summary>
    public static TimeSpan Moved(TimeSpan time, TimeSpan shift) =>
        TimeSpan.FromTicks(Math.Clamp(time.Ticks, -MostTicks, MostTicks)) + shift;

    /// <summary>The same where there may be none.</summary>
    public static TimeSpan? Moved(TimeSpan? time, TimeSpan shift) => time is { } known ? Moved(known, shift) : null;

    private static TimeSpan Past(TimeSpan time, TimeSpan shift, TimeSpan now) => Moved(time, shift) is var moved && moved < now ? moved : now;

    // Whatever hides a finding must say who, why and until when, or it hides nothing.
    private static HoldOrder? Read(HoldOrder? order, TimeSpan shift, TimeSpan now) =>
        order is { By.Length: > 0, Why.Length: > 0 } && Moved(order.Until, shift) is var until && until - now <= LedgerNumbers.HeldAtMost ? order with { Until = until } : null;

    private static void Read(SinkRecord standing, TrackedFinding finding, LedgerBook book)
    {
        for (var number = 0; number < book.Sinks.Count; number++)
        {
            if (!string.Equals(book.Sinks[number].Name, standing.Sink, StringComparison.Ordinal))
                continue;
            finding.Sinks[number] = new SinkStanding
            {
                Offered = standing.Offered,
                Told = standing.Told,
                Passed = standing.Passed,
                PassedEpisode = standing.PassedEpisode,
                PassedSeverity = standing.PassedSeverity,
            };
        }
    }
}
