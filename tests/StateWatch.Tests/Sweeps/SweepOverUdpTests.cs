using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;
using StateWatch.Links;
using StateWatch.Simulator;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Sweeps;

/// <summary>The sweep of the demo show over real loopback sockets, against desks that misbehave.</summary>
[Collection(SocketsGroup.Name)]
public sealed class SweepOverUdpTests
{
    private static readonly ShowPlan Plan = DemoShow.Compile();

    [Fact]
    public void Lost_doubled_late_and_reordered_datagrams_cost_time_but_no_coverage()
    {
        var faults = new WireFaults
        {
            Loss = 0.05,
            Duplicates = 0.05,
            Reordered = 0.1,
            DelayMost = TimeSpan.FromMilliseconds(10),
        };
        using var desk = UdpVirtualDesk.Start(DemoShow.Desk(Plan), toDesk: faults, fromDesk: faults, seed: 11);
        var result = Run(desk.EndPoint);
        Assert.Equal(ReadEnd.Complete, result.Read.End);
        Assert.Equal((Plan.Expectations.Count, 0), (result.Verified, result.ExitCode));
        Assert.True(result.Read.Asked > result.Read.Questions, "with losses something must have been asked again");
    }

    [Fact]
    public void A_desk_that_answers_nine_questions_of_ten_gives_exit_3_and_lists_the_tenth()
    {
        var virtualDesk = DemoShow.Desk(Plan);
        var withheld = Plan.Expectations.Select(item => Plan.Profile.Settings[item.Setting]).GroupBy(setting => setting.Endpoint)
            .Where((_, index) => index % 10 == 3).SelectMany(group => group).ToList();
        virtualDesk.Unanswered = withheld.Select(setting => setting.Id).ToHashSet();
        using var desk = UdpVirtualDesk.Start(virtualDesk);
        var result = Run(desk.EndPoint);
        Assert.Equal((ReadEnd.Partial, 3), (result.Read.End, result.ExitCode));
        Assert.Equal(withheld.Select(setting => setting.Path).Order(StringComparer.Ordinal), result.Unseen.Select(item => item.Setting).Order(StringComparer.Ordinal));
        Assert.All(result.Unseen, item => Assert.Equal("no reply", item.Reason));
        Assert.Empty(result.Audit.Findings);
    }

    [Fact]
    public void Another_desk_gives_exit_3_and_nothing_is_judged()
    {
        var virtualDesk = DemoShow.Desk(Plan);
        virtualDesk.IdentityAnswer = ["hazel", "7.1"];
        using var desk = UdpVirtualDesk.Start(virtualDesk, capture: true);
        var result = Run(desk.EndPoint);
        Assert.Equal((ReadEnd.AnotherDesk, 3, 0), (result.Read.End, result.ExitCode, result.Verified));
        Assert.Equal(["hazel", "7.1"], result.Read.Identity);
        Assert.Empty(result.Audit.Findings);
    }

    [Fact]
    public void A_silent_desk_gives_exit_3_with_nothing_verified()
    {
        var virtualDesk = DemoShow.Desk(Plan);
        virtualDesk.Silent = true;
        using var desk = UdpVirtualDesk.Start(virtualDesk);
        var result = Run(desk.EndPoint);
        Assert.Equal((ReadEnd.Silent, 3, 0), (result.Read.End, result.ExitCode, result.Verified));
        Assert.Equal(Plan.Expectations.Count, result.Unseen.Count);
    }

    [Fact]
    public void Datagrams_from_a_foreign_address_are_dropped_and_counted()
    {
        using var desk = UdpVirtualDesk.Start(DemoShow.Desk(Plan));
        using var stranger = LoopbackDesk.Peer();
        using var reader = UdpDeskReader.Open(Plan.Profile, "127.0.0.1", desk.EndPoint.Port);
        // A lie about the oscillator, well formed, from a port that is not the desk's.
        var lie = "/bench/tone\0,i\0\0\0\0\0\u0001"u8.ToArray();
        for (var i = 0; i < 20; i++)
            _ = stranger.SendTo(lie, new IPEndPoint(IPAddress.Loopback, reader.LocalEndPoint.Port));
        var result = Sweep.Run(new SweepSubject(Plan, reader.Desk, Simulated: true, DateTimeOffset.UnixEpoch), reader, cancel: TestContext.Current.CancellationToken);
        Assert.Equal(0, result.ExitCode);
        Assert.Equal(20, result.Link.Foreign);
    }

    [Fact]
    public void A_sweep_sends_only_listed_questions_and_changes_nothing()
    {
        var patterns = File.ReadLines(ShippedFiles.Questions).Where(line => line.Length > 0 && line[0] != '#')
            .Select(line => new Regex(line, RegexOptions.None, TimeSpan.FromSeconds(1))).ToList();
        using var desk = UdpVirtualDesk.Start(DemoShow.Desk(Plan), capture: true);
        var before = desk.Use(item => (item.Fingerprint, item.Revision));
        var result = Run(desk.EndPoint);
        Assert.Equal(before, desk.Use(item => (item.Fingerprint, item.Revision)));
        Assert.Equal(0, desk.Use(item => item.Counters.Sets));
        var sent = desk.Log!.ToArrays();
        Assert.Equal(result.Read.Asked, sent.Length);
        foreach (var datagram in sent)
        {
            var end = Array.IndexOf(datagram, (byte)0);
            Assert.Equal([0x2C, 0, 0, 0], datagram[((end + 4) / 4 * 4)..]);
            Assert.Contains(patterns, pattern => pattern.IsMatch(Encoding.ASCII.GetString(datagram, 0, end)));
        }
    }

    private static SweepResult Run(IPEndPoint desk)
    {
        using var reader = UdpDeskReader.Open(Plan.Profile, desk.Address.ToString(), desk.Port);
        return Sweep.Run(new SweepSubject(Plan, reader.Desk, Simulated: true, DateTimeOffset.UnixEpoch), reader, cancel: TestContext.Current.CancellationToken);
    }
}
