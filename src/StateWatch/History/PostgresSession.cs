using System.Data.Common;
using Npgsql;

namespace StateWatch.History;

/// <summary>A connection to a PostgreSQL server. Statements are gathered and go there together, before the next question or the commit.</summary>
internal sealed class PostgresSession(NpgsqlConnection connection) : ISqlSession
{
    private NpgsqlTransaction? _transaction;
    private NpgsqlBatch? _gathered;

    public void Begin() => _transaction = connection.BeginTransaction();

    public void Commit()
    {
        Send();
        _transaction!.Commit();
        _transaction.Dispose();
        _transaction = null;
    }

    public void Rollback()
    {
        _gathered?.Dispose();
        _gathered = null;
        _transaction?.Dispose();
        _transaction = null;
    }

    public void Run(string sql, params object?[] values)
    {
        _gathered ??= new NpgsqlBatch(connection, _transaction);
        var command = new NpgsqlBatchCommand(sql);
        foreach (var value in values)
            command.Parameters.Add(new NpgsqlParameter { Value = value ?? DBNull.Value });
        _gathered.BatchCommands.Add(command);
    }

    public List<T> Ask<T>(string sql, Func<DbDataReader, T> read, params object?[] values)
    {
        Send();
        using var command = new NpgsqlCommand(sql, connection, _transaction);
        foreach (var value in values)
            command.Parameters.Add(new NpgsqlParameter { Value = value ?? DBNull.Value });
        var rows = new List<T>();
        using var reader = command.ExecuteReader();
        while (reader.Read())
            rows.Add(read(reader));
        return rows;
    }

    /// <summary>Sends what was gathered; how many rows it changed.</summary>
    public int Send()
    {
        if (_gathered is not { } batch)
            return 0;
        _gathered = null;
        using (batch)
            return batch.ExecuteNonQuery();
    }

    public void Dispose()
    {
        Rollback();
        connection.Dispose();
    }
}
