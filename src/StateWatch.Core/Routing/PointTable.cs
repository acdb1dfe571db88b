namespace StateWatch.Core.Routing;

/// <summary>What a patch point such as <c>stage 12</c>, <c>main 1 left</c> or <c>input 3 direct</c> means, by its number in the desk's texts.</summary>
internal sealed class PointTable
{
    private readonly Dictionary<int, int> _gainOfSocket = [];
    private readonly Dictionary<int, (int Node, bool Direct)> _nodeOfPoint = [];
    private readonly Dictionary<int, int> _outputOfPoint = [];

    public PointTable(RoutingMap map)
    {
        var profile = map.Profile;
        foreach (var strip in profile.Strips)
        {
            if (strip.Kind == "socket")
                _gainOfSocket.TryAdd(profile.Texts.Intern($"{strip.Bank} {strip.Number}"), profile.Find($"{strip.Path}/gain"));
        }

        foreach (var stages in map.Strips)
        {
            var strip = profile.Strips[stages.Strip];
            var words = $"{strip.Kind} {strip.Number}";
            if (stages.Nodes.Length == 2)
            {
                _nodeOfPoint.TryAdd(profile.Texts.Intern($"{words} left"), (stages.Nodes[0], false));
                _nodeOfPoint.TryAdd(profile.Texts.Intern($"{words} right"), (stages.Nodes[1], false));
            }
            else
            {
                _nodeOfPoint.TryAdd(profile.Texts.Intern(words), (stages.Nodes[0], false));
                _nodeOfPoint.TryAdd(profile.Texts.Intern($"{words} direct"), (stages.Nodes[0], true));
            }
        }

        for (var i = 0; i < map.Outputs.Count; i++)
        {
            var strip = profile.Strips[map.Outputs[i].Strip];
            _outputOfPoint.TryAdd(profile.Texts.Intern($"{strip.Bank} {strip.Number}"), i);
        }
    }

    /// <summary>The gain setting of a socket, or -1 when there is none or the point is no socket.</summary>
    public int GainOf(int point) => _gainOfSocket.GetValueOrDefault(point, -1);

    /// <summary>The node a point takes its signal from, and whether before the fader at the direct-out tap; -1 when it is no strip.</summary>
    public (int Node, bool Direct) NodeOf(int point) => _nodeOfPoint.GetValueOrDefault(point, (-1, false));

    /// <summary>The output a direct out goes to, as index among the outputs; -1 when it is none.</summary>
    public int OutputOf(int point) => _outputOfPoint.GetValueOrDefault(point, -1);
}
