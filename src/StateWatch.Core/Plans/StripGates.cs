using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>
/// Everything that can close one strip, as far as the profile maps it: its own mute and fader, the mute groups and DCAs it is or may
/// become a member of.
/// </summary>
/// <param name="On">Setting id of its mute switch, or -1.</param>
/// <param name="Fader">Setting id of its fader, or -1.</param>
/// <param name="MuteGroups">Mute groups: membership, and whether the group is active.</param>
/// <param name="Dcas">DCAs: membership, mute and fader; either of the last two may be -1.</param>
internal sealed record StripGates(int On, int Fader, (int Member, int Active)[] MuteGroups, (int Member, int On, int Fader)[] Dcas)
{
    /// <summary>A fader below this is down. Common practice, no source.</summary>
    public const double DownBelow = -60;

    /// <summary>The gates of a strip.</summary>
    public static StripGates Of(DeskProfile profile, Strip strip)
    {
        var (on, fader) = (-1, -1);
        var muteGroups = new List<(int, int)>();
        var dcas = new List<(int, int, int)>();
        foreach (var id in profile.SettingsOf(strip.Id))
        {
            var setting = profile.Settings[id];
            switch (setting.Kind.Suffix)
            {
                case "on":
                    on = id;
                    break;
                case "fader":
                    fader = id;
                    break;
                case "mute-group/#" when profile.Find($"{GroupOf(setting)}/active") is >= 0 and var active:
                    muteGroups.Add((id, active));
                    break;
                case "dca/#":
                    var dca = GroupOf(setting);
                    var (dcaOn, dcaFader) = (profile.Find($"{dca}/on"), profile.Find($"{dca}/fader"));
                    if (dcaOn >= 0 || dcaFader >= 0)
                        dcas.Add((id, dcaOn, dcaFader));
                    break;
            }
        }

        return new StripGates(on, fader, [.. muteGroups], [.. dcas]);
    }

    /// <summary>The setting its findings are told at: its mute, else its fader.</summary>
    public int Subject => On >= 0 ? On : Fader;

    /// <summary>Whether a live strip is open. Allocates nothing.</summary>
    public bool IsOpen(DeskState state)
    {
        if ((On >= 0 && !state[On].IsOn) || (Fader >= 0 && IsDown(state[Fader])))
            return false;
        foreach (var (member, active) in MuteGroups)
        {
            if (state[member].IsOn && state[active].IsOn)
                return false;
        }

        foreach (var (member, on, fader) in Dcas)
        {
            if (state[member].IsOn && ((on >= 0 && !state[on].IsOn) || (fader >= 0 && IsDown(state[fader]))))
                return false;
        }

        return true;
    }

    /// <summary>Whether a level closes what it belongs to.</summary>
    public static bool IsDown(SettingValue level) => level.Number < DownBelow;

    /// <summary>Every setting id it looks at.</summary>
    public IEnumerable<int> Settings()
    {
        if (On >= 0)
            yield return On;
        if (Fader >= 0)
            yield return Fader;
        foreach (var (member, active) in MuteGroups)
        {
            yield return member;
            yield return active;
        }

        foreach (var (member, on, fader) in Dcas)
        {
            yield return member;
            if (on >= 0)
                yield return on;
            if (fader >= 0)
                yield return fader;
        }
    }

    /// <summary>How many gates there are; some may be missing on the desk.</summary>
    public int Count => 2 + MuteGroups.Length + 2 * Dcas.Length;

    /// <summary>
    /// The gate at a place, own mute first, if it is closed: the setting that closes it, and the membership through which it does (-1 for the
    /// strip's own). Allocates nothing.
    /// </summary>
    /// <param name="place">The place, from 0.</param>
    /// <param name="values">Tells the value of a setting, or none when nobody says.</param>
    public (int Setting, int Member)? ClosedAt<T>(int place, T values)
        where T : struct, IGateValues
    {
        if (place < 2)
            return (place == 0 ? IsOff(On, values) : IsLow(Fader, values)) ? (place == 0 ? On : Fader, -1) : null;
        if (place - 2 < MuteGroups.Length)
        {
            var (member, active) = MuteGroups[place - 2];
            return values.Of(active).IsOn && values.Of(member).IsOn ? (active, member) : null;
        }

        var dca = Dcas[(place - 2 - MuteGroups.Length) / 2];
        if (!values.Of(dca.Member).IsOn)
            return null;
        var isMute = (place - MuteGroups.Length) % 2 == 0;
        return (isMute ? IsOff(dca.On, values) : IsLow(dca.Fader, values)) ? (isMute ? dca.On : dca.Fader, dca.Member) : null;
    }

    private static bool IsOff<T>(int id, T values)
        where T : struct, IGateValues => id >= 0 && values.Of(id) is { Kind: ValueKind.Switch, IsOn: false };

    private static bool IsLow<T>(int id, T values)
        where T : struct, IGateValues => id >= 0 && values.Of(id) is { Kind: ValueKind.Level } level && IsDown(level);

    /// <summary>
    /// The gates that are closed, own mute first: the setting that closes it, and the membership through which it does (-1 for the strip's own).
    /// </summary>
    /// <param name="value">The value of a setting, or null when nobody says.</param>
    public IEnumerable<(int Setting, int Member)> Closing(Func<int, SettingValue?> value)
    {
        for (var place = 0; place < Count; place++)
        {
            if (ClosedAt(place, new Told(value)) is { } closed)
                yield return closed;
        }
    }

    private readonly struct Told(Func<int, SettingValue?> value) : IGateValues
    {
        public SettingValue Of(int setting) => value(setting) ?? default;
    }

    // The DCA or mute group of a membership: input/3/dca/2 belongs to dca/2.
    private static string GroupOf(Setting membership)
    {
        var path = membership.Path;
        return path[(path.IndexOf('/', path.IndexOf('/', StringComparison.Ordinal) + 1) + 1)..];
    }
}

/// <summary>Tells the values of settings to <see cref="StripGates"/>.</summary>
internal interface IGateValues
{
    /// <summary>The value of a setting, or none.</summary>
    SettingValue Of(int setting);
}
