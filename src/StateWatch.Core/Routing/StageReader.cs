using StateWatch.Core.Acoustics;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Routing;

/// <summary>
/// Reads what stands on an edge and on the strip before it, stage by stage, for people and for the search of what would open a way. The
/// gains themselves come from the graph; here only levels are told.
/// </summary>
public sealed class StageReader
{
    private readonly DeskRouting _routing;
    private readonly RoutingMap _map;
    private readonly DeskState _state;
    private readonly int _input;
    private readonly int _postFader;
    private readonly int _postPan;

    /// <summary>Reads from a state.</summary>
    /// <param name="routing">The signal flow of the same state.</param>
    /// <param name="state">The state.</param>
    public StageReader(DeskRouting routing, DeskState state)
    {
        _routing = routing;
        _map = routing.Map;
        _state = state;
        _input = _map.Profile.Texts.Intern("input");
        _postFader = _map.Profile.Texts.Intern("post-fader");
        _postPan = _map.Profile.Texts.Intern("post-pan");
    }

    /// <summary>All stages from the strip an edge leaves up to the end of the edge.</summary>
    public List<Stage> Of(int number)
    {
        var stages = new List<Stage>();
        AddTo(stages, number);
        return stages;
    }

    /// <summary>Adds all stages from the strip an edge leaves up to the end of the edge to a list. Allocates nothing that the list has room for.</summary>
    internal void AddTo(List<Stage> stages, int number)
    {
        var edge = _map.Edges[number];
        var from = _routing.Graph.SourceOf(number);
        if (_routing.StripAt(from) is { } strip)
            AddStrip(stages, strip, PointOf(number));
        switch (edge.Kind)
        {
            case EdgeKind.Assign:
                stages.Add(Switch(StageKind.Assign, edge.On));
                break;
            case EdgeKind.Send:
                stages.Add(Switch(StageKind.Send, edge.On));
                if (edge.Level >= 0)
                    stages.Add(new Stage(StageKind.SendLevel, edge.Level, LevelOf(edge.Level)));
                break;
            case EdgeKind.Talk:
                stages.Add(Switch(StageKind.Talk, edge.Level));
                stages.Add(Switch(StageKind.Talk, edge.On));
                break;
            case EdgeKind.Effect:
                stages.Add(new Stage(StageKind.Effect, -1, 0));
                break;
            case EdgeKind.Output or EdgeKind.DirectOut:
                var output = _map.Outputs[_routing.OutputAt(edge.To)];
                stages.Add(new Stage(StageKind.Patch, output.Source, 0));
                if (output.On >= 0)
                    stages.Add(Switch(StageKind.OutputMute, output.On));
                break;
        }

        if (edge.Kind is EdgeKind.Assign or EdgeKind.Send && _routing.ShareOf(number, _state) is not 1 and var share)
            stages.Add(new Stage(StageKind.Pan, edge.Pan, Decibels.OfFactor(share)));
    }

    /// <summary>Whether what an edge carries is taken after the fader of the strip before it.</summary>
    internal bool IsAfterFader(int number) => PointOf(number) is var point && (point == _postFader || point == _postPan);

    /// <summary>Whether the mute of the strip before it silences an edge.</summary>
    internal bool IsAfterMute(int number) => IsAfterFader(number) || (PointOf(number) != _input && _routing.Behaviour.MuteStopsPreFader);

    private int PointOf(int number)
    {
        var tap = _routing.StripAt(_routing.Graph.SourceOf(number)) is { } strip ? TapOf(_map.Edges[number], number, strip) : -1;
        return tap >= 0 && _state[tap].HasValue ? _state[tap].TextId : _postFader;
    }

    private int TapOf(RoutingEdge edge, int number, StripStages strip) => edge.Kind switch
    {
        EdgeKind.Send => edge.Tap,
        EdgeKind.Output or EdgeKind.DirectOut when _routing.IsDirect(number) => strip.DirectOutTap,
        _ => -1,
    };

    private void AddStrip(List<Stage> stages, StripStages strip, int point)
    {
        if (strip.Source >= 0 && _routing.SocketGainOf(strip, _state) is >= 0 and var gain)
            stages.Add(new Stage(StageKind.Gain, gain, LevelOf(gain)));
        if (strip.Trim >= 0 && LevelOf(strip.Trim) != 0)
            stages.Add(new Stage(StageKind.Trim, strip.Trim, LevelOf(strip.Trim)));
        if (strip.Polarity >= 0 && _state[strip.Polarity].IsOn)
            stages.Add(new Stage(StageKind.Polarity, strip.Polarity, 0));
        if (point == _input)
            return;
        var post = point == _postFader || point == _postPan;
        if (post || _routing.Behaviour.MuteStopsPreFader)
            AddMutes(stages, strip);
        if (post && strip.Fader >= 0)
            stages.Add(new Stage(StageKind.Fader, strip.Fader, LevelOf(strip.Fader)));
        if (!post && !_routing.Behaviour.DcaMovesPreFader)
            return;
        foreach (var (member, _, fader) in strip.Dcas)
        {
            if (_state[member].IsOn && fader >= 0)
                stages.Add(new Stage(StageKind.DcaFader, fader, LevelOf(fader)));
        }
    }

    private void AddMutes(List<Stage> stages, StripStages strip)
    {
        if (strip.On >= 0)
            stages.Add(Switch(StageKind.Mute, strip.On));
        foreach (var (member, on, _) in strip.Dcas)
        {
            if (on >= 0 && _state[member].IsOn)
                stages.Add(Switch(StageKind.DcaMute, on));
        }

        foreach (var (member, active) in strip.MuteGroups)
        {
            if (active >= 0 && _state[member].IsOn && _state[active].IsOn)
                stages.Add(new Stage(StageKind.MuteGroup, active, double.NegativeInfinity));
        }
    }

    private Stage Switch(StageKind kind, int setting) => new(kind, setting, _state[setting].IsOn ? 0 : double.NegativeInfinity);

    private double LevelOf(int setting) => _state[setting].HasValue ? _state[setting].Number : double.NegativeInfinity;
}
