namespace StateWatch.History;

/// <summary>Brings the tables on a server to the newest form, whoever of several sites comes first.</summary>
internal static class PostgresSchema
{
    /// <summary>Where the tables are kept, unless the connection says otherwise.</summary>
    public const string Name = "statewatch";

    // Any number that nobody else takes a lock on: "SWHi".
    private const long LockNumber = SqliteFile.ApplicationId;

    private static readonly string[] Own =
    [
        "CREATE TABLE last_commit (writer text NOT NULL PRIMARY KEY, mark text NOT NULL)",
    ];

    /// <summary>One script for each version: the same tables as in the files, and what only a server needs.</summary>
    private static readonly IReadOnlyList<string> Migrations = [string.Join(";\n", [.. Own, FindingSchema.Migrations[0], ObservationSchema.Migrations[0]])];

    /// <exception cref="HistoryException">The tables were made by a newer program.</exception>
    public static void Prepare(PostgresSession session, string place, Action<string> notice)
    {
        session.Begin();
        session.Ask("SELECT pg_advisory_xact_lock($1)::text", static _ => 0, LockNumber);
        if (session.Ask("SELECT current_schema() IS NULL", static row => row.GetBoolean(0))[0])
            session.Run($"CREATE SCHEMA {Name}");
        session.Run("CREATE TABLE IF NOT EXISTS statewatch_form (form integer NOT NULL)");
        var form = session.Ask("SELECT form FROM statewatch_form", static row => row.GetInt32(0)) is [var known, ..] ? known : 0;
        RefuseNewer(form, place);
        if (form is > 0 && form < Migrations.Count)
            notice($"The history at {place} was brought from form {form} to {Migrations.Count}.");
        for (var next = form; next < Migrations.Count; next++)
        {
            foreach (var statement in Statements(Migrations[next]))
                session.Run(statement);
        }

        if (form == 0)
            session.Run("INSERT INTO statewatch_form (form) VALUES ($1)", Migrations.Count);
        else if (form < Migrations.Count)
            session.Run("UPDATE statewatch_form SET form = $1", Migrations.Count);
        session.Commit();
    }

    /// <summary>Whether it can be read as it is.</summary>
    /// <exception cref="HistoryException">It cannot.</exception>
    public static void Check(PostgresSession session, string place)
    {
        var exists = session.Ask("SELECT to_regclass('statewatch_form') IS NOT NULL", static row => row.GetBoolean(0))[0];
        var form = exists && session.Ask("SELECT form FROM statewatch_form", static row => row.GetInt32(0)) is [var known, ..] ? known : 0;
        RefuseNewer(form, place);
        if (form < Migrations.Count)
            throw new HistoryException(form == 0 ? $"there is no history yet at {place}: no watch has written there." : $"the history at {place} was written by an older statewatch; start the watch once, it renews the tables.");
    }

    private static void RefuseNewer(int form, string place)
    {
        if (form > Migrations.Count)
        {
            throw new HistoryException(
                $"The history at {place} was written by a newer statewatch (form {form}; this one knows up to {Migrations.Count}). Run that one, or give another database.");
        }
    }

    private static string[] Statements(string script) => script
        .Replace("IDENTITY", "bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY", StringComparison.Ordinal)
        .Replace("CLUSTERED", "", StringComparison.Ordinal)
        .Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
