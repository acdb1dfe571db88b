using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Interop;

/// <summary>
/// What we write, liblo's oscdump prints: every type it knows (not <c>r</c> and arrays), and bundles. Each line begins with a time.
/// </summary>
[Collection(SocketTests.Name)]
public class OscDumpTests
{
    [Fact]
    public async Task Oscdump_prints_what_we_write()
    {
        Assert.SkipUnless(LibloTool.IsInstalled, LibloTool.Reason);
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        deadline.CancelAfter(LibloTool.Ceiling);
        using var socket = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        var to = new IPEndPoint(IPAddress.Loopback, FreePort());
        using var dump = LibloTool.Start("oscdump", "-L", $"{to.Port}");
        try
        {
            await UntilReady(dump, socket, to, deadline.Token);
            var packet = new byte[512];
            await socket.SendAsync(packet.AsMemory(0, EveryType(packet)), to, deadline.Token);
            await socket.SendAsync(packet.AsMemory(0, Bundle(packet)), to, deadline.Token);
            await socket.SendAsync(packet.AsMemory(0, Question(packet)), to, deadline.Token);
            Assert.Equal(
                "/every/type ifsbhtdScmTFNI 1000 0.750000 \"hello\" [5b 0x1 0x2 0x3 0x4 0x5] 4294967296 bc17c200.80000000 0.250000 "
                + "'sym 'A' MIDI [0x00 0x90 0x3c 0x40] #T #F Nil Infinitum",
                await NextLine(dump, deadline.Token));
            Assert.Equal("/lane/07/pour/c/height f -10.000000", await NextLine(dump, deadline.Token));
            Assert.Equal("/lane/08/pour/c/height i -1", await NextLine(dump, deadline.Token));
            Assert.Equal("/lane/07/pour/c/height", await NextLine(dump, deadline.Token));
        }
        finally
        {
            dump.Kill();
        }
    }

    private static int EveryType(byte[] packet)
    {
        var writer = new OscWriter(packet);
        writer.StartMessage("/every/type"u8, "ifsbhtdScmTFNI"u8);
        writer.Int32(1000);
        writer.Float32(0.75f);
        writer.String("hello"u8);
        writer.Blob([1, 2, 3, 4, 5]);
        writer.Int64(4294967296);
        writer.TimeTag(OscTimeTag.FromUnixSeconds(946684800, 0x80000000));
        writer.Float64(0.25);
        writer.Symbol("sym"u8);
        writer.Char('A');
        writer.Midi(0, 0x90, 0x3C, 0x40);
        Assert.Equal(OscError.None, writer.Finish(out var length));
        return length;
    }

    private static int Bundle(byte[] packet)
    {
        var writer = new OscWriter(packet);
        writer.StartBundle(OscTimeTag.Immediately);
        writer.StartMessage("/lane/07/pour/c/height"u8, "f"u8);
        writer.Float32(-10f);
        writer.StartBundle(OscTimeTag.Immediately);
        writer.StartMessage("/lane/08/pour/c/height"u8, "i"u8);
        writer.Int32(-1);
        writer.EndBundle();
        writer.EndBundle();
        Assert.Equal(OscError.None, writer.Finish(out var length));
        return length;
    }

    private static int Question(byte[] packet)
    {
        Assert.Equal(OscError.None, OscMessageWriter.Write(packet, "/lane/07/pour/c/height"u8, out var length));
        return length;
    }

    /// <summary>Sends numbered greetings until one is printed, then skips to the last one sent.</summary>
    private static async Task UntilReady(Process dump, UdpClient socket, IPEndPoint to, CancellationToken cancel)
    {
        var packet = new byte[64];
        var first = NextLine(dump, cancel);
        var sent = 0;
        while (!first.IsCompleted)
        {
            OscMessageWriter.Write(packet, "/ready"u8, ++sent, out var length);
            await socket.SendAsync(packet.AsMemory(0, length), to, cancel);
            await Task.WhenAny(first, Task.Delay(20, cancel));
        }

        var line = await first;
        while (line != $"/ready i {sent}")
            line = await NextLine(dump, cancel);
    }

    /// <summary>The next line that is not empty, without the time at its beginning.</summary>
    private static async Task<string> NextLine(Process dump, CancellationToken cancel)
    {
        while (true)
        {
            var line = await dump.StandardOutput.ReadLineAsync(cancel) ?? throw new EndOfStreamException("oscdump ended");
            if (line.Length > 0)
                return line[(line.IndexOf(' ', StringComparison.Ordinal) + 1)..].TrimEnd();
        }
    }

    private static int FreePort()
    {
        using var probe = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)probe.Client.LocalEndPoint!).Port;
    }
}
