using StateWatch.Core.Settings;

namespace StateWatch.Core.Findings;

/// <summary>How long something must be off, and back on plan, before it counts.</summary>
public enum TimerClass : byte
{
    /// <summary>On/off settings and choices.</summary>
    Switch,

    /// <summary>Levels and numbers, which pass through many values on their way.</summary>
    Continuous,

    /// <summary>Patch, groups, inserts: what a recall builds up piece by piece.</summary>
    Structural,

    /// <summary>At once, both ways: what the ledger itself has already waited for.</summary>
    Immediate,
}

/// <summary>The times of the classes.</summary>
public static class TimerClasses
{
    /// <summary>How much fresh drift raises.</summary>
    public static TimeSpan OnDelay(this TimerClass timers) => timers switch
    {
        TimerClass.Switch => LedgerNumbers.SwitchOn,
        TimerClass.Continuous => LedgerNumbers.ContinuousOn,
        TimerClass.Structural => LedgerNumbers.StructuralOn,
        _ => TimeSpan.Zero,
    };

    /// <summary>How much uninterrupted fresh match clears.</summary>
    public static TimeSpan OffDelay(this TimerClass timers) => timers switch
    {
        TimerClass.Switch => LedgerNumbers.SwitchOff,
        TimerClass.Continuous => LedgerNumbers.ContinuousOff,
        TimerClass.Structural => LedgerNumbers.StructuralOff,
        _ => TimeSpan.Zero,
    };

    /// <summary>The class of a setting: by its place on the desk where that is built up in pieces, else by the kind of its values.</summary>
    public static TimerClass Of(SettingClass settingClass, ValueKind kind) => settingClass switch
    {
        SettingClass.Patch or SettingClass.Grouping or SettingClass.Inserts => TimerClass.Structural,
        _ => kind is ValueKind.Level or ValueKind.Number ? TimerClass.Continuous : TimerClass.Switch,
    };
}
