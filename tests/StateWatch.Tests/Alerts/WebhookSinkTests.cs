using Microsoft.Extensions.Time.Testing;
using StateWatch.Alerts;
using StateWatch.Alerts.Webhooks;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Alerts;

/// <summary>Posts over real sockets on loopback.</summary>
[Collection(SocketsGroup.Name)]
public sealed class WebhookSinkTests
{
    private const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";
    private static readonly TimeSpan Ceiling = TimeSpan.FromSeconds(30);
    private readonly FakeTimeProvider _clock = new(Some.Start);

    [Fact]
    public async Task An_alert_is_posted_signed_and_with_a_name_of_its_own()
    {
        await using var receiver = new HookReceiver(static _ => "204 No Content");
        await using var sink = Sink(receiver.Port, token: "t0ken");
        Assert.Equal(Delivery.Taken, await sink.Send(Some.Row(Some.Alert("phone", Some.Key(12), 1)), TestContext.Current.CancellationToken));
        Assert.Equal(Delivery.Taken, await sink.Beat(Some.Status(), TestContext.Current.CancellationToken));

        var post = receiver.Posts[0];
        Assert.Equal("POST /desk HTTP/1.1", post.Request);
        Assert.Equal("application/cloudevents+json; charset=utf-8", post.Headers["Content-Type"]);
        Assert.Equal("Bearer t0ken", post.Headers["Authorization"]);
        Assert.Equal($"{Some.Start.ToUnixTimeSeconds()}", post.Headers["webhook-timestamp"]);
        Assert.Equal(WebhookSigner.Of(Secret, out _)!.Sign(post.Headers["webhook-id"], Some.Start, post.Body), post.Headers["webhook-signature"]);
        Assert.Equal("statewatch.finding.raised", post.Text("type"));
        Assert.Equal("statewatch.beat", receiver.Posts[1].Text("type"));
        Assert.NotEqual(post.Headers["webhook-id"], receiver.Posts[1].Headers["webhook-id"]);
    }

    [Theory]
    [InlineData("200 OK", DeliveryOutcome.Taken)]
    [InlineData("202 Accepted", DeliveryOutcome.Taken)]
    [InlineData("410 Gone", DeliveryOutcome.Stop)]
    [InlineData("301 Moved Permanently\r\nLocation: http://127.0.0.1:9/elsewhere", DeliveryOutcome.Retry)]
    // RFC 9110, 15.5.1, 15.5.14 and 15.5.21: what is wrong is the request itself.
    [InlineData("400 Bad Request", DeliveryOutcome.Refused)]
    [InlineData("413 Content Too Large", DeliveryOutcome.Refused)]
    [InlineData("422 Unprocessable Content", DeliveryOutcome.Refused)]
    [InlineData("404 Not Found", DeliveryOutcome.Retry)]
    [InlineData("401 Unauthorized", DeliveryOutcome.Retry)]
    [InlineData("500 Internal Server Error", DeliveryOutcome.Retry)]
    [InlineData("429 Too Many Requests", DeliveryOutcome.Retry)]
    [InlineData("429 Too Many Requests\r\nRetry-After: 120", DeliveryOutcome.Retry, 120.0)]
    [InlineData("503 Service Unavailable\r\nRetry-After: 7", DeliveryOutcome.Retry, 7.0)]
    // RFC 9110, 5.6.7: an IMF-fixdate; 53 s after the beginning, at which it is 08:40:07.12 in UTC.
    [InlineData("503 Service Unavailable\r\nRetry-After: Sun, 06 Dec 2026 08:41:00 GMT", DeliveryOutcome.Retry, 52.88)]
    [InlineData("503 Service Unavailable\r\nRetry-After: Sun, 06 Dec 2026 08:00:00 GMT", DeliveryOutcome.Retry, 0.0)]
    [InlineData("503 Service Unavailable\r\nRetry-After: soon", DeliveryOutcome.Retry)]
    public async Task Answers_mean_what_they_say(string answer, object outcome, double? after = null)
    {
        await using var receiver = new HookReceiver(_ => answer);
        await using var sink = Sink(receiver.Port);
        var delivery = await sink.Send(Some.Row(Some.Alert("phone", Some.Key(12), 1)), TestContext.Current.CancellationToken);
        Assert.Equal((outcome, after), (delivery.Outcome, delivery.After?.TotalSeconds));
        Assert.Single(receiver.Posts);
        Assert.Equal((DeliveryOutcome)outcome == DeliveryOutcome.Taken, delivery.Why is null);
    }

    [Fact]
    public async Task A_receiver_that_does_not_answer_is_given_up_after_10_seconds()
    {
        using var hold = new ManualResetEventSlim();
        using var asked = new SemaphoreSlim(0);
        await using var receiver = new HookReceiver(_ =>
        {
            asked.Release();
            hold.Wait(Ceiling);
            return "200 OK";
        });
        await using var sink = Sink(receiver.Port);
        var sending = sink.Send(Some.Row(Some.Alert("phone", Some.Key(12), 1)), TestContext.Current.CancellationToken).AsTask();
        Assert.True(await asked.WaitAsync(Ceiling, TestContext.Current.CancellationToken));
        _clock.Advance(TimeSpan.FromSeconds(10));
        Assert.Contains("10 s", (await sending.WaitAsync(Ceiling, TestContext.Current.CancellationToken)).Why, StringComparison.Ordinal);
        hold.Set();
    }

