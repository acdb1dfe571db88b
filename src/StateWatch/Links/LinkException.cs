namespace StateWatch.Links;

/// <summary>A link could not be opened. Says what, where, why and what to do; the message is all four in one sentence each.</summary>
public sealed class LinkException : Exception
{
    /// <summary>Makes one.</summary>
    /// <param name="what">What could not be done, without a full stop: <c>cannot reach the desk</c>.</param>
    /// <param name="where">The address: <c>192.0.2.10:9000</c>.</param>
    /// <param name="why">Why, without a full stop.</param>
    /// <param name="advice">What to do, without a full stop.</param>
    /// <param name="inner">What the network said, if it did.</param>
    public LinkException(string what, string where, string why, string advice, Exception? inner = null)
        : base($"{where}: {what}: {why}; {advice}", inner)
    {
        What = what;
        Where = where;
        Why = why;
        Advice = advice;
    }

    public string What { get; }

    public string Where { get; }

    public string Why { get; }

    public string Advice { get; }
}
