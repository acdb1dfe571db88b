namespace StateWatch.History;

/// <summary>
/// Removes from the two files what is too old, and, when they are too large or the disk too full, the oldest besides: observations first, then the
/// journals. What stands, and what waits for a sink, is never removed. It works in small steps, so that commits need not wait.
/// </summary>
internal sealed class Retention(SqliteFile findings, SqliteFile observations, Lock gate, HistoryOptions options, Func<string, long> freeBytes)
{
    private const long Megabyte = 1_000_000;

    /// <summary>So many rows are removed at once.</summary>
    public const int Step = 5000;

    /// <summary>What is said when the time of day cannot be trusted.</summary>
    public const string NotByAge = "History: the clock of this machine is not synchronised, so nothing was removed for its age.";

    public static readonly (string Table, string Where)[] Observations = [("setting_change", "1 = 1"), ("coverage", "1 = 1")];

    public static readonly (string Table, string Where)[] Journals =
    [
        ("announcement", "state <> 'waiting'"),
        ("finding_event", "NOT EXISTS (SELECT 1 FROM finding WHERE finding.key = finding_event.key AND finding.episode = finding_event.episode AND finding.is_open = 1)"),
        ("show_event", "1 = 1"),
    ];

    /// <summary>How much is free on the disk of a folder.</summary>
    /// <exception cref="HistoryException">The system does not say.</exception>
    public static long FreeBytes(string folder)
    {
        try
        {
            return new DriveInfo(folder).AvailableFreeSpace;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw HistoryFault.Of(folder, problem);
        }
    }

    public string Tidy(DateTimeOffset now, bool isClockTrusted)
    {
        // A clock that runs years ahead would make everything old.
        var limit = Columns.Of(now) - (options.KeepDays * TimeSpan.TicksPerDay);
        var copies = new HistoryCopies(options.Folder);
        var thrown = 0;
        var old = 0L;
        for (var isDone = !isClockTrusted; !isDone;)
        {
            try
            {
                old += Remove(observations, Observations, limit) + Remove(findings, Journals, limit);
                isDone = true;
            }
            catch (HistoryException problem) when (problem.IsFull && copies.RemoveOldest())
            {
                // Removing rows needs some room too.
                thrown++;
            }
        }

        var allowed = Allowed();
        while (Size() + copies.Bytes > allowed && copies.RemoveOldest())
            thrown++;
        var pressed = 0L;
        while (Size() > allowed && RemoveOldest(observations, Observations) is > 0 and var rows)
            pressed += rows;
        while (Size() > allowed && RemoveOldest(findings, Journals) is > 0 and var rows)
            pressed += rows;
        Shrink(observations);
        Shrink(findings);
        return Told(old, pressed, allowed, thrown, isClockTrusted);
    }

    /// <summary>How large the files may be.</summary>
    /// <param name="size">How large they are.</param>
    /// <param name="free">How much of the disk is free.</param>
    /// <param name="options">The limits.</param>
    public static long Allowed(long size, long free, HistoryOptions options)
    {
        var missing = (options.LeastFreeMegabytes * Megabyte) - free;
        return missing <= 0 ? options.MostMegabytes * Megabyte : Math.Max(0, Math.Min(options.MostMegabytes * Megabyte, size - missing));
    }

    private long Allowed()
    {
        // The whole of the files, with what is free in them already: that is given back below, and then the disk has it.
        var held = Size() + new HistoryCopies(options.Folder).Bytes;
        var given = Bytes(findings, "freelist_count") + Bytes(observations, "freelist_count");
        return options.LeastFreeMegabytes == 0 ? options.MostMegabytes * Megabyte : Allowed(held, freeBytes(options.Folder) + given, options);
    }

    private long Size() => Bytes(findings, "page_count") - Bytes(findings, "freelist_count") + Bytes(observations, "page_count") - Bytes(observations, "freelist_count");

    private long Bytes(SqliteFile file, string pages) => At(file, session => session.Number($"PRAGMA {pages}") * session.Number("PRAGMA page_size"));

    private long Remove(SqliteFile file, (string Table, string Where)[] tables, long before)
    {
        var removed = 0L;
        foreach (var (table, where) in tables)
        {
            // Up to the time of the row that stands so many rows further on, again and again.
            for (long rows = 1; rows > 0; removed += rows)
            {
                rows = At(file, session => session.Number($"SELECT COUNT(*) FROM (SELECT 1 FROM {table} WHERE at < $1 AND {where} LIMIT {Step})", before) is 0 ? 0
                    : Delete(session, table, $"at < $1 AND {where}", before));
            }
        }

        return removed;
    }

    private long RemoveOldest(SqliteFile file, (string Table, string Where)[] tables)
    {
        // The table whose oldest row is the oldest of all, so that they end at about the same day.
        var oldest = At(file, session => tables.Select(table => (table.Table, table.Where, Ages: session.Ask($"SELECT MIN(at) FROM {table.Table} WHERE {table.Where}", static row => row.IsDBNull(0) ? (long?)null : row.GetInt64(0))))
            .Where(static table => table.Ages[0] is not null).OrderBy(static table => table.Ages[0]).FirstOrDefault());
        return oldest.Table is null ? 0 : At(file, session => Delete(session, oldest.Table, oldest.Where));
    }

    private static long Delete(SqliteSession session, string table, string where, params object?[] values)
    {
        // The time of the last row of this step; whatever has the same time goes with it.
        var last = session.Ask($"SELECT MAX(at) FROM (SELECT at FROM {table} WHERE {where} ORDER BY at LIMIT {Step})", static row => row.IsDBNull(0) ? (long?)null : row.GetInt64(0), values)[0];
        if (last is null)
            return 0;
        session.Run($"DELETE FROM {table} WHERE at <= ${values.Length + 1} AND {where}", [.. values, last]);
        return session.Number("SELECT changes()");
    }

    // Free pages go back to the disk, some at a time.
    private void Shrink(SqliteFile file)
    {
        for (var (left, before) = (long.MaxValue - 1, long.MaxValue); left > 0 && left < before;)
        {
            before = left;
            left = At(file, static session =>
            {
                // One row a page that was given back.
                session.Ask($"PRAGMA incremental_vacuum({Step})", static _ => 0);
                return session.Number("PRAGMA freelist_count");
            });
        }

        At(file, static session => session.Ask("PRAGMA wal_checkpoint(TRUNCATE)", static _ => 0));
    }

    private T At<T>(SqliteFile file, Func<SqliteSession, T> work)
    {
        lock (gate)
            return file.Work(work);
    }

    private string Told(long old, long pressed, long allowed, int thrown, bool isClockTrusted)
    {
        var size = Size();
        var copies = thrown == 0 ? "" : $"; {thrown} older {(thrown == 1 ? "copy" : "copies")} of damaged or earlier files went first";
        var age = isClockTrusted ? "" : "; nothing was removed for its age, since the clock of this machine is not synchronised";
        var removed = old + pressed == 0 ? "nothing had to be removed"
            : pressed == 0 ? $"{old:N0} rows older than {options.KeepDays} days were removed"
            : $"{old:N0} rows older than {options.KeepDays} days and the {pressed:N0} oldest besides were removed, since the history was too large or the disk too full";
        var still = size > allowed ? "; what is left stands, or waits for a sink, and is kept" : "";
        return $"History: {removed}; it holds {size / 1e6:0.0} MB{copies}{age}{still}.";
    }
}
