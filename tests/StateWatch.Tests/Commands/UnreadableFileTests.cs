using System.Diagnostics;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Commands;

/// <summary>Whatever a path leads to, the program ends, says which path and why, and what kind of failure it was.</summary>
public class UnreadableFileTests
{
    private static async Task Refused(int exitCode, string reason, string path)
    {
        var (code, output, errors) = await StatewatchProcess.Run("check", path);
        Assert.Equal((exitCode, ""), (code, output));
        Assert.Contains(path, errors, StringComparison.Ordinal);
        Assert.Contains(reason, errors, StringComparison.Ordinal);
    }

    private static async Task<string> NewPipe(ScratchFolder folder)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "pipes with names are made here by mkfifo");
        var pipe = folder.Write("pipe", "");
        File.Delete(pipe);
        using var maker = Process.Start("mkfifo", pipe);
        await maker.WaitForExitAsync(TestContext.Current.CancellationToken);
        return pipe;
    }

    [Fact]
    public async Task Missing_file_gives_exit_66() => await Refused(66, "it is not there", Path.Combine(Path.GetTempPath(), "nowhere", "no.plan.yaml"));

    [Fact]
    public async Task Directory_gives_exit_66()
    {
        using var folder = new ScratchFolder();
        await Refused(66, "it is a directory", Path.GetDirectoryName(folder.Write("a", ""))!);
    }

    [Fact]
    public async Task Empty_file_gives_exit_65()
    {
        using var folder = new ScratchFolder();
        await Refused(65, "empty-file", folder.Write("empty.plan.yaml", ""));
    }

    [Fact]
    public async Task Endless_device_is_read_up_to_the_limit()
    {
        Assert.SkipUnless(File.Exists("/dev/zero"), "this system has no /dev/zero");
        await Refused(65, "file-too-large", "/dev/zero");
        var (_, _, errors) = await StatewatchProcess.Run("check", "/dev/zero");
        Assert.Contains("1 error,", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Pipe_that_nobody_writes_to_gives_exit_66()
    {
        using var folder = new ScratchFolder();
        var pipe = await NewPipe(folder);
        await Refused(66, "nothing came from it", pipe);
    }

    [Fact]
    public async Task Pipe_that_somebody_writes_to_is_read()
    {
        using var folder = new ScratchFolder();
        var pipe = await NewPipe(folder);
        // Opening a pipe waits for the other end.
        var writing = Task.Run(() => File.WriteAllText(pipe, "- no plan\n"), TestContext.Current.CancellationToken);
        await Refused(65, "wrong-shape", pipe);
        await writing;
    }

    [Fact]
    public async Task Links_in_a_circle_give_exit_66()
    {
        using var folder = new ScratchFolder();
        var first = folder.Write("first", "");
        var second = folder.Write("second", "");
        File.Delete(first);
        File.Delete(second);
        _ = File.CreateSymbolicLink(first, second);
        _ = File.CreateSymbolicLink(second, first);
        await Refused(66, "cannot read this file", first);
    }

    [Fact]
    public async Task File_that_the_system_refuses_gives_exit_66()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "permissions are set here as on Unix");
        using var folder = new ScratchFolder();
        var path = folder.Write("secret.plan.yaml", "format: statewatch/show/1\n");
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(path, UnixFileMode.None);
        // Who may read everything still cannot read the memory where there is none.
        if (Environment.IsPrivilegedProcess)
            await Refused(66, "cannot read this file", "/proc/self/mem");
        else
            await Refused(66, "permission denied", path);
    }
}
