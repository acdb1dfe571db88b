using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Desks;

/// <summary>Why a setting has no fresh value.</summary>
public enum UnseenReason : byte
{
    /// <summary>Nobody asked for it.</summary>
    NotAsked,

    /// <summary>Asked, no answer came.</summary>
    NoReply,

    /// <summary>An answer came, but this value in it could not be read by the profile's codec.</summary>
    NotUnderstood,

    /// <summary>The desk said that it may have changed; not read again yet.</summary>
    OutOfDate,
}

/// <summary>
/// The last known value of every setting of one desk, as arrays by setting id. A value counts only while its generation is the
/// link's, so losing the link makes everything stale in one step.
/// </summary>
public sealed class DeskState(DeskProfile profile)
{
    private readonly SettingValue[] _values = new SettingValue[profile.Settings.Count];
    private readonly uint[] _generations = new uint[profile.Settings.Count];
    private readonly UnseenReason[] _reasons = new UnseenReason[profile.Settings.Count];

    /// <summary>The profile whose settings these are.</summary>
    public DeskProfile Profile { get; } = profile;

    /// <summary>The current generation; values of another are stale.</summary>
    public uint Generation { get; private set; } = 1;

    /// <summary>How many settings there are.</summary>
    public int Count => _values.Length;

    /// <summary>Whether a setting has a value of this generation.</summary>
    public bool IsFresh(int setting) => _generations[setting] == Generation;

    /// <summary>The value of a setting, or none when it is stale or was never seen.</summary>
    public SettingValue this[int setting] => IsFresh(setting) ? _values[setting] : default;

    /// <summary>Why a setting is not fresh; meaningless while it is.</summary>
    public UnseenReason ReasonUnseen(int setting) => _reasons[setting];

    /// <summary>Makes every value stale: the link was lost, or a full re-read begins.</summary>
    public void StartGeneration()
    {
        Generation++;
        Array.Clear(_reasons);
    }

    /// <summary>Takes a value in.</summary>
    /// <returns>Whether it differs from what was fresh before.</returns>
    public bool Apply(int setting, SettingValue value)
    {
        var changed = !IsFresh(setting) || _values[setting] != value;
        _values[setting] = value;
        _generations[setting] = Generation;
        return changed;
    }

    /// <summary>Notes that a setting is not known, and why.</summary>
    public void MarkUnseen(int setting, UnseenReason reason)
    {
        _generations[setting] = 0;
        _reasons[setting] = reason;
    }
}
