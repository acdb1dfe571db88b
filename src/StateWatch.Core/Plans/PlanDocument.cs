using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>A plan as written, with places; nothing is resolved against a desk yet.</summary>
public sealed class PlanDocument
{
    /// <summary>The file it was read from.</summary>
    public required string File { get; init; }

    /// <summary>The show's name.</summary>
    public required string Show { get; init; }

    /// <summary>Path of the desk profile, relative to the plan.</summary>
    public required ScalarNode Desk { get; init; }

    /// <summary>The phase a sweep judges by when none is given, or null.</summary>
    public Phase? SweepPhase { get; init; }

    /// <summary>DCA number to name.</summary>
    public IReadOnlyList<NumberedName> Dcas { get; init; } = [];

    /// <summary>Mute-group number to name.</summary>
    public IReadOnlyList<NumberedName> MuteGroups { get; init; } = [];

    /// <summary>Tolerances by setting class or last words of the path.</summary>
    public IReadOnlyList<MapEntry> Tolerances { get; init; } = [];

    /// <summary>Feeds by key.</summary>
    public IReadOnlyList<FeedLine> Feeds { get; init; } = [];

    /// <summary>Groups by number.</summary>
    public IReadOnlyList<StripLine> Groups { get; init; } = [];

    /// <summary>Effects: a send bus and a return.</summary>
    public IReadOnlyList<EffectLine> Effects { get; init; } = [];

    /// <summary>Roles by name.</summary>
    public IReadOnlyList<RoleLine> Roles { get; init; } = [];

    /// <summary>Inputs by numbers.</summary>
    public IReadOnlyList<StripLine> Inputs { get; init; } = [];

    /// <summary>Inputs that are parked: <c>rest</c> for all that no line names, or numbers; null when the plan does not say.</summary>
    public ScalarNode? Parked { get; init; }

    /// <summary>Talk circuits by number.</summary>
    public IReadOnlyList<StripLine> Talks { get; init; } = [];

    /// <summary>Settings by path, as written.</summary>
    public IReadOnlyList<MapEntry> Settings { get; init; } = [];

    /// <summary>Things no desk can tell.</summary>
    public IReadOnlyList<ByEyeLine> ByEye { get; init; } = [];

    /// <summary>Settings that are left to the eye, in every phase.</summary>
    public IReadOnlyList<ByEyeSetting> ByEyeSettings { get; init; } = [];

    /// <summary>What the desk's keys do.</summary>
    public IReadOnlyList<KeyLine> Keys { get; init; } = [];

    /// <summary>Processors with their channels; empty when the plan lists none.</summary>
    public IReadOnlyList<UnitLine> Units { get; init; } = [];

    /// <summary>How far levels at feeds may move.</summary>
    public IReadOnlyList<GuardLine> Guards { get; init; } = [];

    /// <summary>How much louder sources are at feeds than others.</summary>
    public IReadOnlyList<RatioLine> Ratios { get; init; } = [];

    /// <summary>The phase at whose end levels are what guards measure from; until then guards are not judged.</summary>
    public Phase Baseline { get; init; } = Phase.Soundcheck;

    /// <summary>How much of which loudspeaker microphones hear.</summary>
    public IReadOnlyList<CouplingLine> Couplings { get; init; } = [];

    /// <summary>What people may move without comment.</summary>
    public IReadOnlyList<HandsOnLine> HandsOn { get; init; } = [];

    /// <summary>The time zone of the show, or null: then days are those of local time.</summary>
    public TimeZoneInfo? Zone { get; init; }

    /// <summary>The day of an instant where the show is; by the instant's own offset when the plan names no zone.</summary>
    public DateOnly DayOf(DateTimeOffset instant) => DateOnly.FromDateTime((Zone is null ? instant : TimeZoneInfo.ConvertTime(instant, Zone)).DateTime);

    /// <summary>Findings that somebody answers for until a day.</summary>
    public IReadOnlyList<WaiverLine> Waivers { get; init; } = [];

