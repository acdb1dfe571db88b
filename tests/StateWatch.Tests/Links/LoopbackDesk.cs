using System.Net;
using System.Net.Sockets;
using StateWatch.Core.Documents;
using StateWatch.Core.Links;
using StateWatch.Core.Profiles;
using StateWatch.Simulator;

namespace StateWatch.Tests.Links;

/// <summary>A small invented desk, and what it takes to talk with it.</summary>
internal static class LoopbackDesk
{
    public const string HumQuestion = "2F68756D000000002C000000";
    public const string HumIsOff = "2F68756D000000002C460000";
    public const string HumIsOn = "2F68756D000000002C540000";

    /// <summary>A ceiling for "eventually"; reached only when something is broken.</summary>
    private static readonly TimeSpan Ceiling = TimeSpan.FromSeconds(30);

    public static DeskProfile Profile { get; } = Read("""
        format: statewatch/desk/1
        desk: Fern 20
        identify: { ask: /who, expect: [fern, "3.*"] }
        link: { osc: udp, to: 127.0.0.1:9050 }
        strips: { input: 20 }
        codecs: { bulb: { wire: bool, switch: [0, 1] }, words: { wire: string, length: 8, pad: space } }
        settings:
          "desk/oscillator": { at: "/hum", args: [bulb] }
          "input/{i}/name":  { at: "/berth/{i:02}/words", args: [words] }
          "input/{i}/on":    { at: "/berth/{i:02}/live", args: [bulb], reset: on }
        """);

    public static int Hum { get; } = EndpointOf("desk/oscillator");

    public static int EndpointOf(string path) => Profile.Settings[Profile.Find(path)].Endpoint;

    public static ArrivalLog Log() => new();

    /// <summary>Receives until something is so.</summary>
    public static void ReceiveUntil(IDeskReader reader, IDatagramReceiver receiver, Func<bool> isSo)
    {
        var end = Environment.TickCount64 + (long)Ceiling.TotalMilliseconds;
        while (!isSo())
        {
            Assert.True(Environment.TickCount64 < end, "This did not happen within 30 s.");
            var clock = reader.Clock;
            _ = reader.Receive(clock.GetTimestamp() + (clock.TimestampFrequency / 100), receiver);
        }
    }

    /// <summary>A plain socket on loopback that plays a desk or a stranger.</summary>
    public static Socket Peer(string address = "127.0.0.1", int port = 0)
    {
        var parsed = IPAddress.Parse(address);
        var socket = new Socket(parsed.AddressFamily, SocketType.Dgram, ProtocolType.Udp);
        socket.Bind(new IPEndPoint(parsed, port));
        return socket;
    }

    public static int PortOf(Socket socket) => ((IPEndPoint)socket.LocalEndPoint!).Port;

    /// <summary>A port where nobody listens now.</summary>
    public static int FreePort()
    {
        using var peer = Peer();
        return PortOf(peer);
    }

    public static VirtualDesk Create() => new(Profile);

    public static DeskProfile Read(string text)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("fern.desk.yaml", text), diagnostics);
        Assert.Equal([], diagnostics.Items.Select(item => $"{item.At.Place} {item.Message}"));
        return profile!;
    }
}

/// <summary>Keeps what came in, as upper-case hex.</summary>
internal sealed class ArrivalLog : IDatagramReceiver
{
    public List<string> Hex { get; } = [];

    public void OnDatagram(ReadOnlySpan<byte> datagram, long receivedAt) => Hex.Add(Convert.ToHexString(datagram));
}
