using Microsoft.Data.Sqlite;

namespace StateWatch.History;

/// <summary>Copies from a damaged file what matters most and can still be read: where findings stand, and what waits for sinks.</summary>
internal static class Salvage
{
    private static readonly (string Table, string Columns, string Where)[] Kept =
    [
        ("desk", "desk, at, ledger, standing", ""),
        ("finding", "key, desk, episode, is_open, severity, record, words", ""),
        ("announcement", "number, site, desk, sink, key, id, at, recorded, kind, severity, alert, state, gap", " WHERE state = 'waiting'"),
    ];

    /// <summary>Copies it into a new file and says how much it was.</summary>
    public static string Into(SqliteSession session, string damaged)
    {
        var saved = new int[Kept.Length];
        var whole = true;
        session.Begin();
        for (var i = 0; i < Kept.Length; i++)
        {
            try
            {
                // A connection for each table, so that one that cannot be read takes none of the others with it.
                using var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = damaged, Mode = SqliteOpenMode.ReadWrite, Pooling = false }.ToString());
                connection.Open();
                saved[i] = Copy(connection, session, Kept[i]);
            }
            catch (SqliteException)
            {
                whole = false;
            }
        }

        session.Commit();
        return $"Saved from it: {saved[1]} findings and {saved[2]} waiting alerts{(whole ? "" : "; the rest of them could not be read")}.";
    }

    private static int Copy(SqliteConnection from, SqliteSession to, (string Table, string Columns, string Where) kept)
    {
        using var command = from.CreateCommand();
#pragma warning disable CA2100 // Written above.
        command.CommandText = $"SELECT {kept.Columns} FROM {kept.Table}{kept.Where}";
#pragma warning restore CA2100
        using var reader = command.ExecuteReader();
        var values = new object?[reader.FieldCount];
        var insert = $"INSERT OR IGNORE INTO {kept.Table} ({kept.Columns}) VALUES ({string.Join(", ", Enumerable.Range(1, values.Length).Select(static number => $"${number}"))})";
        var rows = 0;
        while (reader.Read())
        {
            for (var i = 0; i < values.Length; i++)
                values[i] = reader.IsDBNull(i) ? null : reader.GetValue(i);
            to.Run(insert, values);
            rows++;
        }

        return rows;
    }
}
