using System.Net;
using StateWatch.Alerts;
using StateWatch.Links;

namespace StateWatch.Tests.Alerts;

/// <summary>Nothing is sent to a watched desk. Addresses of RFC 5737 and RFC 3849, which belong to nobody.</summary>
public sealed class SinkGuardTests
{
    private readonly KnownHosts _hosts = new();

    [Theory]
    [InlineData("192.0.2.10", 9000)]
    [InlineData("192.0.2.10", 7000)]
    [InlineData("::ffff:192.0.2.10", 7000)]
    [InlineData("desk.example", 1883)]
    [InlineData("2001:db8::10", 443)]
    [InlineData("lamp-that-is-the-desk.example", 443)]
    public async Task A_desks_machine_is_refused_at_any_port(string host, int port)
    {
        _hosts.Names["desk.example"] = ["192.0.2.10", "2001:db8::10"];
        _hosts.Names["lamp-that-is-the-desk.example"] = ["192.0.2.77", "2001:db8::10"];
        var problem = await Assert.ThrowsAsync<LinkException>(async () => await Guard(new DeskHost(Some.Desk, "desk.example", 9000)).Resolve(host, port, TestContext.Current.CancellationToken));
        Assert.Contains(Some.Desk, problem.Message, StringComparison.Ordinal);
        Assert.Contains($"{port}", problem.Where, StringComparison.Ordinal);
        Assert.NotEmpty(problem.Advice);
    }

    [Theory]
    [InlineData("127.0.0.1", 9000, true)]
    [InlineData("127.0.0.9", 9000, true)]
    [InlineData("::1", 9000, true)]
    [InlineData("::ffff:127.0.0.1", 9000, true)]
    [InlineData("localhost", 9000, true)]
    [InlineData("192.0.2.50", 9000, true)]
    [InlineData("fe80::50", 9000, true)]
    [InlineData("127.0.0.1", 9001, false)]
    [InlineData("192.0.2.50", 9001, false)]
    [InlineData("192.0.2.51", 9000, false)]
    public async Task On_this_machine_only_the_desks_port_is_refused_under_whatever_address(string host, int port, bool isRefused)
    {
        _hosts.Own = [IPAddress.Parse("192.0.2.50"), IPAddress.Parse("fe80::50%2")];
        var guard = Guard(new DeskHost(Some.Desk, "127.0.0.1", 9000));
        if (isRefused)
            await Assert.ThrowsAsync<LinkException>(async () => await guard.Resolve(host, port, TestContext.Current.CancellationToken));
        else
            Assert.Single(await guard.Resolve(host, port, TestContext.Current.CancellationToken));
    }

    // RFC 919 limited broadcast, RFC 5771 and RFC 4291 multicast, RFC 1122 "this host".
    [Theory]
    [InlineData("255.255.255.255")]
    [InlineData("224.0.0.1")]
    [InlineData("ff02::1")]
    [InlineData("0.0.0.0")]
    [InlineData("::")]
    [InlineData("::ffff:239.1.2.3")]
    public async Task Addresses_of_many_machines_or_of_none_are_refused(string host) =>
        await Assert.ThrowsAsync<LinkException>(async () => await Guard().Resolve(host, 7000, TestContext.Current.CancellationToken));

    [Fact]
    public async Task A_host_that_is_not_known_is_told()
    {
        var problem = await Assert.ThrowsAsync<LinkException>(async () => await Guard().Resolve("nowhere.example", 7000, TestContext.Current.CancellationToken));
        Assert.Contains("nowhere.example", problem.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_name_that_comes_to_mean_the_desk_is_refused_when_it_is_looked_up_again()
    {
        _hosts.Names["lamp.example"] = ["192.0.2.40"];
        var guard = Guard(new DeskHost(Some.Desk, "192.0.2.10", 9000));
        Assert.Equal([IPAddress.Parse("192.0.2.40")], await guard.Resolve("lamp.example", 7000, TestContext.Current.CancellationToken));
        _hosts.Names["lamp.example"] = ["192.0.2.10"];
        await Assert.ThrowsAsync<LinkException>(async () => await guard.Resolve("lamp.example", 7000, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_desk_whose_name_cannot_be_looked_up_any_more_is_where_it_was()
    {
        _hosts.Names["desk.example"] = ["192.0.2.10"];
        _hosts.Names["lamp.example"] = ["192.0.2.40"];
        var guard = Guard(new DeskHost(Some.Desk, "desk.example", 9000));
        await guard.Resolve("lamp.example", 7000, TestContext.Current.CancellationToken);
        _hosts.Names.Remove("desk.example");
        _hosts.Names["lamp.example"] = ["192.0.2.10"];
        var problem = await Assert.ThrowsAsync<LinkException>(async () => await guard.Resolve("lamp.example", 7000, TestContext.Current.CancellationToken));
        Assert.True(SinkGuard.IsRefusal(problem));
        Assert.Single(await guard.Resolve("192.0.2.40", 7000, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task While_a_desk_was_never_found_nothing_is_sent_and_that_may_change()
    {
        var guard = Guard(new DeskHost(Some.Desk, "desk.example", 9000));
        var problem = await Assert.ThrowsAsync<LinkException>(async () => await guard.Resolve("192.0.2.40", 7000, TestContext.Current.CancellationToken));
        Assert.False(SinkGuard.IsRefusal(problem));
        Assert.Contains("desk.example", problem.Message, StringComparison.Ordinal);
        _hosts.Names["desk.example"] = ["192.0.2.10"];
        Assert.Single(await guard.Resolve("192.0.2.40", 7000, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task IPv4_comes_first()
    {
        _hosts.Names["lamp.example"] = ["2001:db8::40", "192.0.2.40", "2001:db8::41", "192.0.2.41"];
        var addresses = await Guard().Resolve("lamp.example", 7000, TestContext.Current.CancellationToken);
        Assert.Equal(["192.0.2.40", "192.0.2.41", "2001:db8::40", "2001:db8::41"], addresses.Select(static address => address.ToString()));
    }

    private SinkGuard Guard(params DeskHost[] desks) => new(() => desks, _hosts);
}
