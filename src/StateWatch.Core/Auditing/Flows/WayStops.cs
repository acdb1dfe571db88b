using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>The stages that stop a way; where none stops it alone, the one that takes most. Allocates nothing once its list is long enough.</summary>
/// <param name="flow">The flow.</param>
/// <param name="mayBeMember">Whether a membership in a DCA or mute group is as planned, or no plan line speaks of it.</param>
internal sealed class WayStops(SignalFlow flow, Func<int, bool> mayBeMember)
{
    private readonly StageReader _reader = new(flow.Live, flow.View);
    private readonly List<Stage> _stages = [];

    /// <summary>Adds the settings that stop a planned way to a list.</summary>
    public void AddTo(List<int> stops, Way way)
    {
        var before = stops.Count;
        var (worst, most) = (-1, 0.0);
        for (var i = 0; i < way.Steps.Count; i++)
        {
            var step = way.Steps[i];
            if (flow.Live.Graph.SourceOf(step.Edge) != step.From)
            {
                stops.Add(PatchOf(flow.Map.Edges[step.Edge]));
                continue;
            }

            _stages.Clear();
            _reader.AddTo(_stages, step.Edge);
            foreach (var stage in _stages)
            {
                if (stage.Setting < 0 || stage.Kind == StageKind.Patch)
                    continue;
                if (stage.Stops)
                    stops.Add(BlamedFor(step.From, stage.Setting));
                var taken = PlannedLevel(step, stage.Setting) - stage.Level;
                if (taken > most && !stage.Stops)
                    (worst, most) = (BlamedFor(step.From, stage.Setting), taken);
            }
        }

        if (stops.Count == before && worst >= 0)
            stops.Add(worst);
    }

    // A bus that hangs on a DCA or mute group where the plan does not want it: its membership is to blame.
    private int BlamedFor(int node, int setting)
    {
        if (flow.Live.StripAt(node) is not { } strip || flow.Plan.Profile.Strips[strip.Strip].Kind == "input")
            return setting;
        foreach (var (member, on, fader) in strip.Dcas)
        {
            if ((on == setting || fader == setting) && !mayBeMember(member))
                return member;
        }

        foreach (var (member, active) in strip.MuteGroups)
        {
            if (active == setting && !mayBeMember(member))
                return member;
        }

        return setting;
    }

    // What decides which node an edge leaves.
    private int PatchOf(RoutingEdge edge) => edge.Kind == EdgeKind.Loopback
        ? flow.Live.StripAt(edge.To)?.Source ?? -1
        : flow.Map.Outputs[flow.Planned.OutputAt(edge.To)].Source;

    private static double PlannedLevel(WayStep step, int setting)
    {
        for (var i = 0; i < step.Stages.Count; i++)
        {
            if (step.Stages[i].Setting == setting)
                return step.Stages[i].Level;
        }

        return 0;
    }
}
