using StateWatch.Core.Desks;

namespace StateWatch.Core.Routing;

/// <summary>
/// What a feed depends on now: every fader, mute, DCA and mute group that moves or silences something of it, and every strip its signals
/// pass. Who wants a feed that the room does not touch (fader, mute, DCA and equaliser together) finds the room's strip here or not.
/// </summary>
public sealed class Dependence
{
    private readonly SortedSet<int> _controls = [];
    private readonly SortedSet<int> _strips = [];

    private Dependence()
    {
    }

    /// <summary>Settings that move or silence something of the feed: faders, mutes, DCA faders and mutes, mute groups; rising.</summary>
    public IReadOnlyCollection<int> Controls => _controls;

    /// <summary>Strips that something of the feed passes, taken anywhere on them; rising.</summary>
    public IReadOnlyCollection<int> Strips => _strips;

    /// <summary>Whether something of the feed passes a strip.</summary>
    public bool Passes(int strip) => _strips.Contains(strip);

    /// <summary>Finds what some columns depend on.</summary>
    /// <param name="routing">The signal flow, loaded from the state.</param>
    /// <param name="state">The state.</param>
    /// <param name="columns">The columns of the feed.</param>
    public static Dependence Of(DeskRouting routing, DeskState state, IReadOnlyList<int> columns)
    {
        var found = new Dependence();
        var stages = new StageReader(routing, state);
        for (var node = 0; node < routing.Map.Nodes.Count; node++)
        {
            foreach (var edge in routing.Graph.EdgesFrom(node))
            {
                if (routing.StripAt(node) is not { } strip || !Arrives(routing, routing.Graph.TargetOf(edge), columns))
                    continue;
                found._strips.Add(strip.Strip);
                found.AddControls(routing, state, strip, stages.IsAfterFader(edge), stages.IsAfterMute(edge));
            }
        }

        foreach (var column in columns)
        {
            if (routing.Map.Nodes[routing.Map.Terminals[column]].Kind == NodeKind.Output && routing.Map.Outputs[routing.OutputAt(routing.Map.Terminals[column])].On is >= 0 and var on)
                found._controls.Add(on);
        }

        return found;
    }

    private static bool Arrives(DeskRouting routing, int node, IReadOnlyList<int> columns)
    {
        foreach (var column in columns)
        {
            if (routing.Graph.Total(node)[column] != 0)
                return true;
        }

        return false;
    }

    private void AddControls(DeskRouting routing, DeskState state, StripStages strip, bool afterFader, bool afterMute)
    {
        if (afterMute && strip.On >= 0)
            _controls.Add(strip.On);
        if (afterFader && strip.Fader >= 0)
            _controls.Add(strip.Fader);
        foreach (var (member, on, fader) in strip.Dcas)
        {
            if (!state[member].IsOn)
                continue;
            if (afterMute && on >= 0)
                _controls.Add(on);
            if (fader >= 0 && (afterFader || (routing.Behaviour.DcaMovesPreFader && afterMute)))
                _controls.Add(fader);
        }

        foreach (var (member, active) in strip.MuteGroups)
        {
            if (afterMute && active >= 0 && state[member].IsOn)
                _controls.Add(active);
        }
    }
}
