using StateWatch.Core.Findings;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>
/// Makes one of what is stored of a desk and of what its watch has lived through without knowing that. How things stand is as it was lived; numbers go on from
/// those that are stored, so that no id comes twice; what only one of them knows is kept.
/// </summary>
internal static class RecalledDesk
{
    /// <summary>What the watch goes on from.</summary>
    /// <param name="stored">What is stored.</param>
    /// <param name="lived">Where the watch stands that began without it; null when it never came so far.</param>
    /// <param name="began">Since when phase and cue were so when that one began: a later moment means that somebody said so since.</param>
    public static StoredDesk Join(StoredDesk stored, StoredDesk? lived, DateTimeOffset began)
    {
        if (lived is null)
            return stored;
        var clock = new RecalledClock(stored.Ledger.Ledger.At, lived.Ledger.Ledger.At);
        var before = stored.Ledger.Findings.ToDictionary(static record => record.Key, clock.Move, StringComparer.Ordinal);
        var findings = new List<FindingRecord>();
        foreach (var record in lived.Ledger.Findings)
            findings.Add(before.Remove(record.Key, out var known) ? Join(known, record) : record);
        findings.AddRange(before.Values);
        findings.Sort(static (one, other) => string.CompareOrdinal(one.Key, other.Key));
        return new StoredDesk(new LedgerRecord(Join(stored.Ledger.Ledger, lived.Ledger.Ledger, clock), findings), Join(stored.Standing, lived.Standing, began), Join(stored.Words, lived.Words));
    }

    /// <summary>The journals of what was lived, with the numbers that its episodes have now; not how findings and ledger stood.</summary>
    public static WatchOutput Lines(WatchOutput lived, StoredDesk stored)
    {
        var before = stored.Ledger.Findings.ToDictionary(static record => record.Key, StringComparer.Ordinal);
        return lived with { Findings = [], Alerts = [], Events = [.. lived.Events.Select(line => before.TryGetValue(line.Key, out var known) ? Renumbered(line, known) : line)] };
    }

    private static LedgerEvent Renumbered(LedgerEvent line, FindingRecord before) => line.Episode == 0 ? line : line with
    {
        Episode = line.Episode + EpisodesBefore(before),
        Kind = line is { Kind: LedgerEventKind.Raised, Episode: 1 } && GoesOn(before) ? LedgerEventKind.Reopened : line.Kind,
    };

    // What stood when it was stored and stands now is one episode.
    private static bool GoesOn(FindingRecord before) => before.Episode > 0 && (before.Condition is Condition.Active or Condition.Clearing || before.IsLatched || before.Level.IsOpen);

    private static int EpisodesBefore(FindingRecord before) => GoesOn(before) ? before.Episode - 1 : before.Episode;

    private static FindingRecord Join(FindingRecord before, FindingRecord lived)
    {
        var episodes = EpisodesBefore(before);
        // One number stays free, for clearing what was told before.
        var transitions = before.Level.Transition + 1;
        Level Raised(Level level) => level.Transition == 0 ? level : level with { Episode = level.Episode + episodes, Transition = level.Transition + transitions };
        HoldOrder? Held(HoldOrder? order) => order is { OnlyEpisode: { } only } ? order with { OnlyEpisode = only + episodes } : order;
        var (shelf, outOfService) = (Held(lived.Shelf) ?? before.Shelf, Held(lived.OutOfService) ?? before.OutOfService);
        if (lived.Episode == 0)
            return before with { Shelf = shelf, OutOfService = outOfService, Acknowledgement = lived.Acknowledgement ?? before.Acknowledgement };
        return lived with
        {
            Episode = lived.Episode + episodes,
            Level = Raised(lived.Level),
            FirstTransition = lived.FirstTransition + transitions,
            Shelf = shelf,
            OutOfService = outOfService,
            Sinks = [.. lived.Sinks.Select(sink => Join(before.Sinks.FirstOrDefault(one => string.Equals(one.Sink, sink.Sink, StringComparison.Ordinal)), sink, Raised, episodes))],
        };
    }

    private static SinkRecord Join(SinkRecord before, SinkRecord lived, Func<Level, Level> raised, int episodes) => lived with
    {
        Offered = lived.Offered.Transition == 0 ? before.Offered : raised(lived.Offered),
        Told = lived.Told.Transition == 0 ? before.Told : raised(lived.Told),
        PassedEpisode = lived.Passed == 0 ? lived.PassedEpisode : lived.PassedEpisode + episodes,
    };

    private static LedgerState Join(LedgerState stored, LedgerState lived, RecalledClock clock) => lived with
    {
        Digests = stored.Digests + lived.Digests,
        EventEnds = lived.EventEnds ?? stored.EventEnds,
        Windows = [.. lived.Windows, .. stored.Windows.Where(window => clock.IsKnown && lived.Windows.All(other => !string.Equals(other.Id, window.Id, StringComparison.Ordinal))).Select(clock.Move)],
    };

    private static ShowStanding Join(ShowStanding stored, ShowStanding lived, DateTimeOffset began) =>
        lived.Since > began ? lived with { Baseline = lived.Baseline.Count > 0 ? lived.Baseline : stored.Baseline } : stored;

    private static Dictionary<string, AlertWords> Join(IReadOnlyDictionary<string, AlertWords> stored, IReadOnlyDictionary<string, AlertWords> lived)
    {
        var joined = new Dictionary<string, AlertWords>(stored, StringComparer.Ordinal);
        foreach (var (key, words) in lived)
            joined[key] = words;
        return joined;
    }
}

/// <summary>Moves times of an earlier run to the clock of this one, as a restart does: people's times ran on meanwhile, those of fresh evidence did not.</summary>
internal sealed class RecalledClock
{
    private readonly TimeSpan _shift;
    private readonly TimeSpan _freshShift;

    public RecalledClock(Moment then, Moment now)
    {
        var away = now.Wall - then.Wall;
        IsKnown = away >= TimeSpan.Zero;
        _freshShift = now.Clock - then.Clock;
        _shift = IsKnown ? _freshShift - away : _freshShift;
    }

    /// <summary>Whether the time of day says how long it was; else shelves, acknowledgements and windows are over.</summary>
    public bool IsKnown { get; }

    public ExpectedWindow Move(ExpectedWindow window) => window with { Until = window.Until + _shift };

    public FindingRecord Move(FindingRecord record) => record with
    {
        Since = record.Since + _freshShift,
        SteadySince = record.SteadySince + _freshShift,
        PendingAt = record.PendingAt + _shift,
        ClosedAt = record.ClosedAt + _shift,
        RestlessAt = record.RestlessAt + _shift,
        DampedAt = record.DampedAt + _shift,
        NextLook = record.NextLook + _shift,
        Acknowledgement = IsKnown && record.Acknowledgement is { } known ? known with { Until = known.Until + _shift } : null,
        Shelf = Move(record.Shelf),
        OutOfService = Move(record.OutOfService),
    };

    private HoldOrder? Move(HoldOrder? order) => IsKnown && order is not null ? order with { Until = order.Until + _shift } : null;
}
