using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>What the ledger says in the words of the reference model.</summary>
internal static class LedgerWords
{
    public static Reading Of(ModelReading reading) => reading.Kind switch
    {
        '=' => Reading.Match,
        '~' => Reading.OuterMatch,
        '!' => Reading.Drift((Severity)reading.Severity, reading.Live, reading.Band) with { Lasting = (Severity)reading.Lasting },
        '-' => new Reading(ReadingKind.Unsupported),
        _ => Reading.Unknown,
    };

    public static string Of(Level level) => $"{Lower(level.Kind)}/{(int)level.Severity}#{level.Episode}#{level.Transition}";

    public static string Of(Announcement announcement) => announcement.Digest is null
        ? $"{announcement.Sink} {announcement.Id} {Of(announcement.Level)} {Lower(announcement.Condition)}"
        : $"{announcement.Sink} {announcement.Id} {string.Join(", ", announcement.Digest.Select(static line => $"{line.Key} {Of(line.Level)} passed{line.Passed} sev{(int)line.Severity}"))}";

    public static string Of(FindingRecord record) =>
        $"{record.Key} {Lower(record.Evidence)}{(record.Evidence == Evidence.Stale ? " " + Lower(record.StaleReason) : "")} {Lower(record.Condition)} ep{record.Episode} re{record.Relapses} sev{(int)record.Severity} "
        + $"{Lower(record.Attention)}{(record.IsLatched ? " latched" : "")} [{HoldsOf(record.Holds)}] {Of(record.Level)} | "
        + string.Join(" | ", record.Sinks.Select(static sink => $"{Of(sink.Offered)} {Of(sink.Told)} passed{sink.Passed}"));

    /// <summary>Whether a sink knows what there is: the same, or nothing where there is nothing to clear.</summary>
    public static bool Knows(Level told, FindingRecord record, Severity least = Severity.Notice) =>
        record.Level.IsOpen && record.Level.Severity < least ? !told.IsOpen : told.Kind == record.Level.Kind && (told.Kind == LevelKind.None || (told.Severity == record.Level.Severity && told.Episode == record.Level.Episode))
            || (!told.IsOpen && !record.Level.IsNews);

    private static string HoldsOf(Holds holds) => string.Join('+', new[]
    {
        (Holds.Settling, "settling"), (Holds.Inhibited, "inhibited"), (Holds.Expected, "expected"), (Holds.Shelved, "shelved"), (Holds.Damped, "damped"), (Holds.OutOfService, "out-of-service"),
    }.Where(pair => holds.HasFlag(pair.Item1)).Select(static pair => pair.Item2));

    private static string Lower<T>(T value) where T : struct, Enum => value.ToString().ToLowerInvariant();
}
