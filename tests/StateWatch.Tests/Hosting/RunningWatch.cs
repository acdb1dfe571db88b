using System.Collections;
using System.Net;
using StateWatch.Alerts;
using StateWatch.Control;
using StateWatch.Core.Plans;
using StateWatch.History;
using StateWatch.Hosting;
using StateWatch.Hosting.Settings;
using StateWatch.Links;
using StateWatch.Tests.Alerts;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Hosting;

/// <summary>A whole watch in this process: the demo show on a virtual desk over loopback, its history in a folder, one sink that takes everything.</summary>
internal sealed class RunningWatch : IAsyncDisposable
{
    private readonly CancellationTokenSource _limit = new(TimeSpan.FromSeconds(90));
    private readonly StringWriter _log = new();

    private RunningWatch(ScratchFolder folder, ShowPlan plan, UdpVirtualDesk desk, WatchSettings settings)
    {
        (Folder, Plan, Desk, Settings) = (folder, plan, desk, settings);
        Notifier = new FakeNotifier();
    }

    public ScratchFolder Folder { get; }

    public ShowPlan Plan { get; }

    public UdpVirtualDesk Desk { get; }

    public WatchSettings Settings { get; }

    public FakeNotifier Notifier { get; }

    public ScriptedSink Sink { get; } = new();

    public WatchHost Host { get; private set; } = null!;

    public string PlanPath => Settings.Desks[0].Plan;

    public string Log => _log.ToString();

    public static async Task<RunningWatch> Start(IPEndPoint? http = null, string? token = null, Func<IWatchHistory, IWatchHistory>? history = null, Func<string, string>? edit = null, RecordSettings? record = null)
    {
        var folder = new ScratchFolder();
        folder.Write("larch-48.desk.yaml", await File.ReadAllTextAsync(ShippedFiles.Desk));
        var text = (await File.ReadAllTextAsync(ShippedFiles.Plan)).Replace("../desks/", "", StringComparison.Ordinal);
        var path = folder.Write("midwinter.plan.yaml", edit?.Invoke(text) ?? text);
        var plan = DemoShow.Compile();
        var desk = UdpVirtualDesk.Start(DemoShow.Desk(plan));
        var settings = new WatchSettings("here", [new DeskSettings("midwinter", path) { Address = desk.EndPoint.ToString(), Phase = Phase.Doors }])
        {
            History = new HistoryOptions(folder.PathOf("state")),
            ControlSocket = folder.PathOf("run/control.sock"),
            Http = http,
            HttpToken = token,
            Messages = new IPEndPoint(IPAddress.Loopback, 0),
            Sinks = [new SinkSettings { Name = "light", Kind = "log" }],
            Record = record ?? new RecordSettings(),
        };
        var watch = new RunningWatch(folder, plan, desk, settings);
        await watch.Begin(history);
        return watch;
    }

    /// <summary>Begins it, or begins it anew from what is stored.</summary>
    public async Task Begin(Func<IWatchHistory, IWatchHistory>? history = null)
    {
        var source = new PlanSource(PlanPath);
        IWatchHistory store = new SqliteHistory(Settings.History, TimeProvider.System);
        var outside = new WatchOutside(history?.Invoke(store) ?? store, WatchLog.Open(Settings.Log, new Hashtable(), TextWriter.Synchronized(_log)))
        {
            MakeSink = (_, _) => ValueTask.FromResult(new SinkOffer(Sink, [])),
            Notifier = Notifier,
            TakesSignals = false,
            IsClockSynchronised = static () => true,
        };
        Host = await WatchHost.Build(Settings, [(source, source.Read().Plan!)], outside);
        await Host.Start(_limit.Token);
    }

    public void Set(string path, string text) => Desk.Use(desk =>
    {
        var id = Plan.Profile.Find(path);
        Assert.True(id >= 0, path);
        Assert.True(Plan.Profile.Settings[id].Codec.TryParse(text, out var value, out var problem), problem);
        desk.Set(id, value);
        return true;
    });

    /// <summary>Waits until the report is as wanted.</summary>
    public async Task<StatusReport> Until(Func<StatusReport, bool> holds)
    {
        while (true)
        {
            var report = Host.Report();
            if (holds(report))
                return report;
            if (_limit.IsCancellationRequested)
                Assert.Fail($"it never came about:\n{StatusText.Write(report)}\n{Log}");
            await Task.Delay(20, CancellationToken.None);
        }
    }

    public async Task UntilTold(Func<WaitingAlert, bool> isMeant)
    {
        while (!Sink.TakenIds.Any() || !Snapshot().Any(isMeant))
        {
            if (_limit.IsCancellationRequested)
                Assert.Fail($"it was never told: {string.Join(' ', Sink.TakenIds)}\n{Log}");
            await Task.Delay(20, CancellationToken.None);
        }

        WaitingAlert[] Snapshot() => [.. Sink.Taken];
    }

    public Task<(int ExitCode, string Output, string Errors)> Say(params string[] args) => StatewatchProcess.Run([.. args, "--socket", Settings.ControlSocket]);

    public async Task End()
    {
        await Host.Stop("the test");
        await Host.DisposeAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await End();
        Desk.Dispose();
        _limit.Dispose();
        await _log.DisposeAsync();
        Folder.Dispose();
    }
}
