using System.Data.Common;
using Microsoft.Data.Sqlite;

namespace StateWatch.History;

/// <summary>A connection to an SQLite file. Statements stay prepared; each runs at once.</summary>
internal sealed class SqliteSession(SqliteConnection connection) : ISqlSession
{
    private readonly Dictionary<string, SqliteCommand> _prepared = new(StringComparer.Ordinal);

    public void Begin() => Run("BEGIN IMMEDIATE");

    public void Commit() => Run("COMMIT");

    public void Rollback() => Run("ROLLBACK");

    public void Run(string sql, params object?[] values) => Command(sql, values).ExecuteNonQuery();

    public List<T> Ask<T>(string sql, Func<DbDataReader, T> read, params object?[] values)
    {
        var rows = new List<T>();
        using var reader = Command(sql, values).ExecuteReader();
        while (reader.Read())
            rows.Add(read(reader));
        return rows;
    }

    /// <summary>A whole number that a question or a pragma gives; 0 for none.</summary>
    public long Number(string sql, params object?[] values) => Command(sql, values).ExecuteScalar() is long number ? number : 0;

    /// <summary>A statement that is not worth keeping, such as those of a migration.</summary>
    public void RunOnce(string sql, params object?[] values)
    {
        using var command = connection.CreateCommand();
        Set(command, sql, values);
        command.ExecuteNonQuery();
    }

    public void Dispose()
    {
        foreach (var command in _prepared.Values)
            command.Dispose();
        connection.Dispose();
    }

    private SqliteCommand Command(string sql, object?[] values)
    {
        if (!_prepared.TryGetValue(sql, out var command))
        {
            command = connection.CreateCommand();
            _prepared.Add(sql, command);
        }

        Set(command, sql, values);
        return command;
    }

    // Whoever writes the statement is in this folder; nothing of it ever comes from outside.
#pragma warning disable CA2100
    private static void Set(SqliteCommand command, string sql, object?[] values)
    {
        if (command.CommandText != sql)
            command.CommandText = sql;
#pragma warning restore CA2100
        if (command.Parameters.Count == 0)
        {
            for (var i = 0; i < values.Length; i++)
                command.Parameters.Add(new SqliteParameter { ParameterName = $"${i + 1}" });
        }

        for (var i = 0; i < values.Length; i++)
            command.Parameters[i].Value = values[i] ?? DBNull.Value;
    }
}
