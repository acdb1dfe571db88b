using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>A plan compiled for one desk and one phase: every setting with the values it may have. Immutable.</summary>
public sealed class ShowPlan
{
    private readonly int[] _expectationOf;
    private readonly PhaseLock[] _locks;
    private readonly StatementTable _statements;

    internal ShowPlan(PlanDocument document, DeskProfile profile, Phase phase, IReadOnlyList<Expectation> expectations,
        IReadOnlyList<PlannedStrip> strips, IReadOnlyList<Strip> parked, IReadOnlyList<Feed> feeds, PhaseLock[] locks, StatementTable statements, PlannedCue? cue = null)
    {
        Cue = cue;
        _statements = statements;
        Document = document;
        Profile = profile;
        Phase = phase;
        Expectations = expectations;
        Strips = strips;
        Parked = parked;
        Feeds = feeds;
        _locks = locks;
        _expectationOf = new int[profile.Settings.Count];
        Array.Fill(_expectationOf, -1);
        for (var i = 0; i < expectations.Count; i++)
            _expectationOf[expectations[i].Setting] = i;
    }

    /// <summary>The plan as written.</summary>
    public PlanDocument Document { get; }

    /// <summary>The show's name.</summary>
    public string Show => Document.Show;

    /// <summary>The desk it was compiled for.</summary>
    public DeskProfile Profile { get; }

    /// <summary>The phase it was compiled for.</summary>
    public Phase Phase { get; }

    /// <summary>The cue it was compiled for, or null.</summary>
    public PlannedCue? Cue { get; }

    /// <summary>All expectations, by setting id.</summary>
    public IReadOnlyList<Expectation> Expectations { get; }

    /// <summary>Inputs, groups and effect returns that the plan names.</summary>
    public IReadOnlyList<PlannedStrip> Strips { get; }

    /// <summary>Inputs that are parked: shut, and assigned to nothing.</summary>
    public IReadOnlyList<Strip> Parked { get; }

    /// <summary>Feeds, effects and groups: everything something can be sent to.</summary>
    public IReadOnlyList<Feed> Feeds { get; }

    /// <summary>How far levels at feeds may move.</summary>
    public IReadOnlyList<PlannedGuard> Guards { get; init; } = [];

    /// <summary>Every loudspeaker that microphones can hear, in the order of the feeds.</summary>
    public IReadOnlyList<Loudspeaker> Loudspeakers { get; init; } = [];

    /// <summary>Inputs that are open microphones or that a coupling names, in the order of <see cref="Strips"/>.</summary>
    public IReadOnlyList<PlannedStrip> Microphones { get; init; } = [];

    /// <summary>How much of which loudspeaker each microphone hears, as far as the plan says: at most one for a pair, by microphone and then by loudspeaker.</summary>
    public IReadOnlyList<PlannedCoupling> Couplings { get; init; } = [];

    /// <summary>How much louder sources are at feeds than others.</summary>
    public IReadOnlyList<PlannedRatio> Ratios { get; init; } = [];

    /// <summary>Which strips may not arrive at which feeds, by the plan's <c>never</c>, <c>only</c> and <c>minus</c>.</summary>
    public IReadOnlyList<ForbiddenPair> Forbidden { get; internal set; } = [];

    /// <summary>Which feeds must not move which, by the plan's <c>independent-of</c>.</summary>
    public IReadOnlyList<IndependentPair> Independent { get; internal set; } = [];

    /// <summary>The expectation of a setting, or null when the plan does not care.</summary>
    public Expectation? For(int setting) => setting >= 0 && _expectationOf[setting] >= 0 ? Expectations[_expectationOf[setting]] : null;

    /// <summary>Everything that plan lines say of a setting, heaviest first; the first is what counts.</summary>
    public IReadOnlyList<Expectation> StatementsOf(int setting) => _statements.LadderOf(setting);

    /// <summary>Who may move each setting, as a number of <see cref="PlanDocument.HandsOn"/> from 1; null when nobody is named.</summary>
    internal byte[]? Hands { get; init; }

    /// <summary>Who may move a setting in soundcheck and show, in the plan's words, or null.</summary>
    public string? HandsOn(int setting) => Hands is { } hands && hands[setting] > 0 ? Document.HandsOn[hands[setting] - 1].Who.Text : null;

    /// <summary>What this phase makes of a class.</summary>
    public PhaseLock LockOf(SettingClass settingClass) => _locks[(int)settingClass];

    /// <summary>
    /// What this phase makes of a setting: what a cue says of one is locked; else what somebody may move is free in soundcheck and show; else
    /// the phase's word on its class counts.
    /// </summary>
    /// <param name="setting">Setting id.</param>
    public PhaseLock LockOf(int setting) =>
        For(setting) is { Rank: >= Ranks.Cue } ? PhaseLock.Locked
            : Phase is Phase.Soundcheck or Phase.Show && Hands is { } hands && hands[setting] > 0 ? PhaseLock.Free : LockOf(Profile.Settings[setting].Kind.Class);
}

/// <summary>A strip that the plan names.</summary>
/// <param name="Strip">The strip.</param>
/// <param name="Name">Its planned name, or its path when it has none.</param>
/// <param name="Role">Its role, or empty.</param>
/// <param name="OpenMic">Whether it is an open microphone on stage.</param>
/// <param name="Privacy">What must stay private about it.</param>
/// <param name="Socket">Path of the socket it is planned on, such as <c>socket/stage-12</c>, or null.</param>
/// <param name="At">The plan line.</param>
public sealed record PlannedStrip(Strip Strip, string Name, string Role, bool OpenMic, Privacy Privacy, string? Socket, Origin At)
{
    /// <summary>The set of alternatives it belongs to, any one of which will do: the numbers of its line as written; null when it belongs to none.</summary>
    public string? OneOf { get; init; }

    /// <summary>What its microphone makes of sound: of its narrowest line that says so, else of its role; null when none does.</summary>
    public MicrophoneLine? Microphone { get; init; }
}

/// <summary>One or more buses with a purpose, as they reach outputs.</summary>
/// <param name="Key">The name other lines use.</param>
/// <param name="Purpose">What it is for.</param>
/// <param name="Buses">Bus strips, as paths such as <c>mix/3</c>, in the order of the plan.</param>
/// <param name="Outputs">Output strips, as paths such as <c>output/stage-5</c>.</param>
/// <param name="Stereo">Whether its buses are left and right of one thing.</param>
/// <param name="At">The plan line.</param>
public sealed record Feed(string Key, Purpose Purpose, IReadOnlyList<string> Buses, IReadOnlyList<string> Outputs, bool Stereo, Origin At)
{
    /// <summary>Whether it is one signal made of stereo sources, so that both sides of a pair must reach it.</summary>
    public bool Mono { get; init; }

    /// <summary>Amplifier and loudspeaker behind its outputs, or null when the plan does not say.</summary>
    public LoudspeakerLine? Loudspeaker { get; init; }

    /// <summary>How many microphones may be open at it, as so many equally loud ones; null when the plan does not say.</summary>
    public int? MostOpen { get; init; }

    /// <summary>Whether it takes direct outs, one for each output, and has no bus.</summary>
    public bool IsDirect { get; init; }

    /// <summary>Where sources arrive: its buses, or its outputs when it takes direct outs.</summary>
    public IReadOnlyList<string> Ends => IsDirect ? Outputs : Buses;
}