    /// <summary>Phases by word.</summary>
    public IReadOnlyList<PhaseLine> PhaseLines { get; init; } = [];

    /// <summary>Cues, in the order of the plan.</summary>
    public IReadOnlyList<CueLine> Cues { get; init; } = [];

    /// <summary>Phases and cues that begin by the clock, in the order of the plan.</summary>
    public IReadOnlyList<ScheduleLine> Schedule { get; init; } = [];
}

/// <summary>A number with a name, such as a DCA.</summary>
/// <param name="Number">Number from 1.</param>
/// <param name="Name">The name.</param>
public sealed record NumberedName(int Number, ScalarNode Name);

/// <summary>What a role or strip line says, key by key; read once, used for every strip it covers.</summary>
/// <param name="Map">The mapping as written.</param>
/// <param name="Name">Name template, or null.</param>
/// <param name="Role">Role, or null.</param>
/// <param name="From">Sockets, or null.</param>
/// <param name="Stereo">Whether odd/even pairs are linked.</param>
/// <param name="Dcas">DCA names, or null when the line does not say.</param>
/// <param name="MuteGroups">Mute-group names, or null when the line does not say.</param>
/// <param name="To">Where it goes: name and value (null value for plain "on").</param>
/// <param name="Inserts">Insert slot and unit.</param>
/// <param name="Values">Other settings of the strip, by plan key.</param>
public sealed record StripKeys(MapNode Map, ScalarNode? Name, ScalarNode? Role, ScalarNode? From, ScalarNode? Stereo,
    IReadOnlyList<ScalarNode> Dcas, IReadOnlyList<ScalarNode> MuteGroups, IReadOnlyList<(ScalarNode Name, ScalarNode? Value)> To,
    IReadOnlyList<(int Slot, ScalarNode Unit)> Inserts, IReadOnlyList<MapEntry> Values)
{
    /// <summary>Whether the line says that pairs are linked.</summary>
    public bool IsStereo => Stereo?.Text is "true" or "yes" or "on";

    /// <summary>Whether any one of the line's strips will do, or null when the line does not say.</summary>
    public ScalarNode? OneOf { get; init; }

    /// <summary>What its microphones make of sound, or null when the line does not say.</summary>
    public MicrophoneLine? Microphone { get; init; }
}

/// <summary>One line of inputs, groups or talk circuits.</summary>
/// <param name="Key">The numbers as written.</param>
/// <param name="Numbers">The numbers.</param>
/// <param name="Keys">What it says.</param>
/// <param name="Purpose">Purpose of a group, or null.</param>
public sealed record StripLine(ScalarNode Key, IReadOnlyList<int> Numbers, StripKeys Keys, Purpose? Purpose = null);

/// <summary>One effect.</summary>
/// <param name="Key">Its number as written.</param>
/// <param name="Send">The bus that feeds it: <c>mix 13</c>.</param>
/// <param name="Return">The strip it comes back on: <c>fx-return 1</c>, or null.</param>
/// <param name="Tap">Where sends are taken from, or null.</param>
/// <param name="Keys">What its return strip is.</param>
public sealed record EffectLine(ScalarNode Key, ScalarNode Send, ScalarNode? Return, ScalarNode? Tap, StripKeys Keys);

/// <summary>One role.</summary>
/// <param name="Key">Its name.</param>
/// <param name="OpenMic">Whether it is an open microphone on stage.</param>
/// <param name="Privacy">What must stay private about it.</param>
/// <param name="Only">The only feeds it may reach, or empty.</param>
/// <param name="Never">Feeds it must never reach.</param>
/// <param name="Keys">What its strips are.</param>
public sealed record RoleLine(ScalarNode Key, bool OpenMic, Privacy Privacy, IReadOnlyList<ScalarNode> Only, IReadOnlyList<ScalarNode> Never, StripKeys Keys)
{
    /// <summary>Whether it has a coil that a hearing loop's field reaches.</summary>
    public bool Pickup { get; init; }
}

