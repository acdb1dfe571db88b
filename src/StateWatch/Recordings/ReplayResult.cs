using StateWatch.Core.Watching;

namespace StateWatch.Recordings;

/// <summary>What a replay came to.</summary>
/// <param name="Header">What the recording began with.</param>
/// <param name="Zone">Where the show was.</param>
internal sealed record ReplayResult(RecordingHeader Header, TimeZoneInfo Zone)
{
    /// <summary>How many batches were played.</summary>
    public long Batches { get; set; }

    /// <summary>How many datagrams were in them.</summary>
    public long Datagrams { get; set; }

    /// <summary>How many orders were in them.</summary>
    public long Orders { get; set; }

    /// <summary>When the recording begins.</summary>
    public DateTimeOffset From { get; set; }

    /// <summary>When the last batch ended.</summary>
    public DateTimeOffset To { get; set; }

    /// <summary>Everything that was told, in order.</summary>
    public List<Alert> Told { get; } = [];

    /// <summary>How it stood in the end.</summary>
    public DeskStatus? Status { get; set; }

    /// <summary>Where what is told or in a journal first differs from what was recorded, in one line; null when it does not.</summary>
    public string? Difference { get; set; }

    /// <summary>Where what is stored besides first differs, in one line; null when it does not.</summary>
    public string? RestDifference { get; set; }

    /// <summary>The difference that is shown: of what people would notice, else of the rest.</summary>
    public string? FirstDifference => Difference ?? RestDifference;

    /// <summary>Whether it is what was recorded, as far as the recording goes.</summary>
    public bool IsIdentical => Fault is null && FirstDifference is null;

    /// <summary>What is wrong with the recording where it is broken; null when it could be read to its end, or to where it was cut off.</summary>
    public string? Fault { get; set; }

    /// <summary>How the recording ends where that was not in order, for people; null when it was.</summary>
    public string? Cut { get; set; }
}
