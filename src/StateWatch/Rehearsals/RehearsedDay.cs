using StateWatch.Commands;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.Recordings;
using StateWatch.Simulator;
using StateWatch.Simulator.Scenarios;

namespace StateWatch.Rehearsals;

/// <summary>
/// A scenario lived through in virtual time: the watch as it is, a virtual desk, hands that do what is written, and a listener who is told.
/// The same scenario always gives the same day.
/// </summary>
internal sealed class RehearsedDay : IDisposable
{
    /// <summary>The one sink of a rehearsal.</summary>
    public const string Listener = "listener";

    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(1);

    private readonly Scenario _scenario;
    private readonly MemoryDeskReader _link;
    private readonly ScriptedHands _hands;
    private readonly DeskWatch _watch;
    private readonly Queue<Happening> _orders;
    private readonly ShowSchedule? _schedule;
    private readonly RecordingHeader _header;
    private ScheduledChange? _scheduled;
    private RecordingWriter? _recording;

    /// <summary>Prepares the day.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="plan">Its plan; it has no faults.</param>
    /// <param name="desk">site/desk.</param>
    public RehearsedDay(Scenario scenario, WatchedPlan plan, string desk)
    {
        var zone = plan.Document.Zone ?? TimeZoneInfo.Utc;
        Clock = new ShowClock(zone);
        var start = Clock.InstantOf(scenario.Begins);
        _scenario = Even(scenario, start);
        var phase = scenario.Phase ?? plan.Document.SweepPhase ?? Phase.Show;
        var virtualDesk = DeskRehearsal.MakeDesk(plan.For(phase, null));
        _link = new MemoryDeskReader(virtualDesk, clock: new VirtualClock(start.ToUniversalTime()));
        _hands = new ScriptedHands(_scenario, virtualDesk, cue => PlannedState.Of(plan.For(Phase.Show, cue)));
        LedgerSink[] sinks = [new LedgerSink(Listener, Severity.Warning)];
        _watch = new DeskWatch(desk, plan, _link, sinks, stored: null, scenario.Phase);
        _header = RecordingWriter.HeaderOf(desk, plan, _link, sinks, stored: null, scenario.Phase);
        _schedule = ShowSchedule.Of(plan.Document, zone);
        _scheduled = _schedule?.Next(start);
        _orders = new Queue<Happening>(_scenario.Happenings.Where(static one => one.Phase is not null || one.Cue is not null || one.Acknowledge is not null || one.PutAside is not null));
    }

    /// <summary>The clock where the show is.</summary>
    public ShowClock Clock { get; }

    /// <summary>Everything that was told, in order.</summary>
    public List<Alert> Told { get; } = [];

    /// <summary>Orders that were refused, with why.</summary>
    public List<string> Refused { get; } = [];

    /// <summary>How often somebody moved something.</summary>
    public long Moves => _hands.Moves;

    /// <summary>Records the day, from its beginning; before <see cref="Run"/>.</summary>
    /// <param name="stream">Where to; closed with the day.</param>
    /// <exception cref="IOException">It cannot be written; so for <see cref="Run"/>.</exception>
    public void RecordTo(Stream stream) => _watch.Tape = _recording = new RecordingWriter(new RecordingStream(stream), _header, patience: 3600);

    /// <summary>Lives through the day.</summary>
    /// <param name="progress">Told once in a while how much of it is over, from 0 to 1; null for nobody.</param>
    /// <param name="cancel">Ends it before its time.</param>
    public void Run(Action<double>? progress = null, CancellationToken cancel = default)
    {
        var begins = _link.Clock.GetTimestamp();
        var length = _scenario.Ends - _scenario.Begins;
        for (var batch = 0L; !cancel.IsCancellationRequested; batch++)
        {
            var elapsed = TimeSpan.FromTicks(_link.Clock.GetTimestamp() - begins);
            if (elapsed >= length)
                break;
            var now = _scenario.Begins + elapsed;
            _hands.Act(now);
            Give(now);
            GiveScheduled();
            var next = Earliest(now + Longest, _scenario.Ends, _hands.NextDue, _orders.TryPeek(out var order) ? order.At : null);
            _watch.Next(next - now);
            Take();
            if (batch % 4096 == 0)
                progress?.Invoke(elapsed / length);
        }

        _watch.End("the scenario");
        Take();
    }

    /// <summary>Ends the recording, if there is one; after <see cref="Run"/>.</summary>
    /// <exception cref="IOException">It cannot be written to its end.</exception>
    public void EndRecording()
    {
        var recording = _recording;
        (_recording, _watch.Tape) = (null, null);
        recording?.Dispose();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        try
        {
            EndRecording();
        }
        catch (IOException)
        {
            // What cannot be written was told when it could not for the first time.
        }

        _watch.Dispose();
    }

    // The scenario by a clock that never jumps, which shows the same when it begins: that is the time which passes for the desk and for hands on it.
    private Scenario Even(Scenario scenario, DateTimeOffset start)
    {
        return scenario with { Ends = EvenTime(scenario.Ends), Happenings = [.. scenario.Happenings.Select(one => one with { At = EvenTime(one.At) })] };

        DateTime EvenTime(DateTime shown) => scenario.Begins + (Clock.InstantOf(shown) - start);
    }

    private void Give(DateTime now)
    {
        while (_orders.TryPeek(out var order) && order.At <= now)
        {
            _ = _orders.Dequeue();
            const string By = "the scenario";
            if (order.Phase is { } phase)
                Order(new PhaseOrder(phase, By) { Reply = Answer });
            if (order.Cue is { } cue)
                Order(new CueOrder(cue == "none" ? null : cue, By) { Reply = Answer });
            if (order.Acknowledge is { } known)
                Order(new AcknowledgeOrder(known, By) { Reply = Answer });
            if (order.PutAside is { } aside)
                Order(new HoldFindingOrder(aside, By, order.Say.Length == 0 ? "the scenario says so" : order.Say, null, false) { Reply = Answer });

            void Answer(OrderResult result)
            {
                if (!result.IsDone)
                    Refused.Add($"{order.Place}: {result.Text}");
            }
        }
    }

    private void GiveScheduled()
    {
        while (_scheduled is { } due && due.At <= _link.Clock.GetUtcNow())
        {
            Order(due.Order());
            _scheduled = _schedule!.Next(due.At);
        }
    }

    private void Order(WatchOrder order) => _watch.Order(order);

    private void Take()
    {
        if (_watch.Take() is not { } output)
            return;
        Told.AddRange(output.Alerts);
        foreach (var alert in output.Alerts)
            Order(new DeliveredOrder(alert.Told));
    }

    private static DateTime Earliest(DateTime one, params ReadOnlySpan<DateTime?> others)
    {
        foreach (var other in others)
            one = other < one ? other.Value : one;
        return one;
    }
}
