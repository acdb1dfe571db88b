namespace StateWatch.Core.Profiles;

/// <summary>How a desk is followed after it was read once.</summary>
/// <param name="KeepAlive">The question that makes the desk send changes by itself; null when it sends none.</param>
/// <param name="LostAfter">How long nothing may be heard before the link counts as lost.</param>
/// <param name="Round">How long one round of asking everything again takes; the pace may make it longer.</param>
/// <param name="Often">Endpoints that are asked more often, by id.</param>
/// <param name="OftenEvery">How long a round of those takes.</param>
/// <param name="Invalidations">Messages after which something must be read again.</param>
public sealed record FollowSettings(
    KeepAlive? KeepAlive, TimeSpan LostAfter, TimeSpan Round, IReadOnlyList<int> Often, TimeSpan OftenEvery, IReadOnlyList<Invalidation> Invalidations);

/// <summary>The question that keeps a desk sending changes.</summary>
/// <param name="Address">The address that is asked.</param>
/// <param name="Question">The whole datagram.</param>
/// <param name="Every">How often it is asked.</param>
/// <param name="Lasts">How long the desk goes on after one; without an answer for so long changes may have been missed.</param>
/// <param name="Answered">Whether the desk answers it, at the same address.</param>
public sealed record KeepAlive(byte[] Address, byte[] Question, TimeSpan Every, TimeSpan Lasts, bool Answered);

/// <summary>A message after which settings must be read again.</summary>
/// <param name="On">OSC 1.0 pattern of its address. The address of a setting counts only when it brings another value.</param>
/// <param name="Endpoints">What to ask again, by endpoint id; null for everything.</param>
/// <param name="Settle">How long to wait after the last such message.</param>
public sealed record Invalidation(byte[] On, IReadOnlyList<int>? Endpoints, TimeSpan Settle);
