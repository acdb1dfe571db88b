using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Recordings;

/// <summary>An order as it is recorded: which one, and what it says; everything that it does not say is null.</summary>
/// <param name="Kind">Which one.</param>
internal sealed record RecordedOrder(OrderKind Kind)
{
    public string? By { get; init; }

    public Phase? Phase { get; init; }

    public string? Cue { get; init; }

    public string? Key { get; init; }

    public string? Why { get; init; }

    public TimeSpan? Span { get; init; }

    public bool? IsOneShot { get; init; }

    public RecordedPlan? Plan { get; init; }

    public string? Fault { get; init; }

    public Announcement? Announcement { get; init; }

    public string? Sink { get; init; }

    public bool? IsUp { get; init; }

    public bool? HasLostWaiting { get; init; }

    /// <summary>What is recorded of an order.</summary>
    public static RecordedOrder Of(WatchOrder order) => order switch
    {
        PhaseOrder one => new(OrderKind.Phase) { Phase = one.Phase, By = one.By },
        CueOrder one => new(OrderKind.Cue) { Cue = one.Cue, By = one.By },
        AcknowledgeOrder one => new(OrderKind.Acknowledge) { Key = one.Key, By = one.By },
        HoldFindingOrder one => new(OrderKind.Hold) { Key = one.Key, By = one.By, Why = one.Why, Span = one.Span, IsOneShot = one.IsOneShot },
        ReleaseOrder one => new(OrderKind.Release) { Key = one.Key, By = one.By },
        ReloadOrder one => new(OrderKind.Reload) { Plan = one.Plan is { } plan ? RecordedPlan.Of(plan) : null, Fault = one.Fault, By = one.By },
        DeliveredOrder one => new(OrderKind.Delivered) { Announcement = one.Announcement },
        SinkOrder one => new(OrderKind.Sink) { Sink = one.Sink, IsUp = one.IsUp, HasLostWaiting = one.HasLostWaiting },
        _ => throw new ArgumentOutOfRangeException(nameof(order)),
    };

    /// <summary>The order again; null when something that it must say is missing.</summary>
    /// <param name="read">Reads a plan from texts; null when it has a fault.</param>
    public WatchOrder? ToOrder(Func<RecordedPlan, WatchedPlan?> read) => Kind switch
    {
        OrderKind.Phase when Phase is { } phase && By is not null && Enum.IsDefined(phase) => new PhaseOrder(phase, By),
        OrderKind.Cue when By is not null => new CueOrder(Cue, By),
        OrderKind.Acknowledge when Key is not null && By is not null => new AcknowledgeOrder(Key, By),
        OrderKind.Hold when Key is not null && By is not null && Why is not null => new HoldFindingOrder(Key, By, Why, Span, IsOneShot ?? false),
        OrderKind.Release when Key is not null && By is not null => new ReleaseOrder(Key, By),
        OrderKind.Reload when By is not null => Plan is null ? new ReloadOrder(null, Fault, By) : read(Plan) is { } plan ? new ReloadOrder(plan, Fault, By) : null,
        OrderKind.Delivered when Announcement is { Sink: not null, Key: not null, Members: not null } told => new DeliveredOrder(told),
        OrderKind.Sink when Sink is not null && IsUp is { } isUp => new SinkOrder(Sink, isUp, HasLostWaiting ?? false),
        _ => null,
    };
}

/// <summary>The kinds of orders.</summary>
internal enum OrderKind : byte
{
    None,
    Phase,
    Cue,
    Acknowledge,
    Hold,
    Release,
    Reload,
    Delivered,
    Sink,
}
