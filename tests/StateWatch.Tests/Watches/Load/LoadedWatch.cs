using System.Collections;
using System.Diagnostics;
using System.Net;
using Serilog.Extensions.Logging;
using StateWatch.Alerts;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Hosting;
using StateWatch.Hosting.Settings;
using StateWatch.Links;
using StateWatch.Simulator;
using StateWatch.Tests.Hosting;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Watches.Load;

/// <summary>
/// Generated desks on loopback whose levels never rest, each watched by a loop of its own, with a real history and the log as sink: the loops, writer and runner
/// of the service, without its web server.
/// </summary>
internal sealed class LoadedWatch : IWatchedDesks, IAsyncDisposable
{
    private readonly ScratchFolder _folder = new();
    private readonly FakeReports _self = new();
    private readonly List<LoadedDesk> _desks = [];
    private readonly Serilog.Core.Logger _serilog = WatchLog.Open(new LogSettings(), new Hashtable(), TextWriter.Null);
    private readonly SerilogLoggerFactory _logs;
    private readonly SqliteHistory _history;
    private readonly HistoryWriter _writer;
    private readonly SinkRunner _sink;
    private readonly CancellationTokenSource _end = new();
    private Task _storm = Task.CompletedTask;
    private long _changes;

    public LoadedWatch(int desks)
    {
        _logs = new SerilogLoggerFactory(_serilog);
        var log = _logs.CreateLogger("watch");
        _history = new SqliteHistory(new HistoryOptions(_folder.PathOf("state")) { LeastFreeMegabytes = 0 }, TimeProvider.System);
        _writer = new HistoryWriter(_history, _self, log, TimeProvider.System);
        for (var number = 1; number <= desks; number++)
            _desks.Add(new LoadedDesk($"here/desk-{number}", _writer, new LoopReports(_self, log)));
        _sink = new SinkRunner(new LogSink("journal", log), _history, this, _self, TimeProvider.System, log);
        _writer.Stored = _ => _sink.Wake();
        _writer.Start();
        _sink.Start();
        foreach (var desk in _desks)
            desk.Loop.Start();
    }

    public IReadOnlyList<LoadedDesk> Desks => _desks;

    /// <summary>What went wrong in the watch itself.</summary>
    public IReadOnlyList<string> Wrong => _self.Standing;

    /// <summary>Changes made so far, at all desks.</summary>
    public long Changes => Volatile.Read(ref _changes);

    public long Commits => _writer.Commits;

    public IReadOnlyList<DeskStatus> Statuses => [.. _desks.Select(static desk => desk.Loop.Status).OfType<DeskStatus>()];

    public void Order(string desk, WatchOrder order) => _desks.First(one => one.Key == desk).Loop.Order(order);

    public void OrderAll(WatchOrder order) => _desks.ForEach(desk => desk.Loop.Order(order));

    /// <summary>From now on so many levels change a second at each desk, by less than what the plan tolerates.</summary>
    public void BeginStorm(int perSecond) => _storm = Task.Factory.StartNew(() => Storm(perSecond), TaskCreationOptions.LongRunning);

    public async Task EndStorm()
    {
        await _end.CancelAsync();
        await _storm;
    }

    public async ValueTask DisposeAsync()
    {
        await EndStorm();
        foreach (var desk in _desks)
            desk.Dispose();
        _writer.Stop(TimeSpan.FromSeconds(30));
        await _sink.DisposeAsync();
        _writer.Dispose();
        _history.Dispose();
        _logs.Dispose();
        await _serilog.DisposeAsync();
        _end.Dispose();
        _folder.Dispose();
    }

    private void Storm(int perSecond)
    {
        var random = new Random(7);
        var began = Stopwatch.GetTimestamp();
        for (long done = 0; !_end.IsCancellationRequested;)
        {
            for (var due = (long)(Stopwatch.GetElapsedTime(began).TotalSeconds * perSecond) - done; due > 0; due--, done++)
            {
                foreach (var desk in _desks)
                    desk.Move(random);
                Volatile.Write(ref _changes, _changes + _desks.Count);
            }

            Thread.Sleep(2);
        }
    }
}

/// <summary>One of them.</summary>
internal sealed class LoadedDesk : IDisposable
{
    private readonly UdpVirtualDesk _desk;
    private readonly WatchedPlan _plan;
    private readonly int[] _levels;
    private readonly bool[] _isMoved;
    private readonly SettingValue _planned;
    private readonly SettingValue _other;
    private IPEndPoint? _listens;

    public LoadedDesk(string key, HistoryWriter writer, LoopReports reports)
    {
        Key = key;
        _plan = GeneratedShow.Compile();
        var desk = new VirtualDesk(_plan.Profile);
        foreach (var (setting, value) in PlannedState.Of(_plan.For(Phase.Show, null)))
            desk.Set(setting, value);
        _desk = UdpVirtualDesk.Start(desk);
        _levels = [.. _plan.Profile.Settings.Where(static setting => setting.Path.EndsWith("/level", StringComparison.Ordinal)).Select(static setting => setting.Id)];
        _isMoved = new bool[_levels.Length];
        var codec = _plan.Profile.Settings[_levels[0]].Codec;
        Assert.True(codec.TryParse("-10 dB", out _planned, out _) & codec.TryParse("-10.4 dB", out _other, out _));
        Loop = new DeskLoop(writer.AddSlot(key), new StandingCopy(null), Begin, reports, TimeProvider.System);
    }

    public string Key { get; }

    public DeskLoop Loop { get; }

    public Latencies Latencies { get; } = new();

    /// <summary>Where its link listens.</summary>
    public IPEndPoint Listens => Volatile.Read(ref _listens)!;

    public int SettingCount => _plan.Profile.Settings.Count;

    /// <summary>Whether it is followed, and everything that the plan looks at is known.</summary>
    public bool IsVerified => Loop.Status is { Following: FollowPhase.Following, Coverage: { Planned: > 0, CannotTell: 0 } seen } && seen.Verified == seen.Planned;

    /// <summary>Keys of what is raised, without the desk's.</summary>
    public IReadOnlyList<string> Raised => [.. (Loop.Status?.Standing ?? []).Where(static finding => finding.Record.Level.Kind == LevelKind.Raised).Select(finding => finding.Record.Key[(Key.Length + 1)..])];

    /// <summary>Moves one level, to and fro.</summary>
    public void Move(Random random)
    {
        var level = random.Next(_levels.Length);
        _isMoved[level] = !_isMoved[level];
        _desk.Set(_levels[level], _isMoved[level] ? _other : _planned);
    }

    public void Switch(string path, bool isOn) => _desk.Set(_plan.Profile.Find(path), SettingValue.Switch(isOn));

    public void Dispose()
    {
        Loop.Stop("the test", TimeSpan.FromSeconds(30));
        Loop.Dispose();
        _desk.Dispose();
    }

    private DeskTurns Begin(StoredDesk? stored)
    {
        var reader = UdpDeskReader.Open(_plan.Profile, "127.0.0.1", _desk.EndPoint.Port);
        Volatile.Write(ref _listens, reader.LocalEndPoint);
        return new DeskTurns(new DeskWatch(Key, _plan, reader, [new LedgerSink("journal")], stored) { Decided = Latencies.Add });
    }
}
