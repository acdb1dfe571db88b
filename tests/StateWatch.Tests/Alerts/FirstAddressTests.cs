using System.Net;
using System.Net.Sockets;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Alerts.Webhooks;

namespace StateWatch.Tests.Alerts;

/// <summary>Addresses of RFC 5737 and RFC 3849, which belong to nobody; in virtual time.</summary>
public sealed class FirstAddressTests
{
    private static readonly IPAddress Hole = IPAddress.Parse("2001:db8::40");
    private static readonly IPAddress Closed = IPAddress.Parse("192.0.2.40");
    private static readonly IPAddress Open = IPAddress.Parse("192.0.2.41");
    private readonly FakeTimeProvider _clock = new(Some.Start);
    private readonly List<IPAddress> _tried = [];

    [Fact]
    public async Task An_address_that_swallows_everything_leaves_time_for_the_next()
    {
        var finding = Find(Hole, Closed, Open);
        _clock.Advance(TimeSpan.FromSeconds(2.9));
        Assert.Equal([Hole], _tried);
        _clock.Advance(TimeSpan.FromSeconds(0.1));
        Assert.Equal(Open, await finding.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken));
        Assert.Equal([Hole, Closed, Open], _tried);
    }

    [Fact]
    public async Task When_none_answers_the_last_says_why()
    {
        var finding = Find(Closed, Hole);
        _clock.Advance(TimeSpan.FromSeconds(3));
        var problem = await Assert.ThrowsAsync<SocketException>(async () => await finding.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken));
        Assert.Equal(SocketError.TimedOut, problem.SocketErrorCode);
    }

    [Fact]
    public async Task Whoever_gives_up_waits_for_no_further_address()
    {
        using var end = new CancellationTokenSource();
        var finding = FirstAddress.Of([Hole, Open], Connect, _clock, end.Token).AsTask();
        await end.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => await finding);
        Assert.Equal([Hole], _tried);
    }

    private Task<IPAddress> Find(params IPAddress[] addresses) => FirstAddress.Of(addresses, Connect, _clock, TestContext.Current.CancellationToken).AsTask();

    private async ValueTask<IPAddress> Connect(IPAddress address, CancellationToken cancel)
    {
        _tried.Add(address);
        if (address.Equals(Hole))
            await Task.Delay(Timeout.Infinite, cancel);
        return address.Equals(Open) ? address : throw new SocketException((int)SocketError.ConnectionRefused);
    }
}
