using System.Net.Sockets;
using StateWatch.Commands;
using StateWatch.Control;
using StateWatch.Hosting.Settings;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Control;

/// <summary>One watch at a time has the socket; what a dead one left is removed, and nothing else.</summary>
public sealed class ControlSocketTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    private string Path => _folder.PathOf("run/control.sock");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Folder_is_made_for_its_user_alone()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no such modes");
        using var claimed = ControlSocket.Claim(Path);
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(_folder.PathOf("run")));
    }

    [Fact]
    public void Socket_that_a_dead_process_left_is_removed()
    {
        Directory.CreateDirectory(_folder.PathOf("run"));
        // A socket whose process was killed leaves its file: bound to another name and renamed, the file is not removed when it is closed.
        using (var dead = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified))
        {
            dead.Bind(new UnixDomainSocketEndPoint(_folder.PathOf("run/other")));
            File.Move(_folder.PathOf("run/other"), Path);
        }

        Assert.True(File.Exists(Path));
        using var claimed = ControlSocket.Claim(Path);
        Assert.False(File.Exists(Path));
    }

    [Fact]
    public void Socket_of_a_watch_that_lives_is_refused_and_free_when_that_has_ended()
    {
        using (ControlSocket.Claim(Path))
        {
            var refusal = Assert.Throws<CommandException>(() => ControlSocket.Claim(Path));
            Assert.Equal(ExitCodes.Unavailable, refusal.ExitCode);
            Assert.Contains("another watch runs here", refusal.Message, StringComparison.Ordinal);
        }

        ControlSocket.Claim(Path).Dispose();
    }

    [Fact]
    public void File_that_is_no_socket_is_left_alone()
    {
        Directory.CreateDirectory(_folder.PathOf("run"));
        File.WriteAllText(Path, "somebody's");
        Assert.Contains("a file that is no socket", Assert.Throws<CommandException>(() => ControlSocket.Claim(Path)).Message, StringComparison.Ordinal);
        Assert.Equal("somebody's", File.ReadAllText(Path));
    }

    [Fact]
    public void Empty_file_is_left_alone_too()
    {
        Directory.CreateDirectory(_folder.PathOf("run"));
        File.WriteAllText(Path, "");
        Assert.Contains("a file that is no socket", Assert.Throws<CommandException>(() => ControlSocket.Claim(Path)).Message, StringComparison.Ordinal);
        Assert.True(File.Exists(Path));
    }

    [Fact]
    public void Folder_where_anybody_may_write_is_refused()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there are no such modes");
        if (!OperatingSystem.IsWindows())
            Directory.CreateDirectory(_folder.PathOf("run"));
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(_folder.PathOf("run"), (UnixFileMode)0x3FF);
        var refusal = Assert.Throws<CommandException>(() => ControlSocket.Claim(Path));
        Assert.Contains("anybody may write there", refusal.Message, StringComparison.Ordinal);
        Assert.False(File.Exists(Path + ".lock"));
    }

    [Fact]
    public void Without_a_folder_of_its_own_a_session_asks_the_service_first_and_never_a_folder_that_all_may_write()
    {
        var sudo = new SystemFolders(new Dictionary<string, string> { ["HOME"] = "/home/ada" });
        Assert.Equal(["/run/statewatch/control.sock", "/home/ada/.local/state/statewatch/control.sock"], sudo.Sockets);
        var desktop = new SystemFolders(new Dictionary<string, string> { ["HOME"] = "/home/kim", ["XDG_RUNTIME_DIR"] = "/run/user/1000" });
        Assert.Equal(["/run/user/1000/statewatch/control.sock", "/run/statewatch/control.sock"], desktop.Sockets);
        Assert.DoesNotContain(new SystemFolders(new Dictionary<string, string>()).Sockets, static place => place.StartsWith("/tmp", StringComparison.Ordinal));
    }

    [Fact]
    public void Folder_that_cannot_be_made_is_not_taken_for_another_watch()
    {
        File.WriteAllText(_folder.PathOf("run"), "a file");
        var refusal = Assert.Throws<CommandException>(() => ControlSocket.Claim(Path));
        Assert.Equal(ExitCodes.Unavailable, refusal.ExitCode);
        Assert.DoesNotContain("another watch", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Path_that_no_socket_may_have_is_refused() =>
        Assert.Contains("more than 107 bytes", Assert.Throws<CommandException>(() => ControlSocket.Claim("/tmp/" + new string('x', 200))).Message, StringComparison.Ordinal);
}
