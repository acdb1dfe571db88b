namespace StateWatch.Alerts;

/// <summary>How long to wait after each failure in a row.</summary>
internal sealed class RetryPace(SinkNumbers numbers)
{
    private int _failures;

    /// <summary>Notes a failure.</summary>
    /// <param name="after">What the receiver asked for; it wins, as long as it is within reason.</param>
    /// <returns>How long to wait.</returns>
    public TimeSpan Fail(TimeSpan? after)
    {
        var wait = numbers.Retries[Math.Min(_failures, numbers.Retries.Count - 1)];
        _failures++;
        return after is { } asked ? Within(asked) : wait;
    }

    /// <summary>What a receiver asked for, within reason.</summary>
    public TimeSpan Within(TimeSpan asked) => asked < numbers.Retries[0] ? numbers.Retries[0] : asked > numbers.LongestAfter ? numbers.LongestAfter : asked;

    /// <summary>Notes a success.</summary>
    public void Succeed() => _failures = 0;
}
