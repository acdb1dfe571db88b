using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Watching;

/// <summary>
/// Writes down which settings have other values than before. What moves on and on is written from time to time only, with its latest value; a value
/// that was never known before is no change, nor is silence.
/// </summary>
internal sealed class SettingJournal(int settings)
{
    private readonly SettingValue[] _told = new SettingValue[settings];
    private readonly bool[] _isKnown = new bool[settings];
    private readonly ChangeList _waiting = new(settings);

    /// <summary>Notes what a batch has changed. Allocates nothing.</summary>
    public void Note(ReadOnlySpan<int> changed)
    {
        foreach (var setting in changed)
            _waiting.Add(setting);
    }

    /// <summary>Writes down what differs from what was written last.</summary>
    public void Write(DeskState state, ShowPlan plan, DateTimeOffset now, List<SettingChange> into)
    {
        foreach (var setting in _waiting.Items)
        {
            if (!state.IsFresh(setting))
                continue;
            var value = state[setting];
            if (_isKnown[setting] && value != _told[setting])
            {
                var profile = state.Profile;
                into.Add(new SettingChange(now, profile.Settings[setting].Path, profile.Format(_told[setting]), profile.Format(value), plan.For(setting) is not null));
            }

            (_told[setting], _isKnown[setting]) = (value, true);
        }

        _waiting.Clear();
    }
}
