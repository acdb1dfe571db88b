namespace StateWatch.Core.Findings;

/// <summary>What happened to a finding.</summary>
public enum LedgerEventKind : byte
{
    /// <summary>It went off plan.</summary>
    Drifted,

    /// <summary>It was back before it counted.</summary>
    Fleeting,

    /// <summary>A new episode.</summary>
    Raised,

    /// <summary>The last episode goes on.</summary>
    Reopened,

    /// <summary>It is on plan again, not yet for long enough.</summary>
    Recovering,

    /// <summary>It went off plan again before that counted.</summary>
    Relapsed,

    /// <summary>The episode is over; the text says why.</summary>
    Closed,

    /// <summary>Somebody knows.</summary>
    Acknowledged,

    /// <summary>The acknowledgement no longer counts; the text says why.</summary>
    AcknowledgementEnded,

    /// <summary>A hold began; the text names it, and says why where somebody did.</summary>
    HoldBegan,

    /// <summary>A hold ended; the text names it.</summary>
    HoldEnded,

    /// <summary>Nothing fresh is known of the whole desk; the text says why.</summary>
    ViewLost,

    /// <summary>The desk was seen and everything judged.</summary>
    ViewTaken,
}

/// <summary>A line of the journal: everything that happens to findings, told or not.</summary>
/// <param name="At">When.</param>
/// <param name="Key">site/desk/rule:subject; site/desk of the view.</param>
/// <param name="Episode">The episode; 0 before the first.</param>
/// <param name="Kind">What.</param>
/// <param name="By">Who, where somebody did it.</param>
/// <param name="Text">Which hold, or why.</param>
public sealed record LedgerEvent(Moment At, string Key, int Episode, LedgerEventKind Kind, string? By = null, string? Text = null);
