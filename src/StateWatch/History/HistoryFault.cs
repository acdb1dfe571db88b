using Microsoft.Data.Sqlite;

namespace StateWatch.History;

/// <summary>Says in words what went wrong with a file of the history.</summary>
internal static class HistoryFault
{
    private const string Filled = "the disk is full";
    private const int Permission = 3;
    private const int Busy = 5;
    private const int Locked = 6;
    private const int ReadOnly = 8;
    private const int InputOutput = 10;
    private const int Corrupt = 11;
    private const int Full = 13;
    private const int CannotOpen = 14;
    private const int NoDatabase = 26;

    /// <summary>Whether the file itself is damaged.</summary>
    public static bool IsDamage(SqliteException problem) => problem.SqliteErrorCode is Corrupt or NoDatabase;

    public static HistoryException Of(string path, Exception problem)
    {
        var (why, remedy) = problem switch
        {
            SqliteException { SqliteErrorCode: Full } => (Filled, "Free space on this disk, or keep less history."),
            SqliteException { SqliteErrorCode: ReadOnly or Permission } => ("it may only be read", "Check who owns the folder and its files, and that the disk is not mounted read-only."),
            SqliteException { SqliteErrorCode: CannotOpen } => ("it cannot be opened", "Check that the folder is there, who owns it, and that the disk is not mounted read-only."),
            SqliteException { SqliteErrorCode: Busy or Locked } => ("another program holds it locked", "Close whatever has it open for writing; `history` itself only reads."),
            SqliteException { SqliteErrorCode: InputOutput } => ("the disk gave an error", "Look at the system's log for faults of the disk; free space if it is full."),
            SqliteException { SqliteErrorCode: Corrupt or NoDatabase } => ("it is damaged", "Look at the disk; the file is moved aside when it is opened next."),
            UnauthorizedAccessException => ("that is not allowed", "Check who owns the folder and its files."),
            IOException io when io.HResult == 28 || io.Message.Contains("No space left", StringComparison.Ordinal) => (Filled, "Free space on this disk, or keep less history."),
            _ => ("something unexpected", "Check the disk and the folder."),
        };
        return new HistoryException($"The history {path} cannot be used: {why}. {remedy} It is tried again with the next thing to store. ({problem.Message.TrimEnd('.')})", problem)
        {
            IsFull = why == Filled,
        };
    }
}
