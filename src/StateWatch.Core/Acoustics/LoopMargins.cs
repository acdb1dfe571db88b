namespace StateWatch.Core.Acoustics;

/// <summary>
/// How far the loudest loop is from feedback, in dB: positive is below it, +inf no loop at all, -inf an endless gain. Advice from a model
/// that knows only the desk and what couplings it was told.
/// </summary>
/// <param name="Coherent">When all ways happened to add in phase at some frequency: no phases can be worse. -20 lg ρ(|H| U).</param>
/// <param name="Power">When phases have nothing to do with each other, as the handbooks count open microphones. -10 lg ρ(|H|² P).</param>
public readonly record struct LoopMargins(double Coherent, double Power)
{
    /// <summary>What has become of the margins since a state that somebody approved, in dB: negative is nearer to feedback.</summary>
    public LoopMargins ChangeFrom(LoopMargins approved) => new(Change(Coherent, approved.Coherent), Change(Power, approved.Power));

    // No loop before and after, or endless before and after, is no change.
    private static double Change(double now, double before) => now.Equals(before) ? 0 : now - before;
}

/// <summary>What one microphone in one loudspeaker feed has to do with the margin.</summary>
/// <param name="Microphone">The microphone, by number.</param>
/// <param name="Feed">The feed, by number.</param>
/// <param name="Share">By how many dB the power margin falls for each dB that this gain rises: 0 to 1; all pairs together 1.</param>
/// <param name="Without">The margins with this microphone out of this feed.</param>
/// <param name="WinsBack">By how many dB that raises the power margin; +inf when no loop is left.</param>
public readonly record struct LoopPair(int Microphone, int Feed, double Share, LoopMargins Without, double WinsBack);
