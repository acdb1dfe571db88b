namespace StateWatch.Core.Findings;

/// <summary>The words of holds and reasons as people read them.</summary>
internal static class Words
{
    public static string Of(Holds hold) => hold switch
    {
        Holds.Settling => "settling",
        Holds.Inhibited => "inhibited",
        Holds.Expected => "expected",
        Holds.Shelved => "shelved",
        Holds.Damped => "damped",
        Holds.OutOfService => "out-of-service",
        _ => "none",
    };

    /// <summary>Who and why, where what is told came about by somebody or has a reason.</summary>
    public static (string? By, string? Why) Reason(TrackedFinding finding, Level told) => told.Kind switch
    {
        // It stands, and matters less than this sink is told.
        LevelKind.None when finding.Level.IsOpen && finding.Level.Episode == told.Episode => (null, "less-severe"),
        LevelKind.None => (null, Of(finding.ClosedFor)),
        LevelKind.Acknowledged => (finding.Acknowledgement?.By, null),
        LevelKind.Held when finding.Shelf is { } shelf => (shelf.By, $"{Of(Holds.Shelved)}: {shelf.Why}"),
        LevelKind.Held when finding.OutOfService is { } order => (order.By, $"{Of(Holds.OutOfService)}: {order.Why}"),
        LevelKind.Held => (null, Of(Holds.Expected)),
        _ => (null, null),
    };

    public static string Of(CloseReason reason) => reason switch
    {
        CloseReason.PlanChanged => "plan-changed",
        CloseReason.PhaseChanged => "phase-changed",
        _ => "recovered",
    };

    public static string Of(StaleReason reason) => reason switch
    {
        StaleReason.LinkLost => "link-lost",
        StaleReason.Gap => "gap",
        StaleReason.NewSession => "new-session",
        StaleReason.Restart => "restart",
        StaleReason.CannotTell => "cannot-tell",
        _ => "none",
    };
}
