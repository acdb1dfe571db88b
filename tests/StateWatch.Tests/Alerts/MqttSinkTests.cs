using System.Text.Json.Nodes;
using StateWatch.Alerts;
using StateWatch.Alerts.Mqtt;
using StateWatch.Core.Findings;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Alerts;

/// <summary>Publishing to a real broker, heard by its own clients.</summary>
[Collection(SocketsGroup.Name)]
public sealed class MqttSinkTests
{
    private const string Root = "hall/desks/barn/";
    private const string Finding = Root + "midwinter/finding/tap-wrong:input/";

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Whoever_comes_late_sees_what_stands_and_whoever_listens_hears_everything_in_order(bool isVersion3)
    {
        await using var broker = await Mosquitto.Start();
        await using var sink = Sink(broker.Port, isVersion3);
        var ear = await broker.Listen(Root + "midwinter/event");
        foreach (var alert in new[] { Some.Alert("hall", Some.Key(1), 1), Some.Alert("hall", Some.Key(2), 1), Some.Alert("hall", Some.Key(1), 2), Some.Digest("hall", 1, (Some.Key(3), 1), (Some.Key(4), 1)) })
            Assert.Equal(Delivery.Taken, await sink.Send(Some.Row(alert), TestContext.Current.CancellationToken));
        Assert.Equal(Delivery.Taken, await sink.Beat(Some.Status(), TestContext.Current.CancellationToken));

        var retained = await broker.Retained(Root + "#");
        Assert.Equal([Finding + "2", Finding + "3", Finding + "4", Root + "midwinter/state", Root + "status"], retained.Keys.Order(StringComparer.Ordinal));
        Assert.Equal("online", retained[Root + "status"]);
        Assert.Equal("statewatch.finding.raised", (string?)JsonNode.Parse(retained[Finding + "2"])!["type"]);
        Assert.Equal($"{Some.Key(3)}#1#1", (string?)JsonNode.Parse(retained[Finding + "3"])!["id"]);
        Assert.Equal("show", (string?)JsonNode.Parse(retained[Root + "midwinter/state"])!["data"]!["phase"]);

        await ear.Until("0 " + Root + "midwinter/event {\"specversion\":\"1.0\",\"id\":\"barn/midwinter/digest#0#1\"");
        var types = ear.Heard.Where(line => line.Contains("/event ", StringComparison.Ordinal)).Select(line => (string?)JsonNode.Parse(line.Split(' ', 3)[2])!["type"]);
        Assert.Equal(["statewatch.finding.raised", "statewatch.finding.raised", "statewatch.finding.cleared", "statewatch.digest"], types);
    }

    [Fact]
    public async Task A_broker_that_was_killed_and_forgot_everything_is_told_again_what_stands()
    {
        await using var broker = await Mosquitto.Start();
        var bench = new SinkBench(Sink(broker.Port)) { Statuses = [Some.Status()] };
        bench.History.Add(Some.Alert("hall", Some.Key(1), 1), Some.Alert("hall", Some.Key(2), 1), Some.Alert("hall", Some.Key(2), 2));
        await bench.Settle();
        Assert.Equal(3, bench.Telling.State.Delivered);

        await broker.Kill();
        bench.History.Add(Some.Alert("hall", Some.Key(3), 1));
        await bench.Pass(TimeSpan.FromSeconds(20));
        Assert.False(bench.Telling.State.IsUp);
        Assert.Equal(1, bench.History.CountWaiting("hall"));

        await broker.Begin();
        await bench.Pass(TimeSpan.FromSeconds(40));
        Assert.True(bench.Telling.State is { IsUp: true, Waiting: 0, Delivered: 4 }, bench.Telling.State.LastError);
        var retained = await broker.Retained(Root + "#");
        Assert.Equal([Finding + "1", Finding + "3", Root + "midwinter/state", Root + "status"], retained.Keys.Order(StringComparer.Ordinal));
    }

