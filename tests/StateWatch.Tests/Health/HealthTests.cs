using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using StateWatch.Tests.Hosting;
using StateWatch.Tests.Links;

namespace StateWatch.Tests.Health;

/// <summary>Health and metrics as monitoring asks for them, over loopback.</summary>
[Collection(SocketsGroup.Name)]
public sealed class HealthTests
{
    private const string Desk = "desk=\"here/midwinter\"";

    [Fact]
    public async Task Metrics_are_in_prometheus_text_with_units_and_say_what_is()
    {
        var at = FreePort();
        await using var watch = await RunningWatch.Start(at);
        await watch.Until(report => report.ExitCode == 0);
        using var http = new HttpClient { BaseAddress = new Uri($"http://{at}") };
        var text = await http.GetStringAsync("/metrics", TestContext.Current.CancellationToken);
        var metrics = new MetricsText(text);
        Assert.Equal(watch.Plan.Expectations.Count, metrics.Value("statewatch_desk_settings_planned", Desk));
        Assert.Equal(watch.Plan.Expectations.Count, metrics.Value("statewatch_desk_settings_verified", Desk));
        Assert.Equal(1, metrics.Value("statewatch_desk_session", Desk));
        Assert.InRange(metrics.Value("statewatch_desk_read_age_seconds", Desk), 0, 90);
        Assert.InRange(metrics.Value("statewatch_desk_silence_seconds", Desk), 0, 90);
        Assert.Equal(0, metrics.Value("statewatch_findings", Desk, "severity=\"urgent\""));
        Assert.Equal(0, metrics.Value("statewatch_findings", "desk=\"here/statewatch\"", "severity=\"urgent\""));
        Assert.Equal(0, metrics.Value("statewatch_sink_queue", "sink=\"light\""));
        Assert.True(metrics.Value("statewatch_history_commits_total") > 0);
        Assert.Equal(0, metrics.Value("statewatch_history_failures_total"));
        Assert.True(metrics.Value("statewatch_link_received_total", Desk) > 1000);
        Assert.All((string[])["foreign", "ring-full", "too-long", "undecodable"], reason => Assert.Equal(0, metrics.Value("statewatch_link_dropped_total", Desk, $"reason=\"{reason}\"")));
        Assert.True(metrics.Value("statewatch_loop_latency_seconds_count", Desk) > 0);
        Assert.Equal("histogram", metrics.TypeOf("statewatch_loop_latency_seconds"));
        Assert.All(metrics.Names.Where(name => metrics.TypeOf(name) == "counter"), name => Assert.EndsWith("_total", name, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Readiness_says_why_not_and_control_is_not_to_be_had_here()
    {
        var at = FreePort();
        await using var watch = await RunningWatch.Start(at);
        await watch.Until(report => report.ExitCode == 0);
        using var http = new HttpClient { BaseAddress = new Uri($"http://{at}") };
        Assert.Equal((HttpStatusCode.OK, "ok\n"), await Ask(http, "/ready"));
        Assert.Equal((HttpStatusCode.OK, "ok\n"), await Ask(http, "/live"));
        Assert.Equal(HttpStatusCode.NotFound, (await Ask(http, "/status")).Code);
        using var order = await http.PostAsync("/phase", new StringContent("{\"phase\":\"show\"}"), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NotFound, order.StatusCode);
        watch.Desk.Use(desk => desk.Silent = true);
        await watch.Until(report => report.Desks[0].Link == "lost");
        Assert.Equal((HttpStatusCode.ServiceUnavailable, "here/midwinter does not answer\n"), await Ask(http, "/ready"));
        Assert.Equal(HttpStatusCode.OK, (await Ask(http, "/live")).Code);
    }

    [Fact]
    public async Task Whoever_asks_without_the_token_gets_nothing()
    {
        var at = FreePort();
        await using var watch = await RunningWatch.Start(at, token: "0123456789abcdef");
        using var http = new HttpClient { BaseAddress = new Uri($"http://{at}") };
        foreach (var path in (string[])["/live", "/ready", "/metrics", "/status", "/nowhere"])
            Assert.Equal(HttpStatusCode.Unauthorized, (await Ask(http, path)).Code);
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", "0123456789abcdeX");
        Assert.Equal(HttpStatusCode.Unauthorized, (await Ask(http, "/live")).Code);
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", "0123456789abcdef");
        Assert.Equal(HttpStatusCode.OK, (await Ask(http, "/live")).Code);
    }

    private static async Task<(HttpStatusCode Code, string Text)> Ask(HttpClient http, string path)
    {
        using var response = await http.GetAsync(path, TestContext.Current.CancellationToken);
        return (response.StatusCode, await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    private static IPEndPoint FreePort()
    {
        using var trial = new TcpListener(IPAddress.Loopback, 0);
        trial.Start();
        return (IPEndPoint)trial.LocalEndpoint;
    }
}
