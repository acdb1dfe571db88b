using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>
/// Three readings of one live desk for loops through the air. <see cref="Now"/>: as it is. <see cref="Open"/>: as it will be when somebody
/// opens what is shut: mutes, mute groups and DCAs released, faders at their planned place or higher where they are higher.
/// <see cref="Approved"/>: the same with every setting the plan names at the planned value, so that what differs between the two is what
/// differs from the plan. What was not seen is taken as open where it is a level or mute, and as not there where it is a way.
/// </summary>
internal sealed class LoopViews
{
    private readonly ShowPlan _plan;
    private readonly int[] _settings;
    private readonly SettingValue[] _unseen;
    private readonly SettingValue[] _opened;
    private readonly bool[] _isFader;
    private readonly bool[] _isSource;
    private readonly List<int> _differing = [];

    /// <summary>Makes the readings of a plan's desk; take every setting and update before anything is asked.</summary>
    public LoopViews(ShowPlan plan, RoutingMap map)
    {
        _plan = plan;
        Now = new View(map);
        Open = new View(map);
        Approved = new View(map);
        _settings = [.. Now.Routing.Inputs];
        var count = plan.Profile.Settings.Count;
        _unseen = new SettingValue[count];
        _opened = new SettingValue[count];
        _isFader = new bool[count];
        _isSource = new bool[count];
        foreach (var id in _settings)
            _unseen[id] = NeutralValue.Of(plan.Profile.Settings[id]);
        foreach (var (setting, open) in OpenMutes.Of(map))
            _opened[setting] = open;
        foreach (var strip in map.Strips)
        {
            TakeFader(strip.Fader, plan.Profile.Strips[strip.Strip].Kind == "input");
            foreach (var (_, _, fader) in strip.Dcas)
                TakeFader(fader, isSource: true);
        }
    }

    /// <summary>The desk as it is.</summary>
    public View Now { get; }

    /// <summary>The desk with everything opened that a hand opens.</summary>
    public View Open { get; }

    /// <summary>The same as the plan has it.</summary>
    public View Approved { get; }

    /// <summary>Every setting that the readings depend on.</summary>
    public IReadOnlyList<int> Settings => _settings;

    /// <summary>Takes a setting as a state has it; computes nothing yet.</summary>
    /// <returns>Whether any reading has another value of it than before.</returns>
    public bool Take(int setting, DeskState state)
    {
        var (now, open, approved) = ValuesOf(setting, state);
        return Now.Set(setting, now) | Open.Set(setting, open) | Approved.Set(setting, approved);
    }

    /// <summary>Computes what the taken settings reach.</summary>
    public void Update()
    {
        Now.Update();
        Open.Update();
        Approved.Update();
    }

    /// <summary>Settings that the plan, or a fader's usual place, has otherwise than the desk. Valid until the next call.</summary>
    public List<int> Differing()
    {
        _differing.Clear();
        foreach (var id in _settings)
        {
            if (Open.State[id] != Approved.State[id])
                _differing.Add(id);
        }

        return _differing;
    }

    private (SettingValue Now, SettingValue Open, SettingValue Approved) ValuesOf(int id, DeskState state)
    {
        var now = state.IsFresh(id) ? state[id] : _unseen[id];
        if (_opened[id].HasValue)
            return (now, _opened[id], _opened[id]);
        var planned = _plan.For(id)?.Planned;
        if (!_isFader[id])
            return (now, now, planned ?? now);
        // A bus whose fader nobody plans stands where it stands; a channel's or DCA's goes to 0 dB.
        var place = planned ?? (_isSource[id] ? _unseen[id] : now);
        return (now, now.HasValue && now.Number > place.Number ? now : place, place);
    }

    private void TakeFader(int setting, bool isSource)
    {
        if (setting < 0)
            return;
        _isFader[setting] = true;
        _isSource[setting] = isSource;
    }

    /// <summary>One reading.</summary>
    internal sealed class View(RoutingMap map)
    {
        private bool _isLoaded;

        /// <summary>Its settings.</summary>
        public DeskState State { get; } = new(map.Profile);

        /// <summary>Its gains.</summary>
        public DeskRouting Routing { get; } = new(map, map.Profile.Behaviour);

        /// <summary>Sets a value; what it reaches is computed by <see cref="Update"/>.</summary>
        /// <returns>Whether it is another one than before.</returns>
        public bool Set(int id, SettingValue value)
        {
            if (State[id] == value)
                return false;
            if (value.HasValue)
                State.Apply(id, value);
            else
                State.MarkUnseen(id, UnseenReason.NotAsked);
            Routing.Touch(id);
            return true;
        }

        /// <summary>Computes what was set.</summary>
        public void Update()
        {
            if (_isLoaded)
                Routing.Update(State);
            else
                Routing.Load(State);
            _isLoaded = true;
        }

        /// <summary>Sets a value and computes what it reaches.</summary>
        public void Change(int id, SettingValue value)
        {
            Set(id, value);
            Update();
        }
    }
}
