using System.Net;
using System.Net.Sockets;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Alerts;
using StateWatch.Alerts.Osc;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.Tests.Links;

namespace StateWatch.Tests.Alerts;

[Collection(SocketsGroup.Name)]
public sealed class OscSinkTests : IAsyncDisposable
{
    private readonly FakeTimeProvider _clock = new(Some.Start);
    private readonly UdpClient _lamp = new(new IPEndPoint(IPAddress.Loopback, 0));
    private readonly DeskStatus _status = Some.Status();

    private int Port => ((IPEndPoint)_lamp.Client.LocalEndPoint!).Port;

    [Fact]
    public async Task An_alert_is_sent_once_and_the_state_after_it_and_with_each_beat()
    {
        await using var sink = Sink(KnownHosts.Guard());
        Assert.Equal(Delivery.Taken, await sink.Beat(_status, TestContext.Current.CancellationToken));
        Assert.Equal("2F6C616D70000000" + "2C690000" + "00000001", await Received());

        Assert.Equal(Delivery.Taken, await sink.Send(Some.Row(Some.Alert("lamp", Some.Key(20), 1)), TestContext.Current.CancellationToken));
        // "/line" ,s raised; "/lamp" ,i the urgent ones: the one of the status and this.
        Assert.Equal("2F6C696E65000000" + "2C730000" + "7261697365640000", await Received());
        Assert.Equal("2F6C616D70000000" + "2C690000" + "00000002", await Received());
    }

    [Fact]
    public async Task The_state_is_as_of_the_last_alert_until_the_status_has_caught_up()
    {
        await using var sink = Sink(KnownHosts.Guard());
        await sink.Beat(_status, TestContext.Current.CancellationToken);
        Assert.EndsWith("00000001", await Received(), StringComparison.Ordinal);
        await sink.Send(Some.Row(Some.Alert("lamp", Some.Key(12), 2, LevelKind.None)), TestContext.Current.CancellationToken);
        await Received();
        Assert.EndsWith("00000000", await Received(), StringComparison.Ordinal);
        _clock.Advance(TimeSpan.FromSeconds(2));
        await sink.Beat(_status, TestContext.Current.CancellationToken);
        Assert.EndsWith("00000000", await Received(), StringComparison.Ordinal);
        // Six seconds later the status counts again, and it says that the finding stands.
        _clock.Advance(TimeSpan.FromSeconds(4));
        await sink.Beat(_status, TestContext.Current.CancellationToken);
        Assert.EndsWith("00000001", await Received(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_lamp_stands_for_all_desks_and_one_with_the_desks_name_for_each()
    {
        var spare = Some.Status("barn/spare");
        await using var all = Sink(KnownHosts.Guard());
        await all.Beat(_status, TestContext.Current.CancellationToken);
        await all.Beat(spare, TestContext.Current.CancellationToken);
        await Received();
        Assert.EndsWith("00000002", await Received(), StringComparison.Ordinal);

        await using var each = Sink(KnownHosts.Guard(), state: ["i:{urgent}", "s:{desk}"]);
        await each.Beat(_status, TestContext.Current.CancellationToken);
        await each.Beat(spare, TestContext.Current.CancellationToken);
        // ,is then 1 and "midwinter", then 1 and "spare".
        Assert.EndsWith("2C697300" + "00000001" + "6D696477696E746572000000", await Received(), StringComparison.Ordinal);
        Assert.EndsWith("2C697300" + "00000001" + "7370617265000000", await Received(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_sent_to_a_watched_desk()
    {
        await using var sink = Sink(KnownHosts.Guard(new DeskHost(Some.Desk, "localhost", Port)));
        var delivery = await sink.Send(Some.Row(Some.Alert("lamp", Some.Key(12), 1)), TestContext.Current.CancellationToken);
        Assert.Equal(DeliveryOutcome.Retry, delivery.Outcome);
        Assert.Contains("watched desk", delivery.Why, StringComparison.Ordinal);
        Assert.Equal(0, _lamp.Available);
    }

    [Fact]
    public async Task The_receiver_is_looked_up_again_every_minute()
    {
        var hosts = new KnownHosts();
        hosts.Names["lamp.example"] = ["127.0.0.1"];
        await using var sink = Sink(new SinkGuard(() => [new DeskHost(Some.Desk, "192.0.2.10", 9000)], hosts), "lamp.example");
        await sink.Beat(_status, TestContext.Current.CancellationToken);
        await Received();
        hosts.Names["lamp.example"] = ["192.0.2.10"];
        _clock.Advance(TimeSpan.FromSeconds(61));
        Assert.Equal(DeliveryOutcome.Retry, (await sink.Beat(_status, TestContext.Current.CancellationToken)).Outcome);
    }

    public ValueTask DisposeAsync()
    {
        _lamp.Dispose();
        return ValueTask.CompletedTask;
    }

    private OscSink Sink(SinkGuard guard, string host = "127.0.0.1", string[]? state = null)
    {
        var faults = new List<(string Key, string Words)>();
        var alert = OscTemplate.Read(new OscMessageSettings { Address = "/line", Arguments = ["s:{state}"] }, OscValues.OfAlert, faults);
        var lamp = OscTemplate.Read(new OscMessageSettings { Address = "/lamp", Arguments = state ?? ["i:{urgent}"] }, OscValues.OfState, faults);
        Assert.Empty(faults);
        return new OscSink("lamp", (host, Port), alert, lamp, guard, _clock);
    }

    private async Task<string> Received()
    {
        using var ceiling = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        ceiling.CancelAfter(TimeSpan.FromSeconds(30));
        return Convert.ToHexString((await _lamp.ReceiveAsync(ceiling.Token)).Buffer);
    }
}
