using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// Consequence and remedy of a plain drift, by setting class. Whatever could make something louder is done with the fader down.
/// Common practice, no source.
/// </summary>
internal readonly struct DriftWords(SettingKind kind, SettingValue planned, SettingValue live, DeskProfile profile)
{
    /// <summary>What a volunteer does when several settings of one strip differ.</summary>
    public const string FixAll = "Fader down; call the engineer";

    /// <summary>The planned value.</summary>
    public string Planned { get; } = profile.Format(planned);

    /// <summary>The live value.</summary>
    public string Live { get; } = profile.Format(live);

    private bool IsOn => planned.IsOn;

    // An active mute group silences: off is what opens it.
    private bool IsMuteGroup => kind.Suffix == "active";

    private bool IsUp => live.Number < planned.Number;

    private string Control => kind.Suffix.StartsWith("send/", StringComparison.Ordinal) ? "Send" : "Fader";

    /// <summary>What it means, for the engineer.</summary>
    public string Why => kind.Class switch
    {
        SettingClass.Patch => "Another signal than the label says may be heard here, or none.",
        SettingClass.Routing => IsOn ? "It is missing where it was planned to be heard." : "It is heard where it was not planned to be.",
        SettingClass.Taps => "Moving one fader will move a mix that should stay still, or the other way round.",
        SettingClass.Grouping => "A control that should move this strip does not, or moves it when it should not.",
        SettingClass.Inserts => "The channel is unprocessed, or processed by the wrong unit.",
        SettingClass.Processing when kind.Words == "delay" => "Sound arrives too early or too late: echo, or lips out of step.",
        SettingClass.Processing => "It will sound different from what was set up.",
        SettingClass.Preamp => "Every mix that carries this source jumps with it, monitors and stream as well.",
        SettingClass.Levels when kind.Words is "pan" or "send pan" => "It is heard more to one side than planned.",
        SettingClass.Levels => IsUp ? "It is softer than planned wherever this level leads." : "It is louder than planned wherever this level leads; feedback comes sooner.",
        SettingClass.Mutes when IsMuteGroup && !IsOn => "Nothing that belongs to it is heard.",
        SettingClass.Mutes => IsOn && !IsMuteGroup ? "It is silent when it should be heard." : "It is heard when it should be silent.",
        SettingClass.Labels => "Somebody may grab the wrong fader.",
        SettingClass.Surface => "A key or mode of the desk will do something unexpected.",
        _ when kind.Words == "talk" => "Whoever speaks near the talk microphone is heard on all its routes.",
        _ => "The desk is not in the condition that was planned.",
    };

    /// <summary>What to do, for the engineer.</summary>
    public string Do => kind.Class switch
    {
        SettingClass.Labels => $"Find out what is really there, then set it back to {Planned}.",
        SettingClass.Health when live.IsOn => "Switch it off.",
        SettingClass.Surface or SettingClass.Health => $"When there is a moment, set it back to {Planned}.",
        SettingClass.Preamp when kind.Words == "phantom power" => $"Fader down first and muted everywhere; then phantom power {Planned}, and wait ten seconds.",
        SettingClass.Routing when !IsOn => "Switch it off.",
        SettingClass.Mutes when IsMuteGroup && !IsOn => "Faders of its members down first, then switch it off and bring them up slowly.",
        SettingClass.Mutes => IsOn && !IsMuteGroup ? "Fader down first, then unmute and bring it up slowly." : "Mute it.",
        SettingClass.Levels when kind.Words is "pan" or "send pan" => $"Set it back to {Planned}.",
        SettingClass.Levels => IsUp ? $"{Control} down first, then bring it up slowly to {Planned}." : $"Bring it down to {Planned}.",
        SettingClass.Taps => $"Send down first, then set it back to {Planned}.",
        _ => $"Fader down first, then set it back to {Planned}.",
    };

    /// <summary>What is heard, for a volunteer.</summary>
    public string Heard => kind.Class switch
    {
        SettingClass.Patch => "another sound is heard, or none",
        SettingClass.Routing => IsOn ? "it is not heard there" : "it is heard where it should not be",
        SettingClass.Taps => "one fader moves a mix it should not",
        SettingClass.Grouping => "a control moves too much or too little",
        SettingClass.Inserts => "it sounds unprocessed",
        SettingClass.Processing when kind.Words == "delay" => "echo, or lips out of step",
        SettingClass.Processing => "it sounds other than set up",
        SettingClass.Preamp => "every mix jumps with it",
        SettingClass.Levels when kind.Words is "pan" or "send pan" => "it is heard more to one side",
        SettingClass.Levels => IsUp ? "softer than planned" : "louder than planned",
        SettingClass.Mutes when IsMuteGroup && !IsOn => "nothing that belongs to it is heard",
        SettingClass.Mutes => IsOn && !IsMuteGroup ? "nothing of it is heard" : "it is heard when it should not be",
        SettingClass.Labels => "somebody may grab the wrong fader",
        SettingClass.Surface => "a key does something unexpected",
        _ when kind.Words == "talk" => "words near the desk go out",
        _ => "the desk is not as planned",
    };

    /// <summary>What to do, for a volunteer: never patch, gain or phantom power.</summary>
    public string Fix => kind.Class switch
    {
        SettingClass.Patch or SettingClass.Preamp => "Fader down; call the engineer",
        SettingClass.Labels => "Find out what is on it, then set it back",
        SettingClass.Health when live.IsOn => "Switch it off",
        SettingClass.Surface or SettingClass.Health => "Call the engineer",
        SettingClass.Routing => IsOn ? "Fader down first, then switch it on" : "Switch it off",
        SettingClass.Mutes when IsMuteGroup && !IsOn => "Faders of its members down first, then switch it off",
        SettingClass.Mutes => IsOn && !IsMuteGroup ? "Fader down first, then unmute it" : "Mute it",
        SettingClass.Levels when kind.Words is "pan" or "send pan" => "Set it back",
        SettingClass.Levels => IsUp ? $"{Control} down first, then slowly up to {Planned}" : $"Bring it down to {Planned}",
        SettingClass.Taps => "Send down first, then set it back",
        _ => "Fader down first, then set it back",
    };
}