    // The acknowledgement of a message is 4 bytes in version 3.1.1 (3.4), those of a connection and a subscription 4 and 5 (3.2, 3.9).
    [Fact]
    public async Task A_digest_that_needs_several_tries_goes_on_where_it_ended()
    {
        await using var broker = await Mosquitto.Start(AsksNothing);
        await using var wire = new CutWire(broker.Port);
        await using var sink = Sink(new MqttBroker("127.0.0.1", wire.Port, "statewatch-barn-hall") { IsVersion3 = true, User = "watch" });
        Assert.Equal(Delivery.Taken, await sink.Beat(Some.Status(), TestContext.Current.CancellationToken));
        var ear = await broker.Listen(Root + "midwinter/#");
        var digest = Some.Row(Some.Digest("hall", 1, [.. Enumerable.Range(1, 40).Select(static number => (Some.Key(number), 1))]));

        wire.HoldAfter(4 * 20);
        using (var limit = new CancellationTokenSource())
        {
            var sending = sink.Send(digest, limit.Token).AsTask();
            await ear.Until($"0 {Finding}21 ");
            await limit.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => await sending);
        }

        wire.Release();
        // What was given up in the middle may cost the next try an acknowledgement too; the one after that goes on again.
        var tries = 0;
        while (await sink.Send(digest, TestContext.Current.CancellationToken) != Delivery.Taken)
            Assert.True(++tries < 4, "it was not taken in four tries");
        await ear.Until($"0 {Root}midwinter/event ");
        var heard = ear.Heard.Where(static line => line.StartsWith($"0 {Finding}", StringComparison.Ordinal)).Select(static line => line.Split(' ')[1]).ToArray();
        Assert.Equal(40, heard.Distinct().Count());
        Assert.All(Enumerable.Range(1, 16), number => Assert.Single(heard, Finding + number));
    }

    [Fact]
    public async Task A_connection_that_was_given_up_half_made_is_made_anew()
    {
        await using var broker = await Mosquitto.Start(AsksNothing);
        await using var wire = new CutWire(broker.Port);
        await using var sink = Sink(new MqttBroker("127.0.0.1", wire.Port, "statewatch-barn-hall") { IsVersion3 = true, User = "watch" });
        Assert.Equal(Delivery.Taken, await sink.Send(Some.Row(Some.Alert("hall", Some.Key(1), 1)), TestContext.Current.CancellationToken));
        wire.Cut();
        await broker.Kill();
        await broker.Begin();

        // Connected, and no word of whether "online" was taken.
        var ear = await broker.Listen(Root + "status");
        wire.HoldAfter(4);
        using (var limit = new CancellationTokenSource())
        {
            var beat = Beat(sink, limit.Token);
            await ear.Until($"0 {Root}status online");
            await limit.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => await beat);
        }

        wire.Release();
        Assert.Equal(Delivery.Taken, await Beat(sink, TestContext.Current.CancellationToken));
        var retained = await broker.Retained(Root + "#");
        Assert.Equal([Finding + "1", Root + "midwinter/state", Root + "status"], retained.Keys.Order(StringComparer.Ordinal));
        Assert.Equal("online", retained[Root + "status"]);
    }

    [Fact]
    public async Task What_is_published_again_after_a_new_connection_may_need_several_tries()
    {
        await using var broker = await Mosquitto.Start(AsksNothing);
        await using var wire = new CutWire(broker.Port);
        await using var sink = Sink(new MqttBroker("127.0.0.1", wire.Port, "statewatch-barn-hall") { IsVersion3 = true, User = "watch" });
        Assert.Equal(Delivery.Taken, await sink.Send(Some.Row(Some.Digest("hall", 1, [.. Enumerable.Range(1, 40).Select(static number => (Some.Key(number), 1))])), TestContext.Current.CancellationToken));
        wire.Cut();
        await broker.Kill();
        await broker.Begin();

        // "online" and 20 findings are acknowledged.
        var ear = await broker.Listen(Root + "midwinter/#");
        wire.HoldAfter(4 + 5 + (4 * 21));
        using (var limit = new CancellationTokenSource())
        {
            var beat = Beat(sink, limit.Token);
            await ear.Until($"0 {Finding}21 ");
            await limit.CancelAsync();
            await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => await beat);
        }

        wire.Release();
        Assert.Equal(Delivery.Taken, await sink.Beat(Some.Status(), TestContext.Current.CancellationToken));
        await ear.Until($"0 {Root}midwinter/state ");
        var heard = ear.Heard.Where(static line => line.StartsWith($"0 {Finding}", StringComparison.Ordinal)).Select(static line => line.Split(' ')[1]).ToArray();
        Assert.Equal(40, heard.Distinct().Count());
        Assert.Single(heard, Finding + "1");
    }

    [Fact]
    public async Task The_last_will_tells_of_a_connection_that_broke_and_a_birth_of_the_next()
    {
        await using var broker = await Mosquitto.Start();
        await using var wire = new CutWire(broker.Port);
        await using var sink = Sink(wire.Port);
        var ear = await broker.Listen(Root + "status");
        Assert.Equal(Delivery.Taken, await sink.Beat(Some.Status(), TestContext.Current.CancellationToken));
        await ear.Until($"0 {Root}status online");

        wire.Cut();
        await ear.Until($"0 {Root}status offline");
        var delivery = await sink.Beat(Some.Status(), TestContext.Current.CancellationToken);
        if (delivery.Outcome == DeliveryOutcome.Retry)
            Assert.Equal(Delivery.Taken, await sink.Beat(Some.Status(), TestContext.Current.CancellationToken));
        await ear.Until($"0 {Root}status online");
    }

    [Fact]
    public async Task Ending_in_order_says_so()
    {
        await using var broker = await Mosquitto.Start();
        var ear = await broker.Listen(Root + "#");
        await using (var sink = Sink(broker.Port))
            await sink.Beat(Some.Status(), TestContext.Current.CancellationToken);
        await ear.Until($"0 {Root}status online");
        await ear.Until($"0 {Root}status offline");
        Assert.Equal("offline", (await broker.Retained(Root + "#"))[Root + "status"]);
    }

    [Fact]
    public async Task What_is_left_from_an_earlier_run_goes_and_what_the_broker_lost_comes_back()
    {
        await using var broker = await Mosquitto.Start();
        await broker.Publish(Finding + "98", "{}", isRetained: true);
        await broker.Publish(Finding + "12", "{}", isRetained: true);
        await broker.Publish(Root + "other/finding/tap-wrong:input/98", "{}", isRetained: true);
        // The sink knows of 12, which the broker still has, and of 13, which it has lost; 14 it was never told.
        var status = Some.Status();
        status = status with
        {
            Standing =
            [
                status.Standing[0] with { Record = status.Standing[0].Record with { Sinks = [Told(1)] } },
                status.Standing[1] with { Record = status.Standing[1].Record with { Sinks = [Told(2)] } },
                status.Standing[2],
            ],
        };
        await using var sink = Sink(broker.Port);
        Assert.Equal(Delivery.Taken, await sink.Send(Some.Row(Some.Alert("hall", Some.Key(1), 1)), TestContext.Current.CancellationToken));
        // What is retained comes in on a thread of the connection.
        IReadOnlyDictionary<string, string> retained;
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(30));
        do
        {
            Assert.Equal(Delivery.Taken, await sink.Beat(status, limit.Token));
            retained = await broker.Retained(Root + "+/finding/#");
        }
        while (retained.ContainsKey(Finding + "98"));

        Assert.Equal([Finding + "1", Finding + "12", Finding + "13", Root + "other/finding/tap-wrong:input/98"], retained.Keys.Order(StringComparer.Ordinal));
        Assert.Equal($"{Some.Key(13)}#1#2", (string?)JsonNode.Parse(retained[Finding + "13"])!["id"]);
    }

    [Fact]
    public async Task User_and_password_over_a_connection_that_is_vouched_for()
    {
        using var certificates = new TestCertificates();
        CertificateTrust? trust = null;
        await using var broker = await Mosquitto.Start(folder =>
        {
            trust = CertificateTrust.Read(folder.Write("ca.pem", certificates.AuthorityPem), out _);
            // The broker's own tool turns the passwords in the file into hashes.
            var users = folder.Write("users", "watch:opensesame\n");
            using var tool = System.Diagnostics.Process.Start(new System.Diagnostics.ProcessStartInfo("/usr/bin/mosquitto_passwd", ["-U", users]) { UseShellExecute = false })!;
            tool.WaitForExit();
            return $"certfile {folder.Write("broker.pem", certificates.CertificatePem)}\nkeyfile {folder.Write("broker.key", certificates.KeyPem)}\nallow_anonymous false\npassword_file {users}\n";
        });
        var secure = new MqttBroker("localhost", broker.Port, "statewatch-barn-hall") { HasTls = true, Trust = trust, User = "watch", Password = "opensesame" };
        await using (var sink = Sink(secure))
            Assert.Equal(Delivery.Taken, await sink.Beat(Some.Status(), TestContext.Current.CancellationToken));

        await using (var sink = Sink(secure with { Password = "wrong" }))
            Assert.Contains("NotAuthorized", (await sink.Beat(Some.Status(), TestContext.Current.CancellationToken)).Why, StringComparison.Ordinal);

        await using (var sink = Sink(secure with { Trust = null }))
            Assert.Contains("caFile", (await sink.Beat(Some.Status(), TestContext.Current.CancellationToken)).Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_published_to_a_watched_desk_or_where_nobody_is()
    {
        var wire = new CutWire(1);
        await using (var sink = Sink(wire.Port, guard: KnownHosts.Guard(new DeskHost(Some.Desk, "127.0.0.1", wire.Port))))
            Assert.Contains("watched desk", (await sink.Beat(Some.Status(), TestContext.Current.CancellationToken)).Why, StringComparison.Ordinal);
        await wire.DisposeAsync();
        await using (var sink = Sink(wire.Port))
            Assert.Contains("does the broker run", (await sink.Beat(Some.Status(), TestContext.Current.CancellationToken)).Why, StringComparison.Ordinal);
    }

    // The sink may write only, so that nothing comes back but acknowledgements.
    private static string AsksNothing(ScratchFolder folder) => $"allow_anonymous true\nacl_file {folder.Write("acl", "topic readwrite #\nuser watch\ntopic write hall/#\n")}\n";

    // What noticed too late that the wire was cut says so and is tried again, as a runner does.
    private static async Task<Delivery> Beat(MqttSink sink, CancellationToken cancel) =>
        await sink.Beat(Some.Status(), cancel) is { Outcome: DeliveryOutcome.Taken } taken ? taken : await sink.Beat(Some.Status(), cancel);

    private static SinkRecord Told(int transition)
    {
        var told = new Level(LevelKind.Raised, Core.Auditing.Severity.Urgent, 1, transition);
        return new SinkRecord("hall", told, told, 0, 0, default);
    }

    private static MqttSink Sink(int port, bool isVersion3 = false, SinkGuard? guard = null) =>
        Sink(new MqttBroker("127.0.0.1", port, "statewatch-barn-hall") { IsVersion3 = isVersion3 }, guard);

    private static MqttSink Sink(MqttBroker broker, SinkGuard? guard = null) =>
        new("hall", broker, new MqttTopics("hall/desks", "barn"), new AlertPayload(NameHiding.None), guard ?? KnownHosts.Guard());
}
