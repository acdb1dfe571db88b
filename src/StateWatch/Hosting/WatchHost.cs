using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using Serilog;
using Serilog.Extensions.Logging;
using StateWatch.Alerts;
using StateWatch.Commands;
using StateWatch.Control;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.Health;
using StateWatch.History;
using StateWatch.Hosting.Settings;
using StateWatch.Recordings;

namespace StateWatch.Hosting;

/// <summary>A whole watch: desks, history, sinks, control socket, health; put together from settings, not started yet.</summary>
internal sealed class WatchHost : IAsyncDisposable
{
    private const string OtlpEndpoint = "OTEL_EXPORTER_OTLP_ENDPOINT";

    // From a tenth of a millisecond to a second: a decision that takes longer is late however much.
    private static readonly double[] LatencyBounds = [0.0001, 0.00025, 0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 1];

    // Everything that ends gets its own time within this; it is for what nobody thought of.
    private static readonly TimeSpan EndsWithin = TimeSpan.FromSeconds(25);

    private readonly WebApplication _app;
    private readonly ControlSocket _socket;
    private readonly WatchMetrics _metrics;
    private readonly WatchOutside _outside;
    private readonly WatchSettings _settings;
    private readonly ILogger<WatchHost> _log;

    private WatchHost(WatchSettings settings, WatchOutside outside, ControlSocket socket, WebApplication app, WatchService service, WatchMetrics metrics, ILogger<WatchHost> log) =>
        (_settings, _outside, _socket, _app, Service, _metrics, _log) = (settings, outside, socket, app, service, metrics, log);

    /// <summary>What turns.</summary>
    public WatchService Service { get; }

    /// <summary>Puts it together.</summary>
    /// <param name="settings">The settings.</param>
    /// <param name="plans">The plan of each desk, in the settings' order.</param>
    /// <param name="outside">What comes from outside.</param>
    /// <exception cref="CommandException">The control socket cannot be there (exit 69), or a sink cannot be (exit 65).</exception>
    public static async Task<WatchHost> Build(WatchSettings settings, IReadOnlyList<(PlanSource Source, WatchedPlan Plan)> plans, WatchOutside outside)
    {
        var socket = ControlSocket.Claim(settings.ControlSocket);
        try
        {
            return await Build(settings, plans, outside, socket);
        }
        catch
        {
            socket.Dispose();
            outside.History.Dispose();
            throw;
        }
    }

    /// <summary>Starts it and waits until it is ready.</summary>
    /// <exception cref="CommandException">An address cannot be listened at (exit 69).</exception>
    public async Task Start(CancellationToken cancel)
    {
        if (_settings.Messages is { } messages)
            Service.Messages = MessageListener.Open(messages, Service.Site.Desks, _outside.Clock, _log);
        _log.Started(string.Join(", ", Service.Site.Desks.Select(static desk => desk.Key)), _settings.Site, _outside.History.Place, _settings.ControlSocket);
        try
        {
            await _app.StartAsync(cancel);
            if (!OperatingSystem.IsWindows())
                File.SetUnixFileMode(_settings.ControlSocket, UnixFileMode.UserRead | UnixFileMode.UserWrite | (File.GetUnixFileMode(_settings.ControlSocket) & (UnixFileMode.GroupRead | UnixFileMode.GroupWrite)));
        }
        catch (Exception problem) when (problem is IOException or System.Net.Sockets.SocketException or UnauthorizedAccessException)
        {
            await Stop("a start that failed");
            throw new CommandException(ExitCodes.Unavailable, $"statewatch: cannot listen at {_settings.ControlSocket}{(_settings.Http is null ? "" : $" or {_settings.Http}")}: {problem.Message.TrimEnd('.')}. Another program may have the address, or this machine has none like it; choose other ones in the settings.");
        }

        await Service.WaitUntilReady(cancel);
    }

    /// <summary>Waits until somebody ends it.</summary>
    public Task WaitForEnd(CancellationToken cancel) => _app.WaitForShutdownAsync(cancel);

    /// <summary>Ends it in order.</summary>
    public Task Stop(string by)
    {
        Service.EndedBy = by;
        return _app.StopAsync(CancellationToken.None);
    }

    /// <summary>How everything stands.</summary>
    public StatusReport Report() => Report(Service, _outside, null)!;

    public async ValueTask DisposeAsync()
    {
        await _app.DisposeAsync();
        await Service.DisposeAsync();
        _metrics.Dispose();
        _socket.Dispose();
        await _outside.Log.DisposeAsync();
    }

    private static async Task<WatchHost> Build(WatchSettings settings, IReadOnlyList<(PlanSource Source, WatchedPlan Plan)> plans, WatchOutside outside, ControlSocket socket)
    {
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions { ApplicationName = "statewatch", ContentRootPath = AppContext.BaseDirectory });
        builder.Services.AddSerilog(outside.Log);
        using var factory = new SerilogLoggerFactory(outside.Log);
        var log = factory.CreateLogger<WatchHost>();
        var service = await Assemble(settings, plans, outside, log);
        var metrics = new WatchMetrics(service.Site, service.Sinks, service.Writer);
        foreach (var desk in service.Site.Desks)
        {
            var label = WatchMetrics.Label(desk.Key);
            desk.Decided = time => metrics.Decided(label, time);
        }

