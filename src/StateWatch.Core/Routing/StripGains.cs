using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>What each strip does to its signal before and after the fader, from live settings.</summary>
internal sealed class StripGains
{
    private readonly RoutingMap _map;
    private readonly DeskBehaviour _behaviour;
    private readonly LevelFactors _levels;
    private readonly PointTable _points;
    private readonly double[] _input;
    private readonly double[] _pre;
    private readonly double[] _post;
    private readonly int _tapInput;
    private readonly int _tapPostFader;
    private readonly int _tapPostPan;

    public StripGains(RoutingMap map, DeskBehaviour behaviour, LevelFactors levels, PointTable points)
    {
        _map = map;
        _behaviour = behaviour;
        _levels = levels;
        _points = points;
        _input = new double[map.Strips.Count];
        _pre = new double[map.Strips.Count];
        _post = new double[map.Strips.Count];
        _tapInput = map.Profile.Texts.Intern("input");
        _tapPostFader = map.Profile.Texts.Intern("post-fader");
        _tapPostPan = map.Profile.Texts.Intern("post-pan");
    }

    /// <summary>Gain after the fader.</summary>
    public double Post(int strip) => _post[strip];

    /// <summary>Gain at a tap; sends whose tap no setting tells are taken after the fader.</summary>
    public double At(int strip, int tapSetting, DeskState state)
    {
        if (tapSetting < 0)
            return _post[strip];
        var tap = state[tapSetting];
        if (!tap.HasValue || tap.TextId == _tapPostFader || tap.TextId == _tapPostPan)
            return _post[strip];
        // What is taken at the input follows no mute.
        return tap.TextId == _tapInput ? _input[strip] : _pre[strip];
    }

    /// <summary>Computes a strip again.</summary>
    /// <returns>Whether anything changed, and whether something became silent or stopped being so.</returns>
    public (bool Changed, bool Toggled) Update(int strip, DeskState state)
    {
        var stages = _map.Strips[strip];
        var input = _levels.Of(stages.Trim, Value(state, stages.Trim)) * SocketGain(stages, state);
        if (IsOn(state, stages.Polarity))
            input = -input;
        var open = stages.On < 0 || state[stages.On].IsOn;
        var dcas = 1.0;
        foreach (var (member, on, fader) in stages.Dcas)
        {
            if (!state[member].IsOn)
                continue;
            open &= on < 0 || state[on].IsOn;
            dcas *= _levels.Of(fader, Value(state, fader));
        }

        foreach (var (member, active) in stages.MuteGroups)
            open &= active < 0 || !state[active].IsOn || !state[member].IsOn;
        var pre = input * (open || !_behaviour.MuteStopsPreFader ? 1 : 0) * (_behaviour.DcaMovesPreFader ? dcas : 1);
        var post = input * (open ? 1 : 0) * _levels.Of(stages.Fader, Value(state, stages.Fader)) * dcas;
        var toggled = Toggles(_input[strip], input) || Toggles(_pre[strip], pre) || Toggles(_post[strip], post);
        var changed = !_input[strip].Equals(input) || !_pre[strip].Equals(pre) || !_post[strip].Equals(post);
        (_input[strip], _pre[strip], _post[strip]) = (input, pre, post);
        return (changed, toggled);
    }

    private double SocketGain(StripStages stages, DeskState state)
    {
        if (stages.Source < 0)
            return 1;
        var gain = _points.GainOf(state[stages.Source].TextId);
        return gain < 0 || !state[gain].HasValue ? 1 : _levels.Of(gain, state[gain]);
    }

    private static SettingValue Value(DeskState state, int setting) => setting < 0 ? default : state[setting];

    private static bool IsOn(DeskState state, int setting) => setting >= 0 && state[setting].IsOn;

    private static bool Toggles(double before, double after) => before == 0 != (after == 0);
}
