using System.Runtime.InteropServices;
using StateWatch.Commands;

namespace StateWatch.Control;

/// <summary>
/// The place of the control socket, claimed for this process: a folder for its user alone, and a lock beside the socket. A socket that a dead process left
/// is removed; one whose process lives is refused.
/// </summary>
internal sealed class ControlSocket : IDisposable
{
    // What an address of a Unix socket holds, with the zero at its end (sockaddr_un of Linux).
    private const int LongestPath = 107;
    private const int OthersNothing = 0x3F;

    private readonly FileStream _lock;

    private ControlSocket(string path, FileStream claimed) => (Path, _lock) = (path, claimed);

    /// <summary>Where it is.</summary>
    public string Path { get; }

    /// <summary>
    /// Files of this process are for its user alone from now on, unless systemd has said for whom (<c>UMask=</c>). That is known by the unit's own folder: other variables of
    /// systemd are handed down to terminals and what is started there.
    /// </summary>
    public static void KeepToOneself(System.Collections.IDictionary environment)
    {
        if (OperatingSystem.IsLinux() && environment["RUNTIME_DIRECTORY"] is null)
            _ = Umask(OthersNothing);
    }

    /// <summary>Claims it.</summary>
    /// <exception cref="CommandException">Another watch has it, or it cannot be there (exit 69).</exception>
    public static ControlSocket Claim(string path)
    {
        if (System.Text.Encoding.UTF8.GetByteCount(path) > LongestPath)
            throw Unavailable(path, $"the path has more than {LongestPath} bytes, which is the most that a socket may have", "write a shorter one at control: in the settings");
        FileStream? claimed = null;
        try
        {
            MakeFolder(System.IO.Path.GetDirectoryName(path)!);
            claimed = new FileStream(path + ".lock", FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            if (File.Exists(path))
            {
                if (!IsSocket(path))
                    throw Unavailable(path, "there is a file that is no socket", "move it away, or write another path at control: in the settings");
                File.Delete(path);
            }

            return new ControlSocket(path, claimed);
        }
        catch (IOException problem) when (claimed is null && IsTaken(problem))
        {
            throw Unavailable(path, "another watch runs here and has it", "end that one first ('statewatch status' shows it), or write another path at control: in the settings");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            claimed?.Dispose();
            throw Unavailable(path, problem is UnauthorizedAccessException ? "this user may not write there" : problem.Message, "write another path at control: in the settings");
        }
        catch (CommandException)
        {
            claimed?.Dispose();
            throw;
        }
    }

    /// <summary>Gives it back.</summary>
    public void Dispose()
    {
        try
        {
            // The lock stays: whoever waits for it has this very file open.
            File.Delete(Path);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            // The next watch removes it.
        }

        _lock.Dispose();
    }

    // What the runtime says of a lock that somebody else has: the system's own number (EWOULDBLOCK of Linux and of BSDs, a sharing violation of Windows).
    private static bool IsTaken(IOException problem) => problem.HResult is 11 or 35 or unchecked((int)0x8007_0020);

    private static void MakeFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(folder);
        else if (!Directory.Exists(folder))
            Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        else if (File.GetUnixFileMode(folder).HasFlag(UnixFileMode.OtherWrite))
            throw Unavailable(folder, "anybody may write there, and so answer in place of the watch", "write a path below a folder of your own at control: in the settings");
    }

    // Opening is the one thing that a socket refuses in a way of its own (ENXIO of Linux, EOPNOTSUPP of BSDs); read and write, so that a pipe without a writer waits for nobody.
    private static bool IsSocket(string path)
    {
        if (OperatingSystem.IsWindows())
            return new FileInfo(path).Length == 0;
        try
        {
            using var opened = new FileStream(path, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite | FileShare.Delete, bufferSize: 0);
            return false;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return problem.HResult is 6 or 102;
        }
    }

    private static CommandException Unavailable(string path, string why, string advice) =>
        new(ExitCodes.Unavailable, $"statewatch: {path}: cannot listen for status and orders: {why}; {advice}.");

    [DllImport("libc", EntryPoint = "umask")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern uint Umask(uint mask);
}
