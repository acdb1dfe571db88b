using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing;

/// <summary>How much a plain drift matters, by setting class and phase. Common practice, no source.</summary>
internal static class DriftSeverities
{
    private static readonly SeverityByPhase[] ByClass =
    [
        SeverityByPhase.Of("WUUU"), // patch
        SeverityByPhase.Of("NWWW"), // routing
        SeverityByPhase.Of("NWWW"), // taps
        SeverityByPhase.Of("NWWW"), // grouping
        SeverityByPhase.Of("NWWW"), // inserts
        SeverityByPhase.Of("NWWW"), // processing
        SeverityByPhase.Of("NWWW"), // preamp
        SeverityByPhase.Of("NNWW"), // levels
        SeverityByPhase.Of("NNWW"), // mutes
        SeverityByPhase.Of("NNWN"), // labels
        SeverityByPhase.Of("NWWW"), // surface
        SeverityByPhase.Of("NWWW"), // health
    ];

    public static SeverityByPhase Of(SettingClass settingClass) => ByClass[(int)settingClass];
}