        AddServices(builder, settings, service, outside);
        Listen(builder, settings);
        var app = builder.Build();
        HealthRoutes.Guard(app, settings.HttpToken);
        app.UseRouting();
        HealthRoutes.Map(app, service.Site, service.Writer);
        ControlRoutes.Map(app, desk => Report(service, outside, desk), new ControlOrders(service.Site, log));
        if (settings.Http is not null)
            app.MapPrometheusScrapingEndpoint(HealthRoutes.Metrics);
        return new WatchHost(settings, outside, socket, app, service, metrics, log);
    }

    private static async Task<WatchService> Assemble(WatchSettings settings, IReadOnlyList<(PlanSource Source, WatchedPlan Plan)> plans, WatchOutside outside, Microsoft.Extensions.Logging.ILogger log)
    {
        var self = new SelfReports(log);
        var writer = new HistoryWriter(outside.History, self, log, outside.Clock);
        var parts = new WatchParts(writer, [.. settings.Sinks.Select(SinkLeast.Of)], self, new LoopReports(self, log), outside.Clock, log)
        {
            Recordings = settings.Record.Folder is { } folder ? new RecordingFolder(folder, settings.Record, settings.History.LeastFreeMegabytes, self, outside.Clock) : null,
        };
        WatchedDesk[] desks = [.. settings.Desks.Zip(plans, (desk, plan) => new WatchedDesk(desk, $"{settings.Site}/{desk.Name}", plan.Source, plan.Plan, parts))];
        var site = new WatchSite(settings.Site, desks, OpenOwn(writer.Memories.Load(DeskKey.OwnOf(settings.Site))));
        var slot = writer.AddSource(site.Own.Desk, site.TakeOwn);
        writer.Memories.WhenRead(site.Own.Desk, stored => site.RecallOwn(slot, stored, OpenOwn));
        var made = await WatchSinks.Make(settings, site, outside, log);
        var outbox = new PatientHistory(outside.History);
        SinkRunner[] sinks = [.. made.Select(sink => new SinkRunner(sink, outbox, site, self, outside.Clock, log))];
        return new WatchService(site, writer, sinks, self, outside, log);

        SelfWatch OpenOwn(StoredDesk? stored)
        {
            var own = new SelfWatch(settings.Site, outside.Clock, parts.Sinks, stored);
            self.HandTo(own, writer.Wake);
            return own;
        }
    }

    private static void AddServices(WebApplicationBuilder builder, WatchSettings settings, WatchService service, WatchOutside outside)
    {
        builder.Services.AddRoutingCore();
        // Whoever reads metrics slowly must not keep the last commit waiting.
        builder.Services.Configure<HostOptions>(static options => (options.ShutdownTimeout, options.ServicesStopConcurrently) = (EndsWithin, true));
        builder.Services.AddSingleton<IHostedService>(service);
        builder.Services.AddSingleton<IHostLifetime>(provider => new ServiceLifetime(provider.GetRequiredService<IHostApplicationLifetime>(), service, outside.TakesSignals));
        var isOtlp = !string.IsNullOrEmpty(Environment.GetEnvironmentVariable(OtlpEndpoint));
        if (settings.Http is null && !isOtlp)
            return;
        builder.Services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.AddService("statewatch", serviceVersion: typeof(WatchHost).Assembly.GetName().Version?.ToString(3), serviceInstanceId: settings.Site))
            .WithMetrics(metrics =>
            {
                metrics.AddMeter(WatchMetrics.MeterName).AddView(WatchMetrics.LatencyName, new ExplicitBucketHistogramConfiguration { Boundaries = LatencyBounds });
                if (settings.Http is not null)
                    metrics.AddPrometheusExporter();
                if (isOtlp)
                    metrics.AddOtlpExporter();
            });
    }

    private static void Listen(WebApplicationBuilder builder, WatchSettings settings) => builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
    {
        kestrel.AddServerHeader = false;
        kestrel.Limits.MaxRequestBodySize = 65_536;
        kestrel.Limits.MaxConcurrentConnections = 100;
        kestrel.ListenUnixSocket(settings.ControlSocket, static listen => listen.Use(next => connection =>
        {
            connection.Features.Set(new ControlConnection());
            return next(connection);
        }));
        if (settings.Http is { } http)
            kestrel.Listen(http);
    });

    private static StatusReport? Report(WatchService service, WatchOutside outside, string? desk)
    {
        WatchedDesk[] desks = [.. service.Site.Desks.Where(one => desk is null || one.Settings.Name == desk || one.Key == desk)];
        if (desks.Length == 0)
            return null;
        var own = service.Site.Own;
        return StatusReports.Make(service.Site.Name, new Moment(outside.Clock.GetElapsedTime(0), outside.Clock.GetUtcNow()), [.. desks.Select(static one => (one.Key, one.Loop.IsCurrent ? one.Loop.Status : null))],
            own.Desk, own.Stands(), [.. service.Sinks.Select(static sink => sink.State)], new HistoryReport(outside.History.Place, service.Writer.IsFailing));
    }
}
