using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>
/// How much one plan may ask for: a line of twenty characters can name a hundred thousand settings, and a hostile file has many lines.
/// </summary>
internal sealed class WorkLimit
{
    /// <summary>The most statements about settings, ten times those of a large show.</summary>
    public const int Most = 120_000;

    private int _left = Most;

    /// <summary>Counts what a line asks for, before it is done.</summary>
    /// <param name="amount">How many settings, names or strips it is about.</param>
    /// <param name="at">The line.</param>
    /// <exception cref="PlanTooLargeException">It was too much; <see cref="PlanCompiler"/> tells it.</exception>
    public void Spend(long amount, Origin at)
    {
        if (amount > _left)
            throw new PlanTooLargeException(at);
        _left -= (int)amount;
    }
}

/// <summary>A plan asks for more than is done; never leaves the compiler.</summary>
internal sealed class PlanTooLargeException(Origin at) : Exception
{
    /// <summary>The line that was too much.</summary>
    public Origin At { get; } = at;
}
