using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;

namespace StateWatch.History;

/// <summary>
/// One file of the history. It is opened when it is first used and again after each fault; opening it brings it to the newest form, with a copy before,
/// and moves it aside when it is damaged. Used by one thread at a time.
/// </summary>
/// <param name="path">The file.</param>
/// <param name="migrations">One script for each version.</param>
/// <param name="synchronous">FULL: what is committed survives a power cut; NORMAL: the last moments may not.</param>
/// <param name="clock">For the names of files that are moved aside.</param>
/// <param name="notice">Takes what people should know.</param>
internal sealed class SqliteFile(string path, IReadOnlyList<string> migrations, string synchronous, TimeProvider clock, Action<string> notice) : IDisposable
{
    /// <summary>Marks our files: "SWHi".</summary>
    public const int ApplicationId = 0x53574869;

    // Looking through a larger file would keep a watch waiting at its start; what is damaged in it is found when it is read.
    private const long CheckedUpTo = 100_000_000;

    private SqliteSession? _session;
    private FileStream? _lock;
    private bool _isChecked;

    public string Path => path;

    /// <summary>Called with each connection that was opened, such as by tests that want a fault.</summary>
    public Action<SqliteConnection>? Opened { get; init; }

    /// <summary>A file beside it that is locked as long as it is open, so that no second watch writes here; null for none.</summary>
    public string? Lock { get; init; }

    /// <summary>Saves from a file that was moved aside what can still be read.</summary>
    public Func<SqliteSession, string, string>? Salvage { get; init; }

    /// <summary>Works on the file. When it turns out to be damaged it is moved aside, and the work is done on a new one.</summary>
    /// <exception cref="HistoryException">It cannot be used. It is closed; the next work opens it again.</exception>
    public T Work<T>(Func<SqliteSession, T> work)
    {
        for (var isFirst = true; ; isFirst = false)
        {
            try
            {
                _session ??= Open();
                return work(_session);
            }
            catch (SqliteException problem) when (isFirst && HistoryFault.IsDamage(problem))
            {
                MoveAside(problem.Message);
            }
            catch (Exception problem) when (problem is SqliteException or IOException or UnauthorizedAccessException or JsonException or InvalidCastException)
            {
                Close();
                throw HistoryFault.Of(path, problem);
            }
            catch
            {
                Close();
                throw;
            }
        }
    }

    /// <summary>Works on the file in one transaction; nothing of it is kept when it throws.</summary>
    /// <exception cref="HistoryException">It cannot be used.</exception>
    public T Transact<T>(Func<SqliteSession, T> work) => Work(session =>
    {
        session.Begin();
        var result = work(session);
        session.Commit();
        return result;
    });

    public void Dispose() => Close();

    // What was begun and not committed is undone by closing.
    private void Close()
    {
        _session?.Dispose();
        _session = null;
        _lock?.Dispose();
        _lock = null;
    }

