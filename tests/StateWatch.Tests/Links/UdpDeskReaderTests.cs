using System.Net;
using System.Net.Sockets;
using StateWatch.Core.Links;
using StateWatch.Core.Settings;
using StateWatch.Links;

namespace StateWatch.Tests.Links;

[Collection(SocketsGroup.Name)]
public class UdpDeskReaderTests
{
    [Fact]
    public void Question_goes_out_and_the_answer_comes_in()
    {
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create(), capture: true);
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: desk.EndPoint.Port);
        var log = LoopbackDesk.Log();
        Assert.True(reader.Ask(LoopbackDesk.Hum));
        LoopbackDesk.ReceiveUntil(reader, log, () => log.Hex.Count == 1);
        Assert.Equal([LoopbackDesk.HumIsOff], log.Hex);
        desk.Set(LoopbackDesk.Profile.Find("desk/oscillator"), SettingValue.Switch(true));
        Assert.True(reader.Ask(LoopbackDesk.Hum));
        LoopbackDesk.ReceiveUntil(reader, log, () => log.Hex.Count == 2);
        Assert.Equal(LoopbackDesk.HumIsOn, log.Hex[1]);
        Assert.Equal(new LinkCounters(Sent: 2, Received: 2, 0, 0, 0, 0), reader.Counters);
        Assert.Equal([LoopbackDesk.HumQuestion, LoopbackDesk.HumQuestion], desk.Use(_ => desk.Log!.ToArrays()).Select(Convert.ToHexString));
    }

    [Fact]
    public void Identity_is_asked_like_any_other_question()
    {
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create());
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: desk.EndPoint.Port);
        var log = LoopbackDesk.Log();
        Assert.True(reader.Ask(IDeskReader.IdentityQuestion));
        LoopbackDesk.ReceiveUntil(reader, log, () => log.Hex.Count == 1);
        Assert.Equal("2F77686F00000000" + "2C737300" + "6665726E00000000" + "332E3000", log.Hex[0]);
    }

    [Fact]
    public void Desk_is_reached_over_IPv6()
    {
        if (!Socket.OSSupportsIPv6)
            Assert.Skip("This machine has no IPv6.");
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create(), listen: IPAddress.IPv6Loopback);
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, "::1", desk.EndPoint.Port);
        var log = LoopbackDesk.Log();
        Assert.True(reader.Ask(LoopbackDesk.Hum));
        LoopbackDesk.ReceiveUntil(reader, log, () => log.Hex.Count == 1);
        Assert.Equal([LoopbackDesk.HumIsOff], log.Hex);
        Assert.Equal($"[::1]:{desk.EndPoint.Port}", reader.Desk);
    }

    [Fact]
    public void Foreign_datagrams_are_dropped_and_counted()
    {
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create());
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: desk.EndPoint.Port);
        using var otherPort = LoopbackDesk.Peer();
        using var otherAddress = LoopbackDesk.Peer("127.0.0.2", desk.EndPoint.Port);
        var forged = Convert.FromHexString(LoopbackDesk.HumIsOn);
        _ = otherPort.SendTo(forged, reader.LocalEndPoint);
        _ = otherAddress.SendTo(forged, reader.LocalEndPoint);
        var log = LoopbackDesk.Log();
        LoopbackDesk.ReceiveUntil(reader, log, () => reader.Counters.Foreign == 2);
        Assert.True(reader.Ask(LoopbackDesk.Hum));
        LoopbackDesk.ReceiveUntil(reader, log, () => log.Hex.Count > 0);
        Assert.Equal([LoopbackDesk.HumIsOff], log.Hex);
        Assert.Equal(new LinkCounters(Sent: 1, Received: 1, Foreign: 2, 0, 0, 0), reader.Counters);
    }

    [Fact]
    public void Nobody_listening_is_a_refusal_and_no_exception_and_a_desk_that_starts_later_is_heard()
    {
        if (!OperatingSystem.IsLinux())
            Assert.Skip("Other systems do not tell an unconnected socket.");
        var port = LoopbackDesk.FreePort();
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: port);
        var log = LoopbackDesk.Log();
        for (var i = 1; i <= 50; i++)
        {
            _ = reader.Ask(LoopbackDesk.Hum);
            LoopbackDesk.ReceiveUntil(reader, log, () => reader.Counters.Refused >= i);
        }

        Assert.Empty(log.Hex);
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create(), port);
        LoopbackDesk.ReceiveUntil(reader, log, () => reader.Ask(LoopbackDesk.Hum) && log.Hex.Count > 0);
        Assert.Equal(LoopbackDesk.HumIsOff, log.Hex[0]);
    }

    [Fact]
    public void Datagram_longer_than_a_buffer_is_dropped_and_counted()
    {
        using var desk = LoopbackDesk.Peer();
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: LoopbackDesk.PortOf(desk));
        var log = LoopbackDesk.Log();
        foreach (var length in new[] { UdpDeskReader.LongestDatagram + 1, 60_000, UdpDeskReader.LongestDatagram })
            _ = desk.SendTo(new byte[length], reader.LocalEndPoint);
        LoopbackDesk.ReceiveUntil(reader, log, () => log.Hex.Count > 0);
        Assert.Equal(UdpDeskReader.LongestDatagram * 2, Assert.Single(log.Hex).Length);
        Assert.Equal(new LinkCounters(0, Received: 1, 0, 0, TooLong: 2, 0), reader.Counters);
    }

    [Fact]
    public void Empty_datagram_is_handed_over()
    {
        using var desk = LoopbackDesk.Peer();
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: LoopbackDesk.PortOf(desk));
        var log = LoopbackDesk.Log();
        _ = desk.SendTo([], reader.LocalEndPoint);
        LoopbackDesk.ReceiveUntil(reader, log, () => log.Hex.Count > 0);
        Assert.Equal([""], log.Hex);
    }

    [Fact]
    public void Full_ring_drops_and_counts()
    {
        using var desk = LoopbackDesk.Peer();
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: LoopbackDesk.PortOf(desk));
        var end = Environment.TickCount64 + 30_000;
        while (reader.Counters.Dropped == 0)
        {
            Assert.True(Environment.TickCount64 < end, "The ring was not filled within 30 s.");
            for (var i = 0; i < 64; i++)
                _ = desk.SendTo(new byte[4], reader.LocalEndPoint);
            Thread.Yield();
        }

        Assert.Equal(UdpDeskReader.RingCapacity, reader.Counters.Received);
        var log = LoopbackDesk.Log();
        LoopbackDesk.ReceiveUntil(reader, log, () => log.Hex.Count >= UdpDeskReader.RingCapacity);
    }

    [Fact]
    public void Receive_returns_at_its_deadline_when_nothing_comes()
    {
        using var desk = LoopbackDesk.Peer();
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: LoopbackDesk.PortOf(desk));
        var deadline = reader.Clock.GetTimestamp() + (reader.Clock.TimestampFrequency / 200);
        Assert.Equal(0, reader.Receive(deadline, LoopbackDesk.Log()));
        Assert.True(reader.Clock.GetTimestamp() >= deadline);
        Assert.Equal(0, reader.Receive(0, LoopbackDesk.Log()));
    }

    [Fact]
    public void Closing_ends_the_thread_that_waits_for_datagrams()
    {
        using var desk = LoopbackDesk.Peer();
        for (var i = 0; i < 20; i++)
        {
            var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: LoopbackDesk.PortOf(desk));
            reader.Dispose();
            reader.Dispose();
        }
    }

    [Fact]
    public void Messages_allocate_nothing_on_either_side()
    {
        const int count = 2000;
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create());
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: desk.EndPoint.Port);
        var receiver = new Echo(reader);
        Assert.Equal(200, receiver.Run(200));
        var (ours, all) = (long.MaxValue, long.MaxValue);
        // Whatever else this process does is in the second figure, so the best of several rounds counts: an allocation a message is in each.
        for (var round = 0; round < 5; round++)
        {
            var allBefore = GC.GetTotalAllocatedBytes(precise: true);
            var oursBefore = GC.GetAllocatedBytesForCurrentThread();
            var answers = receiver.Run(count);
            ours = Math.Min(ours, GC.GetAllocatedBytesForCurrentThread() - oursBefore);
            all = Math.Min(all, GC.GetTotalAllocatedBytes(precise: true) - allBefore);
            Assert.Equal(count, answers);
        }

        Assert.Equal(0, ours);
        // The smallest object has 24 bytes.
        Assert.InRange(all, 0, (24 * count) - 1);
    }

    private sealed class Echo(UdpDeskReader reader) : IDatagramReceiver
    {
        private int _answers;

        public int Run(int count)
        {
            _answers = 0;
            var end = Environment.TickCount64 + 30_000;
            for (var asked = 1; asked <= count; asked++)
            {
                _ = reader.Ask(asked % LoopbackDesk.Profile.Endpoints.Count);
                while (_answers < asked && Environment.TickCount64 < end)
                    _ = reader.Receive(reader.Clock.GetTimestamp() + reader.Clock.TimestampFrequency, this);
            }

            return _answers;
        }

        public void OnDatagram(ReadOnlySpan<byte> datagram, long receivedAt) => _answers++;
    }
}
