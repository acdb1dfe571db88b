namespace StateWatch.Hosting;

/// <summary>When to try again to store or to read what is stored: at once, then after 1, 2, 5 and 10 s, then every 10 s. For one thread.</summary>
/// <param name="clock">The time.</param>
internal sealed class StorePace(TimeProvider clock)
{
    private static readonly TimeSpan[] Pauses = [.. new[] { 1, 2, 5, 10 }.Select(static seconds => TimeSpan.FromSeconds(seconds))];
    private int _failures;
    private long _failed;

    /// <summary>Whether the next try is due.</summary>
    public bool IsDue => _failures == 0 || clock.GetElapsedTime(_failed) >= Pauses[Math.Min(_failures, Pauses.Length) - 1];

    public void Fail() => (_failures, _failed) = (_failures + 1, clock.GetTimestamp());

    public void Succeed() => _failures = 0;
}
