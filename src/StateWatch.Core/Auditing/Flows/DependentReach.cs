using StateWatch.Core.Desks;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Flows;

/// <summary>
/// Whether a change can make a feed hang on another one or set it free: it must connect, part or tap something that enters a place from which
/// ways lead to the feed, or change who is in a group. Levels do not count until they are fully down, nor pans until they are hard over. Allocates
/// nothing after it is made.
/// </summary>
internal sealed class DependentReach
{
    private readonly SignalFlow _flow;
    private readonly IReadOnlyList<DependentFlow.Pair> _pairs;
    private readonly int[]?[] _entered;
    private readonly bool[] _isLevel;
    private readonly bool[] _isPan;
    private readonly bool[] _isMembership;
    private readonly bool[] _isIn;

    public DependentReach(SignalFlow flow, IReadOnlyList<DependentFlow.Pair> pairs)
    {
        _flow = flow;
        _pairs = pairs;
        var count = flow.Plan.Profile.Settings.Count;
        _entered = new int[]?[count];
        _isLevel = new bool[count];
        _isPan = new bool[count];
        _isMembership = new bool[count];
        _isIn = new bool[count];
        if (pairs.Count == 0)
            return;
        foreach (var setting in flow.Live.Inputs)
        {
            var edges = flow.Live.Depends.EdgesOf(setting);
            int[] patches = flow.Live.Depends.IsPatch(setting) ? [.. PatchesOf(setting)] : [];
            if (edges.Length + patches.Length == 0)
                continue;
            _entered[setting] = [.. edges, .. patches];
            foreach (ref var entered in _entered[setting].AsSpan())
                entered = flow.Map.Edges[entered].To;
        }

        foreach (var edge in flow.Map.Edges)
        {
            if (edge.Level >= 0 && edge.Kind == EdgeKind.Send)
                _isLevel[edge.Level] = true;
            if (edge.Pan >= 0)
                _isPan[edge.Pan] = true;
        }

        foreach (var member in flow.Map.Strips.SelectMany(strip => strip.Dcas.Select(dca => dca.Member).Concat(strip.MuteGroups.Select(group => group.Member))))
            _isMembership[member] = true;
    }

    /// <summary>Whether a change of the signal flow reaches a pair.</summary>
    public bool IsReached(int setting, SettingValue before, SettingValue after)
    {
        if (_entered[setting] is not { } entered
            || (_isLevel[setting] && double.IsNegativeInfinity(before.Number) == double.IsNegativeInfinity(after.Number))
            || (_isPan[setting] && !IsHard(before) && !IsHard(after)))
            return false;
        foreach (var node in entered)
        {
            for (var pair = 0; pair < _pairs.Count; pair++)
            {
                if (_pairs[pair].Leads[node])
                    return true;
            }
        }

        return false;
    }

    /// <summary>Whether a strip joined a group or left it since this was asked last.</summary>
    public bool Joins(int setting, DeskState state)
    {
        if (!_isMembership[setting])
            return false;
        var isIn = state[setting].IsOn;
        if (isIn == _isIn[setting])
            return false;
        _isIn[setting] = isIn;
        return true;
    }

    // What a patch, or the tap of a direct out, plugs.
    private IEnumerable<int> PatchesOf(int setting)
    {
        foreach (var strip in _flow.Map.Strips)
        {
            if (strip.Source == setting && strip.Loopback >= 0)
                yield return strip.Loopback;
        }

        var isDirect = _flow.Map.Strips.Any(strip => strip.DirectOut == setting || strip.DirectOutTap == setting);
        foreach (var output in _flow.Map.Outputs)
        {
            if (output.Source == setting)
                yield return output.SourceEdge;
            if (isDirect)
                yield return output.DirectEdge;
        }
    }

    private static bool IsHard(SettingValue pan) => !pan.HasValue || Math.Abs(pan.Number) >= (pan.Unit == Unit.Percent ? 100 : 1);
}
