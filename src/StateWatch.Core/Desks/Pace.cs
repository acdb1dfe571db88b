namespace StateWatch.Core.Desks;

/// <summary>One after another with a spacing. What is late is caught up with, but never with a burst that a desk's receive buffer could lose.</summary>
/// <param name="spacing">Ticks between two.</param>
/// <param name="first">When the first is due.</param>
internal sealed class Pace(long spacing, long first)
{
    private const int MostCatchUp = 16;

    /// <summary>When the next is due.</summary>
    public long NextDue { get; private set; } = first;

    /// <summary>Begins anew: the next is due after one spacing.</summary>
    /// <param name="now">The time now.</param>
    public void Start(long now) => NextDue = now + spacing;

    /// <summary>One was sent.</summary>
    /// <param name="now">The time now.</param>
    public void Take(long now) => NextDue = Math.Max(NextDue, now - MostCatchUp * spacing) + spacing;
}
