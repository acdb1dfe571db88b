namespace StateWatch.Core.Findings;

/// <summary>Writes findings as records and reads them back, with their times moved to the clock of this run.</summary>
internal static class FindingRecords
{
    public static FindingRecord Write(TrackedFinding finding, LedgerBook book, bool isMember) => new(finding.Key)
    {
        Check = finding.Check,
        Evidence = finding.Evidence,
        StaleReason = finding.StaleReason,
        Reading = finding.Reading,
        LastDrift = finding.LastDrift,
        Condition = finding.Condition,
        Since = finding.Since,
        Accumulated = finding.Accumulated,
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
        IsMember = isMember,
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
        (finding.Evidence, finding.StaleReason) = (record.Evidence, record.StaleReason);
        (finding.Reading, finding.LastDrift) = (record.Reading, record.LastDrift);
        (finding.Condition, finding.Since, finding.Accumulated) = (record.Condition, record.Since + freshShift, record.Accumulated);
        (finding.PendingAt, finding.ClosedAt, finding.ClosedFor, finding.RaisedAt) = (record.PendingAt + shift, record.ClosedAt + shift, record.ClosedFor, record.RaisedAt);
        (finding.Episode, finding.Relapses, finding.Severity, finding.IsLatched) = (record.Episode, record.Relapses, record.Severity, record.IsLatched);
        (finding.Restlessness, finding.RestlessAt) = (record.Restlessness, record.RestlessAt + shift);
        (finding.DampedAt, finding.NextLook, finding.SteadySince) = (record.DampedAt + shift, record.NextLook + shift, record.SteadySince + freshShift);
        (finding.Level, finding.FirstTransition) = (record.Level, record.FirstTransition);
        (finding.IsGathering, finding.IsRetired) = (record.IsGathering, record.IsRetired);
        finding.Acknowledgement = record.Acknowledgement is { By.Length: > 0 } known ? known with { Until = known.Until + shift } : null;
        finding.Shelf = Read(record.Shelf, shift);
        finding.OutOfService = Read(record.OutOfService, shift);
        finding.Holds = record.Holds & ~(Holds.Shelved | Holds.OutOfService | Holds.Inhibited);
        if (finding.Shelf is not null && !finding.Check.IsProtected)
            finding.Holds |= Holds.Shelved;
        if (finding.OutOfService is not null)
            finding.Holds |= Holds.OutOfService;
        if (record.IsMember)
            finding.Holds |= Holds.Inhibited;
        foreach (var standing in record.Sinks)
            Read(standing, finding, book);
    }

    // Whatever hides a finding must say who, why and until when, or it hides nothing.
    private static HoldOrder? Read(HoldOrder? order, TimeSpan shift) =>
        order is { By.Length: > 0, Why.Length: > 0 } ? order with { Until = order.Until + shift } : null;

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
