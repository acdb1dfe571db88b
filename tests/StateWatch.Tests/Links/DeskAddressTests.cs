using System.Net;
using StateWatch.Links;

namespace StateWatch.Tests.Links;

public class DeskAddressTests
{
    [Theory]
    [InlineData("0.0.0.0")]
    [InlineData("255.255.255.255")]
    [InlineData("224.0.0.1")] // all systems on this subnet (RFC 1112)
    [InlineData("::")]
    [InlineData("ff02::1")] // all nodes (RFC 4291)
    public void Address_of_many_or_none_is_refused(string host)
    {
        var problem = Assert.Throws<LinkException>(() => DeskAddress.Resolve(host, 9000));
        Assert.Contains("not for one desk", problem.Why, StringComparison.Ordinal);
        Assert.Contains("9000", problem.Where, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(65536)]
    public void Port_outside_its_range_is_refused(int port)
    {
        var problem = Assert.Throws<LinkException>(() => DeskAddress.Resolve("127.0.0.1", port));
        Assert.Contains("1 to 65535", problem.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Name_server_that_does_not_answer_is_given_up()
    {
        var never = new TaskCompletionSource<IPAddress[]>();
        var problem = Assert.Throws<LinkException>(() => DeskAddress.Resolve("desk.example", 9000, _ => never.Task, TimeSpan.FromMilliseconds(1)));
        Assert.Contains("what address 'desk.example' has", problem.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Host_that_cannot_be_a_name_is_refused()
    {
        // A label has at most 63 letters (RFC 1035, 2.3.4), so nothing is looked up.
        var problem = Assert.Throws<LinkException>(() => DeskAddress.Resolve(new string('x', 300), 9000));
        Assert.Contains("no address is known", problem.Why, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("127.0.0.1")]
    [InlineData("::ffff:127.0.0.1")]
    [InlineData("localhost")]
    public void IPv4_comes_before_IPv6(string host) =>
        Assert.Equal("127.0.0.1:9000", DeskAddress.Resolve(host, 9000).EndPoint.ToString());

    [Theory]
    [InlineData("192.0.2.10", 9000, true)]
    [InlineData("192.0.2.10", 9001, false)]
    [InlineData("192.0.2.11", 9000, false)]
    [InlineData("2001:db8::10", 9000, false)]
    public void Sender_is_the_desk_by_address_and_port(string sender, int port, bool isDesk) =>
        Assert.Equal(isDesk, DeskAddress.Resolve("192.0.2.10", 9000).IsSender(new IPEndPoint(IPAddress.Parse(sender), port).Serialize()));

    [Theory]
    [InlineData("2001:db8::10", "2001:db8::10", 9000, true)]
    [InlineData("2001:db8::10", "2001:db8::10", 9001, false)]
    [InlineData("2001:db8::10", "2001:db8::11", 9000, false)]
    [InlineData("fe80::10%3", "fe80::10%3", 9000, true)]
    [InlineData("fe80::10%3", "fe80::10%4", 9000, false)]
    public void Sender_over_IPv6_is_the_desk_by_address_port_and_scope(string desk, string sender, int port, bool isDesk) =>
        Assert.Equal(isDesk, DeskAddress.Resolve(desk, 9000).IsSender(new IPEndPoint(IPAddress.Parse(sender), port).Serialize()));
}
