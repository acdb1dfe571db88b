using System.Net;
using System.Net.Sockets;
using StateWatch.Protocol.Framing;
using StateWatch.Protocol.Osc;
using StateWatch.Protocol.Tests.Osc;

namespace StateWatch.Protocol.Tests.Interop;

/// <summary>What liblo's oscsend sends, we read.</summary>
[Collection(SocketTests.Name)]
public class OscSendTests
{
    [Theory]
    [InlineData("/a", "", "/a")]
    [InlineData("/oscillator/4/frequency", "f 440", "/oscillator/4/frequency f43DC0000")]
    [InlineData("/foo", "iisff 1000 -1 hello 1.234 5.678", "/foo i000003E8 iFFFFFFFF s\"hello\" f3F9DF3B6 f40B5B22D")]
    [InlineData("/x", "hd 4294967296 0.5", "/x h0000000100000000 d3FE0000000000000")]
    [InlineData("/c", "Sc sym A", "/c S\"sym\" c00000041")]
    [InlineData("/m", "m 00903c40", "/m m00903C40")]
    [InlineData("/b", "TFNI", "/b T F N I")]
    [InlineData("/all", "isTfmNc 7 cup 0.5 01c00500 z", "/all i00000007 s\"cup\" T f3F000000 m01C00500 N c0000007A")]
    public async Task Datagram_of_oscsend_is_read(string address, string arguments, string expected)
    {
        Assert.SkipUnless(LibloTool.IsInstalled, LibloTool.Reason);
        using var deadline = Deadline();
        using var socket = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        var port = ((IPEndPoint)socket.Client.LocalEndPoint!).Port;
        using var sender = LibloTool.Start("oscsend", ["127.0.0.1", $"{port}", address, .. Words(arguments)]);
        var packet = await socket.ReceiveAsync(deadline.Token);
        await sender.WaitForExitAsync(deadline.Token);
        Assert.Equal(["0 1 " + expected], OscText.OfPacket(packet.Buffer, out var error, out _));
        Assert.Equal(OscError.None, error);
    }

    [Fact]
    public async Task Tcp_stream_of_oscsend_is_framed_by_its_length()
    {
        Assert.SkipUnless(LibloTool.IsInstalled, LibloTool.Reason);
        using var deadline = Deadline();
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var port = ((IPEndPoint)listener.LocalEndpoint).Port;
        using var sender = LibloTool.Start("oscsend", $"osc.tcp://127.0.0.1:{port}/", "/foo", "is", "7", "hello");
        using var client = await listener.AcceptTcpClientAsync(deadline.Token);
        var framer = new LengthPrefixFramer(new byte[256]);
        var lines = new List<string>();
        var piece = new byte[5];
        while (await client.GetStream().ReadAsync(piece, deadline.Token) is var count and > 0)
        {
            ReadOnlySpan<byte> chunk = piece.AsSpan(0, count);
            while (framer.Read(ref chunk, out var packet))
                lines.AddRange(OscText.OfPacket(packet.ToArray(), out _, out _));
        }

        Assert.Equal(["0 1 /foo i00000007 s\"hello\""], lines);
        Assert.Equal(FramingError.None, framer.End());
    }

    private static CancellationTokenSource Deadline()
    {
        var source = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        source.CancelAfter(LibloTool.Ceiling);
        return source;
    }

    private static string[] Words(string text) => text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
}
