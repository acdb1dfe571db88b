using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Alerts;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;

namespace StateWatch.Tests.Alerts;

/// <summary>One sink with its outbox in virtual time, desks that note their orders, and the watch's own findings.</summary>
internal sealed class SinkBench : IWatchedDesks, ISelfReport
{
    private readonly Lock _gate = new();
    private readonly List<(string Desk, WatchOrder Order)> _orders = [];
    private readonly List<string> _reports = [];

    public SinkBench(IAlertSink? sink = null, SinkNumbers? numbers = null)
    {
        Sink = sink as ScriptedSink ?? new ScriptedSink();
        Telling = new SinkTelling(sink ?? Sink, History, this, this, Clock, NullLogger.Instance, numbers ?? new SinkNumbers());
    }

    public FakeTimeProvider Clock { get; } = new(Some.Start);

    public MemoryHistory History { get; } = new();

    public ScriptedSink Sink { get; }

    public SinkTelling Telling { get; }

    public IReadOnlyList<DeskStatus> Statuses { get; set; } = [];

    public IReadOnlyList<(string Desk, WatchOrder Order)> Orders
    {
        get
        {
            lock (_gate)
                return [.. _orders];
        }
    }

    /// <summary>What was reported and cleared, in order: <c>+id</c>, <c>-id</c>.</summary>
    public IReadOnlyList<string> Reports
    {
        get
        {
            lock (_gate)
                return [.. _reports];
        }
    }

    public Dictionary<string, AlertWords> Words { get; } = [];

    public void Order(string desk, WatchOrder order)
    {
        lock (_gate)
            _orders.Add((desk, order));
    }

    public void OrderAll(WatchOrder order) => Order("*", order);

    public void Report(string id, Severity severity, AlertWords words)
    {
        lock (_gate)
        {
            _reports.Add("+" + id);
            Words[id] = words;
        }
    }

    public void Clear(string id)
    {
        lock (_gate)
            _reports.Add("-" + id);
    }

    /// <summary>Does everything that is due now.</summary>
    public async Task<TimeSpan> Settle()
    {
        TimeSpan wait;
        do
            wait = await Telling.Step(TestContext.Current.CancellationToken);
        while (wait == TimeSpan.Zero);
        return wait;
    }

    /// <summary>Lets time pass, doing whatever becomes due at its time.</summary>
    public async Task Pass(TimeSpan span)
    {
        var end = Clock.GetUtcNow() + span;
        var wait = await Settle();
        while (Clock.GetUtcNow() + wait <= end)
        {
            Clock.Advance(wait);
            wait = await Settle();
        }

        Clock.Advance(end - Clock.GetUtcNow());
        await Settle();
    }
}
