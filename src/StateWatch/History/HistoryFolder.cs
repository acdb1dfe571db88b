using Microsoft.Data.Sqlite;

namespace StateWatch.History;

/// <summary>Opens the history that a watch keeps in a folder, to read it.</summary>
internal static class HistoryFolder
{
    /// <exception cref="FileNotFoundException">There is none.</exception>
    /// <exception cref="HistoryException">It cannot be read.</exception>
    public static HistoryReader Open(string folder)
    {
        var path = Path.Combine(folder, SqliteHistory.FindingsFile);
        RefuseUnreadable(folder);
        if (!File.Exists(path))
            throw new FileNotFoundException($"there is no history in {folder}", path);
        var findings = OpenFile(path, FindingSchema.Migrations.Count);
        try
        {
            var observations = Path.Combine(folder, SqliteHistory.ObservationsFile);
            return new HistoryReader(folder, findings, File.Exists(observations) ? OpenFile(observations, ObservationSchema.Migrations.Count) : null);
        }
        catch
        {
            findings.Dispose();
            throw;
        }
    }

    // What may not be looked into seems to be empty.
    private static void RefuseUnreadable(string folder)
    {
        try
        {
            if (Directory.Exists(folder))
                _ = Directory.EnumerateFileSystemEntries(folder).Any();
        }
        catch (UnauthorizedAccessException problem)
        {
            throw new HistoryException($"{folder} may not be read by this user. Ask as the user of the watch, or with sudo.", problem);
        }
    }

    /// <summary>Opens one file to read.</summary>
    /// <exception cref="HistoryException">It cannot be read.</exception>
    public static SqliteSession OpenFile(string path, int newest)
    {
        try
        {
            return Checked(path, Connect(path), newest);
        }
        catch (SqliteException) when (!File.Exists(path + "-wal"))
        {
            // A folder that may not be written cannot hold the file by which readers and the watch share it; without a watch there is nothing to share.
            return Unshared(path, newest);
        }
        catch (SqliteException problem)
        {
            throw Unreadable(path, problem);
        }
    }

    private static SqliteSession Unshared(string path, int newest)
    {
        try
        {
            return Checked(path, Connect($"file:{Uri.EscapeDataString(path).Replace("%2F", "/", StringComparison.Ordinal)}?immutable=1"), newest);
        }
        catch (SqliteException problem)
        {
            throw Unreadable(path, problem);
        }
    }

    private static HistoryException Unreadable(string path, SqliteException problem)
    {
        var remedy = HistoryFault.IsDamage(problem) ? "It is damaged: start the watch, which moves it aside and saves what it can." : "Check who may read the folder; the service's own needs sudo.";
        return new HistoryException($"the history {path} cannot be read: {problem.Message.TrimEnd('.')}. {remedy}", problem);
    }

    private static SqliteConnection Connect(string source)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = source, Mode = SqliteOpenMode.ReadOnly, Pooling = false, DefaultTimeout = 5 }.ToString());
        try
        {
            connection.Open();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static SqliteSession Checked(string path, SqliteConnection connection, int newest)
    {
        var session = new SqliteSession(connection);
        try
        {
            var version = session.Number("PRAGMA user_version");
            if (session.Number("PRAGMA application_id") != SqliteFile.ApplicationId)
                throw new HistoryException($"{path} is no history of statewatch. Give the folder of the watch with --folder.");
            if (version > newest)
                throw new HistoryException($"{path} was written by a newer statewatch (form {version}; this one knows up to {newest}). Read it with that one.");
            if (version < newest)
                throw new HistoryException($"{path} was written by an older statewatch (form {version}; this one reads {newest}). Start the watch once: it renews the file and keeps a copy.");
            return session;
        }
        catch
        {
            session.Dispose();
            throw;
        }
    }
}
