using StateWatch.Commands;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Profiles;
using StateWatch.Core.Watching;
using StateWatch.Hosting.Settings;
using StateWatch.Links;
using StateWatch.Recordings;

namespace StateWatch.Hosting;

/// <summary>One desk of the watch: its plan and its loop.</summary>
internal sealed class WatchedDesk : IDisposable
{
    private readonly PlanSource _source;
    private readonly IReadOnlyList<LedgerSink> _sinks;
    private readonly ISelfReport _self;
    private readonly ILogger _log;
    private readonly RecordingFolder? _recordings;
    private readonly LoopReports _reports;
    private WatchedPlan _plan;

    /// <summary>Prepares one.</summary>
    /// <param name="settings">Its settings.</param>
    /// <param name="key">site/desk.</param>
    /// <param name="source">The files of its plan.</param>
    /// <param name="plan">The plan as read at the start.</param>
    /// <param name="parts">What it shares with the others.</param>
    public WatchedDesk(DeskSettings settings, string key, PlanSource source, WatchedPlan plan, WatchParts parts)
    {
        (Settings, Key, _source, _plan) = (settings, key, source, plan);
        (_sinks, _self, _log, _recordings, _reports) = (parts.Sinks, parts.Self, parts.Log, parts.Recordings, parts.Reports);
        var copy = new StandingCopy(parts.Writer.Memories.Load(key));
        IsFresh = copy.Stored is null && settings.Phase is null;
        (Schedule, Messages) = (ShowSchedule.Of(plan.Document), MessageOrders.Of(plan.Document));
        Loop = new DeskLoop(parts.Writer.AddSlot(key), copy, OpenWith(plan), parts.Reports, parts.Clock);
        parts.Writer.Memories.WhenRead(key, Loop.Recall);
    }

    /// <summary>Its settings.</summary>
    public DeskSettings Settings { get; }

    /// <summary>site/desk.</summary>
    public string Key { get; }

    /// <summary>Its loop.</summary>
    public DeskLoop Loop { get; }

    /// <summary>The plan that was taken last.</summary>
    public WatchedPlan Plan => Volatile.Read(ref _plan);

    /// <summary>Whether nobody has ever said which phase it is.</summary>
    public bool IsFresh { get; }

    /// <summary>When phases and cues begin by the clock; null when the plan does not say.</summary>
    public ShowSchedule? Schedule { get; private set; }

    /// <summary>The messages by which they begin; null when the plan has none.</summary>
    public MessageOrders? Messages { get; private set; }

    /// <summary>Called on the loop's thread with the time from a datagram to the decision.</summary>
    public Action<TimeSpan>? Decided { get; set; }

    /// <summary>Whether files of the plan have changed.</summary>
    public bool HasChanged() => _source.HasChanged();

    /// <summary>Reads the plan anew. With a fault the one before goes on, and that is told. Not on the loop's thread, and for one thread at a time.</summary>
    /// <param name="by">Who or what asked for it.</param>
    /// <param name="isForced">Whether it is taken though it says the same.</param>
    public void Reload(string by, bool isForced)
    {
        string? fault;
        WatchedPlan? plan = null;
        try
        {
            var reading = _source.Read();
            (plan, fault) = (reading.Plan, reading.Fault);
        }
        catch (CommandException problem)
        {
            fault = problem.Message;
        }
#pragma warning disable CA1031 // A plan that makes the program fail is no reason to end the watch of the one before.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            _log.RoundFailed(problem);
            fault = $"reading it failed ({problem.GetType().Name}); that is a fault of the program, please report it with the plan";
        }

        if (plan is null)
        {
            _log.PlanRefused(_source.Path, Key, fault ?? "it cannot be used");
            Loop.Order(new ReloadOrder(null, fault, by));
            _self.Report($"plan-refused:{Settings.Name}", Severity.Warning, new AlertWords("plan-refused", $"{_source.Path} has a fault, so the plan before goes on: {fault}",
                "What was meant to change is not watched.", $"Put it right; 'statewatch check {_source.Path}' tells all its faults. It is read again when it changes."));
            return;
        }

        _self.Clear($"plan-refused:{Settings.Name}");
        if (plan.Fingerprint == _plan.Fingerprint && !isForced)
            return;
        var before = _plan;
        Volatile.Write(ref _plan, plan);
        (Schedule, Messages) = (ShowSchedule.Of(plan.Document), MessageOrders.Of(plan.Document));
        if (ReferenceEquals(plan.Profile, before.Profile))
            Loop.Order(new ReloadOrder(plan, null, by));
        Loop.Use(OpenWith(plan), isAtOnce: !ReferenceEquals(plan.Profile, before.Profile));
        _log.PlanTaken(_source.Path, Key, by);
    }

    public void Dispose() => Loop.Dispose();

    private Func<StoredDesk?, IWatchTurns> OpenWith(WatchedPlan plan) => stored =>
    {
        var reader = Open(plan.Profile);
        try
        {
            var phase = stored is null ? Settings.Phase : null;
            var watch = new DeskWatch(Key, plan, reader, _sinks, stored, phase) { Decided = time => Decided?.Invoke(time), RuleFailed = (rule, problem) => _reports.RuleFailed(Key, rule, problem) };
            var recording = _recordings?.Begin(RecordingWriter.HeaderOf(Key, plan, reader, _sinks, stored, phase));
            watch.Tape = recording;
            return new DeskTurns(watch, recording);
        }
        catch
        {
            reader.Dispose();
            throw;
        }
    };

    private UdpDeskReader Open(DeskProfile profile) => SharedOptions.Open(Settings.Address, profile);
}

/// <summary>What all desks of a watch share.</summary>
/// <param name="Writer">Who stores.</param>
/// <param name="Sinks">Those who are told.</param>
/// <param name="Self">Who is told what goes wrong in the watch.</param>
/// <param name="Reports">What goes wrong in loops.</param>
/// <param name="Clock">The time.</param>
/// <param name="Log">The log.</param>
internal sealed record WatchParts(HistoryWriter Writer, IReadOnlyList<LedgerSink> Sinks, ISelfReport Self, LoopReports Reports, TimeProvider Clock, ILogger Log)
{
    /// <summary>Where watches are recorded, or null.</summary>
    public RecordingFolder? Recordings { get; init; }
}
