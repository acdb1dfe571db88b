using StateWatch.Core.Routing;

namespace StateWatch.Core.Profiles;

/// <summary>What a desk does with a signal that no setting tells: it decides what is really heard. From the desk's handbook, or tried out.</summary>
/// <param name="MuteStopsPreFader">Whether a mute also silences sends that are taken before the fader.</param>
/// <param name="DcaMovesPreFader">Whether a DCA's level also moves sends that are taken before the fader.</param>
/// <param name="PanLaw">How a strip's pan shares between left and right.</param>
public sealed record DeskBehaviour(bool MuteStopsPreFader, bool DcaMovesPreFader, PanLaw PanLaw)
{
    /// <summary>What most desks do (common practice, no source): a mute silences everything, a DCA only what the fader moves, -3 dB in the middle.</summary>
    public static DeskBehaviour Usual { get; } = new(true, false, PanLaw.ConstantPower);
}
