using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>What a setting is taken for while nobody has seen it: open where it is a level or mute, nothing where it is a way.</summary>
internal static class NeutralValue
{
    /// <summary>The value, or none.</summary>
    public static SettingValue Of(Setting setting) => setting.Kind.Suffix switch
    {
        "on" or "talk/#/on" => Parse(setting, "on"),
        "fader" or "trim" => Parse(setting, "0 dB"),
        // Scales of gain seldom begin at 0 dB; what counts is that it is the same in both flows.
        "gain" => setting.Reset,
        "send/<bus>/#/level" => Parse(setting, "-10 dB"),
        "active" or "polarity" => Parse(setting, "off"),
        "pan" or "send/<bus>/#/pan" => setting.Reset,
        _ => default,
    };

    /// <summary>A value as the setting's codec reads it, or none.</summary>
    public static SettingValue Parse(Setting setting, string text) => setting.Codec.TryParse(text, out var value, out _) ? value : default;
}
