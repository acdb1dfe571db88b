namespace StateWatch.Commands;

/// <summary>
/// Exit codes: 0 to 3 follow the convention of monitoring plug-ins, the others sysexits.h. They are a contract: scripts depend on them.
/// </summary>
internal static class ExitCodes
{
    /// <summary>All planned settings verified and met.</summary>
    public const int AsPlanned = 0;

    /// <summary>Warnings or notices only.</summary>
    public const int Warnings = 1;

    /// <summary>At least one urgent finding.</summary>
    public const int Urgent = 2;

    /// <summary>Not everything could be verified.</summary>
    public const int Incomplete = 3;

    /// <summary>The command line is wrong, or asks for what is not built yet (EX_USAGE).</summary>
    public const int Usage = 64;

    /// <summary>A plan or profile is invalid (EX_DATAERR).</summary>
    public const int Invalid = 65;

    /// <summary>A file is missing or unreadable (EX_NOINPUT).</summary>
    public const int NoInput = 66;

    /// <summary>No watch runs here, or what it needs is taken by another program (EX_UNAVAILABLE).</summary>
    public const int Unavailable = 69;

    /// <summary>Our own fault (EX_SOFTWARE).</summary>
    public const int OwnFault = 70;

    /// <summary>An output file cannot be written (EX_CANTCREAT).</summary>
    public const int CannotWrite = 73;
}

/// <summary>Ends a command with a message and an exit code.</summary>
internal sealed class CommandException(int exitCode, string message) : Exception(message)
{
    public int ExitCode { get; } = exitCode;
}