    [Fact]
    public async Task A_receiver_that_is_not_there_is_told()
    {
        int port;
        await using (var receiver = new HookReceiver(static _ => "200 OK"))
            port = receiver.Port;
        await using var sink = Sink(port);
        var delivery = await sink.Send(Some.Row(Some.Alert("phone", Some.Key(12), 1)), TestContext.Current.CancellationToken);
        Assert.Equal(DeliveryOutcome.Retry, delivery.Outcome);
        Assert.Contains("ConnectionRefused", delivery.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_posted_to_a_watched_desk()
    {
        await using var receiver = new HookReceiver(static _ => "200 OK");
        await using var sink = Sink(receiver.Port, KnownHosts.Guard(new DeskHost(Some.Desk, "::1", receiver.Port)));
        var delivery = await sink.Send(Some.Row(Some.Alert("phone", Some.Key(12), 1)), TestContext.Current.CancellationToken);
        Assert.Contains("watched desk", delivery.Why, StringComparison.Ordinal);
        Assert.Empty(receiver.Posts);
    }

    [Fact]
    public async Task A_certificate_counts_only_from_who_may_vouch_for_it()
    {
        using var folder = new ScratchFolder();
        using var certificates = new TestCertificates();
        await using var receiver = new HookReceiver(static _ => "200 OK", certificates.Server);
        var trust = CertificateTrust.Read(folder.Write("ca.pem", certificates.AuthorityPem), out _);

        await using var trusting = Sink(receiver.Port, scheme: "https", trust: trust);
        Assert.Equal(Delivery.Taken, await trusting.Send(Some.Row(Some.Alert("phone", Some.Key(12), 1)), TestContext.Current.CancellationToken));

        await using var wary = Sink(receiver.Port, scheme: "https");
        var refused = await wary.Send(Some.Row(Some.Alert("phone", Some.Key(12), 1)), TestContext.Current.CancellationToken);
        Assert.Equal(DeliveryOutcome.Retry, refused.Outcome);
        Assert.Contains("caFile", refused.Why, StringComparison.Ordinal);

        // The certificate is for localhost and 127.0.0.1, not for this name of the same machine.
        var hosts = new KnownHosts();
        hosts.Names["other.example"] = ["127.0.0.1"];
        await using var misnamed = Sink(receiver.Port, new SinkGuard(static () => [], hosts), scheme: "https", trust: trust, host: "other.example");
        Assert.Equal(DeliveryOutcome.Retry, (await misnamed.Send(Some.Row(Some.Alert("phone", Some.Key(12), 1)), TestContext.Current.CancellationToken)).Outcome);
        Assert.Single(receiver.Posts);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task A_receiver_that_fails_half_of_the_time_gets_everything_once_or_more_in_order(int seed)
    {
        var random = new Random(seed);
        await using var receiver = new HookReceiver(_ => random.Next(4) switch
        {
            0 => "500 Internal Server Error",
            1 => $"503 Service Unavailable\r\nRetry-After: {random.Next(30)}",
            _ => "200 OK",
        });
        var bench = new SinkBench(Sink(receiver.Port));
        var transitions = new int[5];
        var expected = new List<string>();
        for (var number = 0; number < 80; number++)
        {
            var key = random.Next(transitions.Length);
            var alert = Some.Alert("phone", Some.Key(key), ++transitions[key]);
            expected.Add(alert.Told.Id);
            bench.History.Add(alert);
            await bench.Pass(TimeSpan.FromSeconds(random.Next(3)));
        }

        for (var hour = 0; hour < 10 && bench.History.CountWaiting("phone") > 0; hour++)
            await bench.Pass(TimeSpan.FromMinutes(30));

        // Each id with one content and one name; the first time that each came in is the order in which it came about.
        Assert.Equal(expected, receiver.Posts.Select(post => post.Text("id")).Distinct());
        foreach (var same in receiver.Posts.GroupBy(post => post.Text("id")))
        {
            Assert.Single(same.Select(post => Convert.ToBase64String(post.Body)).Distinct());
            Assert.Single(same.Select(post => post.Headers["webhook-id"]).Distinct());
        }

        Assert.Equal(expected.Count, receiver.Posts.Select(post => post.Headers["webhook-id"]).Distinct().Count());
        Assert.True(receiver.Posts.Count > expected.Count);
        Assert.Equal(receiver.Posts.Select(post => post.Text("sequence")).Order(StringComparer.Ordinal), receiver.Posts.Select(post => post.Text("sequence")));
    }

    private WebhookSink Sink(int port, SinkGuard? guard = null, string? token = null, string scheme = "http", CertificateTrust? trust = null, string host = "127.0.0.1") =>
        new("phone", new Uri($"{scheme}://{host}:{port}/desk"), WebhookSigner.Of(Secret, out _)!, new AlertPayload(NameHiding.None), guard ?? KnownHosts.Guard(), _clock, token, trust);
}
