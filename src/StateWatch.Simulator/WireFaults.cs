namespace StateWatch.Simulator;

/// <summary>How badly one direction of a wire behaves.</summary>
public sealed record WireFaults
{
    /// <summary>A wire that carries everything at once and in order.</summary>
    public static WireFaults None { get; } = new();

    /// <summary>Part of the datagrams that never arrive, 0 to 1.</summary>
    public double Loss { get; init; }

    /// <summary>Part of the datagrams that arrive twice, 0 to 1; the second copy has a delay of its own.</summary>
    public double Duplicates { get; init; }

    /// <summary>The shortest time a datagram takes.</summary>
    public TimeSpan DelayLeast { get; init; }

    /// <summary>The longest time a datagram takes; times between are equally likely. Less than <see cref="DelayLeast"/> counts as that.</summary>
    public TimeSpan DelayMost { get; init; }

    /// <summary>
    /// Part of the datagrams that may be overtaken, 0 to 1: they take <see cref="HeldBack"/> longer. All others keep their order,
    /// whatever their delays.
    /// </summary>
    public double Reordered { get; init; }

    /// <summary>How much longer a datagram takes that may be overtaken; 2 ms unless told otherwise.</summary>
    public TimeSpan HeldBack { get; init; } = TimeSpan.FromMilliseconds(2);

    /// <summary>Whether it does nothing to any datagram.</summary>
    public bool AreNone => Loss <= 0 && Duplicates <= 0 && Reordered <= 0 && DelayLeast <= TimeSpan.Zero && DelayMost <= TimeSpan.Zero;
}
