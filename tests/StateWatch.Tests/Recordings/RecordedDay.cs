using System.Text.Json;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Hosting;
using StateWatch.Recordings;
using StateWatch.Simulator;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Recordings;

/// <summary>The demo show watched in virtual time while anything may happen to desk, wire, plan and sinks, and recorded meanwhile.</summary>
internal sealed class RecordedDay : IDisposable
{
    private static readonly WireFaults Lossy = new()
    {
        Loss = 0.02,
        Duplicates = 0.03,
        Reordered = 0.05,
        DelayLeast = TimeSpan.FromMilliseconds(1),
        DelayMost = TimeSpan.FromMilliseconds(15),
    };

    private static readonly LedgerSink[] Sinks = ["light", new LedgerSink("phone", Core.Auditing.Severity.Warning)];
    private static readonly WatchedPlan Plan = Read(ShippedFiles.Plan, new PlanSource(ShippedFiles.Plan));
    private static readonly string[] Switches = [.. Plan.For(Phase.Show, null).Expectations.Select(static one => Plan.Profile.Settings[one.Setting]).Where(static setting => setting.Codec.TryParse("off", out _, out _)).Select(static setting => setting.Path)];

    private readonly ScratchFolder _folder = new();
    private readonly Random _random;
    private readonly VirtualDesk _desk = DemoShow.Desk(Plan.For(Phase.Show, null));
    private readonly VirtualClock _clock = new(new DateTimeOffset(2026, 12, 6, 9, 0, 0, TimeSpan.Zero));
    private readonly List<Announcement> _waiting = [];
    private readonly List<WatchOutput> _outputs = [];
    private readonly PlanSource _source;
    private readonly string _planText = File.ReadAllText(ShippedFiles.Plan).Replace("../desks/", "", StringComparison.Ordinal);
    private DeskWatch _watch = null!;
    private MemoryDeskReader _link = null!;
    private RecordingWriter _recording = null!;
    private MemoryStream _stream = null!;
    private int _edits;

    public RecordedDay(int seed)
    {
        _random = new Random(seed);
        _folder.Write("larch-48.desk.yaml", File.ReadAllText(ShippedFiles.Desk));
        _source = new PlanSource(_folder.Write("midwinter.plan.yaml", _planText));
        Begin(Read("midwinter.plan.yaml", _source), null);
    }

    /// <summary>Lives through a part of it.</summary>
    public void Run(int happenings)
    {
        for (var i = 0; i < happenings; i++)
        {
            Happen(_random.Next(20));
            var until = _clock.GetTimestamp() + TimeSpan.FromMilliseconds(_random.Next(4000)).Ticks;
            while (_clock.GetTimestamp() < until)
            {
                _watch.Next(TimeSpan.FromMilliseconds(_random.Next(1, 300)));
                if (_random.Next(3) > 0)
                    Take();
            }
        }
    }

    /// <summary>Ends this recording, and compares it with its replay.</summary>
    /// <param name="isInOrder">Whether the watch ends in order; else it is as if it was killed.</param>
    public void ReplayIsTheSame(bool isInOrder)
    {
        if (isInOrder)
            _watch.End("the test");
        if (isInOrder || _random.Next(2) == 0)
            Take();
        _watch.Tape = null;
        var bytes = Bytes();
        Take();
        var replayed = new List<WatchOutput>();
        var (result, fault) = ReplayRun.Of(new MemoryStream(bytes), replayed.Add);
        Assert.Null(fault);
        Assert.True(result!.IsIdentical, result.FirstDifference);
        Assert.Equal(isInOrder, result.Cut is null);
        Assert.NotEmpty(replayed);
        Assert.Equal(_outputs.SelectMany(OutputLines.Of), replayed.SelectMany(OutputLines.Of));
        Assert.Equal(_outputs.Sum(static output => output.Alerts.Count), result.Told.Count);
        Assert.Equal(Written(_watch.Status), Written(result.Status!));
    }

    /// <summary>Another watch goes on from what is stored, and is recorded anew.</summary>
    public void Restart()
    {
        var stored = _watch.Export();
        _watch.Dispose();
        Begin(Read("midwinter.plan.yaml", _source), stored);
    }

    public byte[] Bytes()
    {
        _recording.Dispose();
        return _stream.ToArray();
    }