/// <summary>What may and must reach a feed, by any way the plan makes. No other line relaxes it.</summary>
/// <param name="Never">Roles that must never reach it.</param>
/// <param name="Only">The only roles that may reach it, or empty.</param>
/// <param name="MustCarry">Roles that must reach it.</param>
/// <param name="Minus">Names of inputs that must not reach it: a mix-minus.</param>
public sealed record FeedConstraints(IReadOnlyList<ScalarNode> Never, IReadOnlyList<ScalarNode> Only, IReadOnlyList<ScalarNode> MustCarry, IReadOnlyList<ScalarNode> Minus)
{
    /// <summary>Feeds that must not move it.</summary>
    public IReadOnlyList<ScalarNode> IndependentOf { get; init; } = [];
}

/// <summary>One feed.</summary>
/// <param name="Key">Its key, which other lines name.</param>
/// <param name="Bus">Its buses: <c>mix 1-4</c>; null when it takes direct outs, or when the line does not say, which is reported.</param>
/// <param name="Purpose">What it is for.</param>
/// <param name="Out">Its outputs; several items carry the same signals again.</param>
/// <param name="Tap">Where sends into it are taken from, or null.</param>
/// <param name="Delay">Delay of its outputs: one for all, or one for each in their order; empty when the line does not say.</param>
/// <param name="Limiter">Limiter of its outputs, likewise.</param>
/// <param name="From">What feeds it, and at what level.</param>
/// <param name="Constraints">What may and must reach it.</param>
/// <param name="Keys">What its bus strips are.</param>
public sealed record FeedLine(ScalarNode Key, ScalarNode? Bus, Purpose Purpose, IReadOnlyList<ScalarNode> Out, ScalarNode? Tap, IReadOnlyList<ScalarNode> Delay,
    IReadOnlyList<ScalarNode> Limiter, IReadOnlyList<(ScalarNode Name, ScalarNode? Value)> From, FeedConstraints Constraints, StripKeys Keys)
{
    /// <summary>Roles and inputs whose direct outs the feed takes, instead of a bus; empty for a feed with a bus.</summary>
    public IReadOnlyList<ScalarNode> Direct { get; init; } = [];

    /// <summary>Amplifier and loudspeaker behind its outputs, or null when the line does not say.</summary>
    public LoudspeakerLine? Loudspeaker { get; init; }

    /// <summary>How many microphones may be open at it, as so many equally loud ones; null when the line does not say.</summary>
    public int? MostOpen { get; init; }

    /// <summary>Where the line says that the feed is one signal made of stereo sources, or null when it does not.</summary>
    public ScalarNode? Mono { get; init; }

    /// <summary>Whether the feed is one signal made of stereo sources.</summary>
    public bool IsMono => Mono?.Text is "true" or "yes" or "on";
}

/// <summary>One phase.</summary>
/// <param name="Phase">Which.</param>
/// <param name="Locks">Setting class and what the phase makes of it, with the place.</param>
/// <param name="Settings">Settings that hold in this phase only.</param>
public sealed record PhaseLine(Phase Phase, IReadOnlyList<(SettingClass Class, PhaseLock Lock, Origin At)> Locks, IReadOnlyList<MapEntry> Settings)
{
    /// <summary>The OSC message that begins it, or null.</summary>
    public MessageLine? Message { get; init; }

    /// <summary>Settings that are left to the eye in this phase.</summary>
    public IReadOnlyList<ByEyeSetting> ByEyeSettings { get; init; } = [];
}

/// <summary>Why a source must not reach the public.</summary>
public enum Privacy : byte
{
    /// <summary>It may.</summary>
    None,

    /// <summary>Private words: talkback, director.</summary>
    Talk,

    /// <summary>Click, timecode, cues.</summary>
    Click,
}
