namespace StateWatch.Alerts;

/// <summary>How a sink stands; a copy that anybody may read.</summary>
/// <param name="Name">Its name in the settings.</param>
/// <param name="Place">Where it sends to; no secrets.</param>
internal sealed record SinkStatus(string Name, string Place)
{
    /// <summary>Whether it takes things; false from the first failure until the next success.</summary>
    public bool IsUp { get; init; } = true;

    /// <summary>Whether nothing is sent any more until the watch is restarted, because the receiver said that it is gone for good.</summary>
    public bool IsStopped { get; init; }

    /// <summary>How many alerts wait for it, as of a second ago; those in memory are in it.</summary>
    public int Waiting { get; init; }

    /// <summary>Those of them that could not be recorded.</summary>
    public int Unrecorded { get; init; }

    /// <summary>How many alerts it has taken since the start.</summary>
    public long Delivered { get; init; }

    /// <summary>How many tries failed since the start, beats included.</summary>
    public long Failed { get; init; }

    /// <summary>How many alerts were thrown away since the start because too many waited.</summary>
    public long ThrownAway { get; init; }

    /// <summary>When it last took an alert; null when it has not since the start.</summary>
    public DateTimeOffset? LastDelivered { get; init; }

    /// <summary>When it last took an alert or a beat; null when it has not since the start.</summary>
    public DateTimeOffset? LastTaken { get; init; }

    /// <summary>Why the last try failed; null when there was none since the start.</summary>
    public string? LastError { get; init; }

    /// <summary>When the last try failed.</summary>
    public DateTimeOffset? LastFailed { get; init; }

    /// <summary>When it is tried again; null when it takes things.</summary>
    public DateTimeOffset? NextTry { get; init; }
}
