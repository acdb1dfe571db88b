using StateWatch.Core.Routing;

namespace StateWatch.Core.Profiles;

/// <summary>What a desk does with a signal that no setting tells: it decides what is really heard. From the desk's handbook, or tried out.</summary>
/// <param name="MuteStopsPreFader">Whether a mute also silences sends that are taken before the fader.</param>
/// <param name="DcaMovesPreFader">Whether a DCA's level also moves sends that are taken before the fader.</param>
/// <param name="PanLaw">How a strip's pan shares between left and right.</param>
/// <param name="MonoSum">The factor of each side where a stereo bus goes into a mono one.</param>
public sealed record DeskBehaviour(bool MuteStopsPreFader, bool DcaMovesPreFader, PanLaw PanLaw, double MonoSum)
{
    /// <summary>
    /// What most desks do (common practice, no source): a mute silences everything, a DCA only what the fader moves, -3 dB in the middle, and
    /// half of each side into a mono bus, so that what is the same on both keeps its level.
    /// </summary>
    public static DeskBehaviour Usual { get; } = new(true, false, PanLaw.ConstantPower, 0.5);
}
