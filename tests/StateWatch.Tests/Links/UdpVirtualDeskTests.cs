using StateWatch.Links;
using StateWatch.Simulator;

namespace StateWatch.Tests.Links;

[Collection(SocketsGroup.Name)]
public class UdpVirtualDeskTests
{
    [Fact]
    public void Port_in_use_says_where_why_and_what_to_do()
    {
        using var first = UdpVirtualDesk.Start(LoopbackDesk.Create());
        var problem = Assert.Throws<LinkException>(() => UdpVirtualDesk.Start(LoopbackDesk.Create(), first.EndPoint.Port));
        Assert.Equal($"127.0.0.1:{first.EndPoint.Port}", problem.Where);
        Assert.Contains("uses the port", problem.Why, StringComparison.Ordinal);
        Assert.Contains("port 0", problem.Advice, StringComparison.Ordinal);
        Assert.Contains(problem.What, problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void It_listens_on_this_machine_only()
    {
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create());
        Assert.Equal("127.0.0.1", desk.EndPoint.Address.ToString());
    }

    [Fact]
    public void Port_is_free_again_after_the_end()
    {
        var first = UdpVirtualDesk.Start(LoopbackDesk.Create());
        first.Dispose();
        first.Dispose();
        using var second = UdpVirtualDesk.Start(LoopbackDesk.Create(), first.EndPoint.Port);
        Assert.Equal(first.EndPoint, second.EndPoint);
    }

    [Fact]
    public void Faulty_wires_lose_and_double_but_asking_again_gets_every_answer()
    {
        var faults = new WireFaults { Loss = 0.3, Duplicates = 0.3, DelayMost = TimeSpan.FromMilliseconds(3), Reordered = 0.2 };
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create(), capture: true, toDesk: faults, fromDesk: faults, seed: 7);
        using var reader = UdpDeskReader.Open(LoopbackDesk.Profile, port: desk.EndPoint.Port);
        var log = LoopbackDesk.Log();
        var endpoints = LoopbackDesk.Profile.Endpoints;
        LoopbackDesk.ReceiveUntil(reader, log, () =>
        {
            var missing = endpoints.Where(endpoint => !log.Hex.Exists(hex => hex.StartsWith(Convert.ToHexString(endpoint.Address) + "00", StringComparison.Ordinal))).ToList();
            foreach (var endpoint in missing)
                _ = reader.Ask(endpoint.Id);
            return missing.Count == 0;
        });
        var questions = endpoints.Select(endpoint => Convert.ToHexString(endpoint.Question)).ToHashSet();
        Assert.All(desk.Use(_ => desk.Log!.ToArrays()), bytes => Assert.Contains(Convert.ToHexString(bytes), questions));
        Assert.Equal(0, desk.Use(virtualDesk => virtualDesk.Counters.Sets));
    }

    [Fact]
    public void Garbage_does_not_stop_it()
    {
        using var desk = UdpVirtualDesk.Start(LoopbackDesk.Create());
        using var peer = LoopbackDesk.Peer();
        peer.ReceiveTimeout = 30_000;
        foreach (var hex in new[] { "", "00", "FFFFFFFF", "2F68756D", "2362756E646C6500", LoopbackDesk.HumQuestion })
            _ = peer.SendTo(Convert.FromHexString(hex), desk.EndPoint);
        var buffer = new byte[64];
        Assert.Equal(LoopbackDesk.HumIsOff, Convert.ToHexString(buffer, 0, peer.Receive(buffer)));
        Assert.Equal(new VirtualDeskCounters(Answered: 1, 0, 0, 0, Malformed: 5), desk.Use(virtualDesk => virtualDesk.Counters));
    }
}