    private SqliteSession Open()
    {
        MakeFolder();
        TakeLock();
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Mode = SqliteOpenMode.ReadWriteCreate, Pooling = false, DefaultTimeout = 2 }.ToString());
        var session = new SqliteSession(connection);
        try
        {
            connection.Open();
            Opened?.Invoke(connection);
            Prepare(session);
            return session;
        }
        catch
        {
            session.Dispose();
            throw;
        }
    }

    private void MakeFolder()
    {
        var folder = System.IO.Path.GetDirectoryName(path)!;
        if (Directory.Exists(folder))
            return;
        // Names of people stand in it.
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(folder);
        else
            Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }

    private void TakeLock()
    {
        if (Lock is null || _lock is not null)
            return;
        try
        {
            _lock = new FileStream(Lock, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException) when (File.Exists(Lock) && IsHeld(Lock))
        {
            throw new HistoryException($"Another watch keeps its history in {System.IO.Path.GetDirectoryName(path)}. Stop that one, or give this one another folder.");
        }
    }

    // Whether somebody has it open for writing, and it is not the disk that refuses.
    private static bool IsHeld(string file)
    {
        try
        {
            using var shared = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.Read);
            return false;
        }
        catch (IOException)
        {
            return true;
        }
    }

    private void Prepare(SqliteSession session)
    {
        var version = (int)session.Number("PRAGMA user_version");
        var owner = session.Number("PRAGMA application_id");
        var tables = session.Number("SELECT COUNT(*) FROM sqlite_schema");
        if (owner != ApplicationId && (owner != 0 || version != 0 || tables != 0))
            throw new HistoryException($"{path} is a database of another program. Keep the history in another folder, or move that file away.");
        if (version > migrations.Count)
        {
            throw new HistoryException(
                $"{path} was written by a newer statewatch (form {version}; this one knows up to {migrations.Count}). Run that one, or move the file away; a new one is begun then.");
        }

        // Once for each process: whoever opens it anew after a fault, again and again, must not read all of it each time. What is damaged later is found when it is read.
        if (version > 0 && !_isChecked && session.Number("PRAGMA page_count") * session.Number("PRAGMA page_size") <= CheckedUpTo && session.Ask("PRAGMA quick_check(1)", static row => row.GetString(0)) is [var fault, ..] && fault != "ok")
            throw new SqliteException(fault, 11);
        _isChecked = true;
        if (version == 0)
            session.RunOnce("PRAGMA auto_vacuum = INCREMENTAL");
        session.Ask("PRAGMA journal_mode = WAL", static row => row.GetString(0));
        session.RunOnce($"PRAGMA synchronous = {synchronous}");
        session.RunOnce("PRAGMA journal_size_limit = 16000000");
        for (; version < migrations.Count; version++)
            Migrate(session, version);
    }

    private void Migrate(SqliteSession session, int version)
    {
        if (version > 0)
            notice(Copy(session, version));
        session.Begin();
        session.RunOnce(Dialect(migrations[version]));
        session.RunOnce($"PRAGMA application_id = {ApplicationId}");
        session.RunOnce($"PRAGMA user_version = {version + 1}");
        session.Commit();
    }

    private string Copy(SqliteSession session, int version)
    {
        var copy = $"{path}.form-{version}";
        var part = $"{copy}.part";
        File.Delete(part);
        session.RunOnce("VACUUM INTO $1", part);
        File.Move(part, copy, overwrite: true);
        return $"The history {path} was brought from form {version} to {version + 1}. A copy of it as it was is {copy}; delete that when all is well.";
    }

    private void MoveAside(string why)
    {
        Close();
        _isChecked = false;
        var aside = $"{path}.damaged-{clock.GetUtcNow().ToString("yyyyMMdd-HHmmss", CultureInfo.InvariantCulture)}";
        for (var again = 2; File.Exists(aside); again++)
            aside = $"{path}.damaged-{clock.GetUtcNow().ToString("yyyyMMdd-HHmmss", CultureInfo.InvariantCulture)}-{again}";
        try
        {
            foreach (var ending in (string[])["-wal", "-shm", ""])
            {
                if (File.Exists(path + ending))
                    File.Move(path + ending, aside + ending);
            }
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw HistoryFault.Of(path, problem);
        }

        var saved = Salvage is { } salvage ? $" {Work(session => salvage(session, aside))}" : "";
        notice($"The history {path} was damaged ({why.TrimEnd('.')}). It is kept as {aside}, and a new one was begun.{saved} Look at the disk: this is often how one ends.");
    }

    /// <summary>A script as SQLite understands it.</summary>
    public static string Dialect(string script) => script
        .Replace("IDENTITY", "integer NOT NULL PRIMARY KEY AUTOINCREMENT", StringComparison.Ordinal)
        .Replace("CLUSTERED", "WITHOUT ROWID", StringComparison.Ordinal);
}
