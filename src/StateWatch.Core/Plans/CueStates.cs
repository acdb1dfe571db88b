using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>What the names of one cue say of strips, and what counts: a name that stands for fewer strips beats one that stands for more.</summary>
internal sealed class CueStates(DiagnosticBag diagnostics)
{
    private readonly List<(PlannedStrip Strip, bool Open, ScalarNode Said, int Width)> _said = [];

    /// <summary>Says that strips are open, or closed.</summary>
    public void Say(ScalarNode name, IReadOnlyList<PlannedStrip> strips, bool open)
    {
        foreach (var strip in strips)
            _said.Add((strip, open, name, strips.Count));
    }

    /// <summary>What must be open and what closed; equal names that contradict each other are an error that names both places.</summary>
    /// <param name="all">Every strip the plan names.</param>
    public (List<CueOpening> Open, List<CueClosing> Closed) Resolve(IReadOnlyList<PlannedStrip> all)
    {
        var open = new List<CueOpening>();
        var closed = new List<CueClosing>();
        var sets = new List<string>();
        var reported = new HashSet<Origin>();
        foreach (var group in _said.GroupBy(item => item.Strip.Strip.Id))
        {
            var first = group.MinBy(item => item.Width);
            if (group.FirstOrDefault(item => item.Width == first.Width && item.Open != first.Open) is { Said: not null } other && reported.Add(other.Said.At))
            {
                var (opens, closes) = first.Open ? (first, other) : (other, first);
                diagnostics.Add(PlanCodes.Conflict, closes.Said.At, $"{first.Strip.Name} is closed here but open at {opens.Said.At.Place}, and neither name is the narrower one", "keep one of the two");
            }

            if (first.Strip.OneOf is { } set && !sets.Contains(set))
                sets.Add(set);
            if (!first.Open)
                closed.Add(new CueClosing(first.Strip, first.Said, first.Width));
            else
                open.Add(new CueOpening([first.Strip], first.Said, first.Width));
        }

        foreach (var set in sets)
            Gather(set, all, open, closed);
        return (open, closed);
    }

    /// <summary>Names that change nothing, as the others say the same; those of no strip are told elsewhere.</summary>
    public List<ScalarNode> Needless()
    {
        var needless = new List<ScalarNode>();
        foreach (var name in _said.Select(item => item.Said).Distinct().Reverse())
        {
            if (_said.Where(item => item.Said == name).All(item => StateOf(item.Strip, needless) == StateOf(item.Strip, [.. needless, name])))
                needless.Add(name);
        }

        needless.Reverse();
        return needless;
    }

    // Whether a strip is open, closed or neither by all names but some.
    private bool? StateOf(PlannedStrip strip, List<ScalarNode> without)
    {
        bool? open = null;
        var width = int.MaxValue;
        foreach (var item in _said)
        {
            if (item.Strip != strip || item.Width >= width || without.Contains(item.Said))
                continue;
            (open, width) = (item.Open, item.Width);
        }

        return open;
    }

    // Naming one of a set names the set: any of them will do, apart from those that a name at least as narrow closes.
    private static void Gather(string set, IReadOnlyList<PlannedStrip> all, List<CueOpening> open, List<CueClosing> closed)
    {
        var opening = open.Where(item => item.Strips[0].OneOf == set).MinBy(item => item.Width);
        if (opening is null)
            return;
        closed.RemoveAll(item => item.Strip.OneOf == set && item.Width > opening.Width);
        open.RemoveAll(item => item != opening && item.Strips[0].OneOf == set);
        open[open.IndexOf(opening)] = opening with { Strips = [.. all.Where(strip => strip.OneOf == set && !closed.Any(item => item.Strip == strip))] };
    }
}
