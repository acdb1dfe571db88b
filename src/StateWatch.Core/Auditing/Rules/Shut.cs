using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>When a switch or a level lets nothing through.</summary>
internal static class Shut
{
    /// <summary>At and below this nothing is heard, in dB: the lowest mark of common fader scales. Common practice, no source.</summary>
    public const double Level = -60;

    /// <summary>Whether a mute, a switch or a level is shut. Not-a-number is not.</summary>
    public static bool Is(SettingValue value) => value.Kind == ValueKind.Switch ? !value.IsOn : value.Number < Level;
}
