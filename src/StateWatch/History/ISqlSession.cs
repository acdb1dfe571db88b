using System.Data.Common;

namespace StateWatch.History;

/// <summary>
/// A connection to a database of the history. Statements are those that both databases understand, with <c>$1</c>, <c>$2</c>… for values
/// (text, whole numbers, null).
/// </summary>
internal interface ISqlSession : IDisposable
{
    void Begin();

    /// <summary>Everything since <see cref="Begin"/> is on the disk when it returns.</summary>
    void Commit();

    void Rollback();

    /// <summary>Runs a statement, now or at the latest before the next question or the commit.</summary>
    void Run(string sql, params object?[] values);

    /// <summary>Asks a question.</summary>
    List<T> Ask<T>(string sql, Func<DbDataReader, T> read, params object?[] values);
}

/// <summary>What columns hold.</summary>
internal static class Columns
{
    /// <summary>Times are whole numbers: UTC, in steps of 100 ns since 1970.</summary>
    public static long Of(DateTimeOffset time) => time.UtcTicks - DateTime.UnixEpoch.Ticks;

    public static DateTimeOffset Time(long column) => new(Math.Clamp(column + DateTime.UnixEpoch.Ticks, 0, DateTime.MaxValue.Ticks), TimeSpan.Zero);

    public static DateTimeOffset TimeAt(this DbDataReader row, int column) => Time(row.GetInt64(column));

    public static string? TextAt(this DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);
}