    public void Dispose()
    {
        _watch.Dispose();
        _recording.Dispose();
        _stream.Dispose();
        _folder.Dispose();
    }

    private static WatchedPlan Read(string name, PlanSource source)
    {
        var reading = source.Read();
        Assert.True(reading.Plan is not null, $"{name}: {reading.Fault}");
        return reading.Plan;
    }

    private void Begin(WatchedPlan plan, StoredDesk? stored)
    {
        _outputs.Clear();
        _stream = new MemoryStream();
        _link = new MemoryDeskReader(_desk, Lossy, Lossy, (ulong)_random.NextInt64(), _clock);
        var phase = stored is null ? Phase.Show : (Phase?)null;
        _watch = new DeskWatch("chapel/midwinter", plan, _link, Sinks, stored, phase);
        _recording = new RecordingWriter(new RecordingStream(_stream), RecordingWriter.HeaderOf("chapel/midwinter", plan, _link, Sinks, stored, phase));
        _watch.Tape = _recording;
    }

    private void Happen(int kind)
    {
        switch (kind)
        {
            case 0:
                _desk.Silent = !_desk.Silent;
                break;
            case 1:
                _watch.Order(new PhaseOrder((Phase)_random.Next(4), "Ada"));
                break;
            case 2:
                foreach (var (setting, value) in PlannedState.Of(_watch.Plan.For(Phase.Show, null)))
                    _desk.Set(setting, value);
                _desk.Silent = false;
                break;
            case 3:
                _watch.Order(new SinkOrder("phone", _random.Next(2) == 0, _random.Next(2) == 0));
                break;
            case 4:
                Reload();
                break;
            case 5 when Key() is { } key:
                _watch.Order(new AcknowledgeOrder(key, "Ada"));
                break;
            case 6 when Key() is { } key:
                _watch.Order(new HoldFindingOrder(key, "Ada", "we know", _random.Next(2) == 0 ? null : TimeSpan.FromSeconds(_random.Next(1, 60)), _random.Next(2) == 0));
                break;
            case 7 when Key() is { } key:
                _watch.Order(new ReleaseOrder(key, "Ada"));
                break;
            case 8:
                _watch.Order(new CueOrder(_random.Next(2) == 0 ? "nowhere" : null, "Ada"));
                break;
            case 9:
                var garbage = new byte[_random.Next(100)];
                _random.NextBytes(garbage);
                _link.SendUnasked(garbage);
                _link.SendForeign(garbage);
                break;
            case < 13:
                for (var i = 0; i < 30; i++)
                    Turn();
                break;
            default:
                Turn();
                break;
        }

        foreach (var told in _waiting.Where(_ => _random.Next(2) == 0).ToList())
        {
            _waiting.Remove(told);
            _watch.Order(new DeliveredOrder(told));
        }
    }

    private string? Key() => _watch.Status.Standing is { Count: > 0 } standing ? standing[_random.Next(standing.Count)].Record.Key : null;

    private void Turn()
    {
        var setting = _desk.Profile.Settings[_desk.Profile.Find(Switches[_random.Next(Switches.Length)])];
        Assert.True(setting.Codec.TryParse(_random.Next(2) == 0 ? "on" : "off", out var value, out _));
        _desk.Set(setting.Id, value);
    }

    private void Reload()
    {
        if (_random.Next(3) == 0)
        {
            _watch.Order(new ReloadOrder(null, "line 1 is nonsense", "file"));
            return;
        }

        _folder.Write("midwinter.plan.yaml", _random.Next(2) == 0 ? _planText : $"{_planText}# {_edits++}\n".Replace("low-cut: on", "low-cut: off", StringComparison.Ordinal));
        _watch.Order(new ReloadOrder(Read("midwinter.plan.yaml", _source), null, "file"));
    }

    private void Take()
    {
        if (_watch.Take() is not { } output)
            return;
        _outputs.Add(output);
        _waiting.AddRange(output.Alerts.Select(static alert => alert.Told));
    }

    private static string Written(DeskStatus status) =>
        $"{status with { Standing = [], Cues = [] }} {string.Join('\n', status.Standing.Select(static finding => $"{JsonSerializer.Serialize(finding.Record, StoredJson.Default.FindingRecord)} {finding.Words}"))}";
}
