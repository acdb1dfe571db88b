namespace StateWatch.History;

/// <summary>Where the history is kept, and how much of it. What still stands and what still waits for a sink is kept whatever these say.</summary>
/// <param name="Folder">The folder; it is made when it is not there.</param>
internal sealed record HistoryOptions(string Folder)
{
    /// <summary>Nothing is kept longer than so many days; 1 to 36,500. 90 by default: a quarter of weekly shows, three times what figures of alarm load want.</summary>
    public int KeepDays { get; init; } = 90;

    /// <summary>Both files together are to hold no more than so many MB (10^6 bytes); 1 or more. 1,000 by default.</summary>
    public int MostMegabytes { get; init; } = 1000;

    /// <summary>At least so many MB of the disk stay free; 0 or more. 500 by default.</summary>
    public int LeastFreeMegabytes { get; init; } = 500;

    /// <summary>What is wrong with them, with what to write instead; null when nothing is.</summary>
    public string? Fault =>
        string.IsNullOrWhiteSpace(Folder) ? "the folder of the history is empty; write a path, such as /var/lib/statewatch."
        : KeepDays is < 1 or > 36_500 ? $"the history cannot keep {KeepDays} days; write 1 to 36500, such as 90."
        : MostMegabytes < 1 ? $"the history cannot be held to {MostMegabytes} MB; write 1 or more, such as 1000."
        : LeastFreeMegabytes < 0 ? $"{LeastFreeMegabytes} MB cannot stay free; write 0 or more, such as 500."
        : null;
}
