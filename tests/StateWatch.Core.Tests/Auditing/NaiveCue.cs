namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// What a cue's names mean, read naively: a name is a strip's own, a role's, or what the names of one line have in common; of two names that
/// speak of one strip the one that stands for fewer strips counts. Shares no code with the compiler.
/// </summary>
internal sealed class NaiveCue
{
    private readonly Dictionary<string, (bool IsOpen, int Width)> _said = new(StringComparer.Ordinal);
    private readonly List<HashSet<string>> _alternatives = [];

    /// <summary>Reads a cue.</summary>
    /// <param name="cue">Its line.</param>
    /// <param name="strips">Every strip that can be named: its path, name, role, the stem its line's names have in common, and its set of spares.</param>
    /// <param name="returns">The returns of all effects.</param>
    public NaiveCue(object cue, List<NaiveStrip> strips, List<string> returns)
    {
        foreach (var (key, isOpen) in ((string, bool)[])[("open", true), ("closed", false)])
        {
            foreach (var (name, _) in NaiveYaml.Pairs(NaiveYaml.Find(cue, key)))
            {
                var meant = strips.Where(strip => strip.Name == name).ToList();
                if (meant.Count == 0)
                    meant = strips.Where(strip => strip.Role == name).ToList();
                if (meant.Count == 0)
                    meant = strips.Where(strip => strip.Stem == name).ToList();
                Say([.. meant.Select(strip => strip.Path)], isOpen);
            }
        }

        if (NaiveYaml.Text(cue, "effects") is { } effects)
            Say(returns, effects == "open");
        foreach (var set in strips.Where(strip => strip.OneOf is not null).GroupBy(strip => strip.OneOf))
            Gather([.. set.Select(strip => strip.Path)]);
    }

    /// <summary>What must be open by itself.</summary>
    public IEnumerable<string> Open => _said.Where(pair => pair.Value.IsOpen && !_alternatives.Any(set => set.Contains(pair.Key))).Select(pair => pair.Key);

    /// <summary>What must be closed.</summary>
    public IEnumerable<string> Closed => _said.Where(pair => !pair.Value.IsOpen).Select(pair => pair.Key);

    /// <summary>Sets of which any one must be open.</summary>
    public IReadOnlyList<HashSet<string>> Alternatives => _alternatives;

    private void Say(List<string> strips, bool isOpen)
    {
        foreach (var strip in strips)
        {
            if (!_said.TryGetValue(strip, out var before) || strips.Count < before.Width)
                _said[strip] = (isOpen, strips.Count);
        }
    }

    private void Gather(List<string> set)
    {
        var opened = set.Where(strip => _said.TryGetValue(strip, out var said) && said.IsOpen).ToList();
        if (opened.Count == 0)
            return;
        var width = opened.Min(strip => _said[strip].Width);
        var left = set.Where(strip => !_said.TryGetValue(strip, out var said) || said.IsOpen || said.Width > width).ToList();
        foreach (var strip in left)
            _said[strip] = (true, width);
        if (left.Count > 1)
            _alternatives.Add([.. left]);
    }
}

/// <summary>A strip as cues may name it.</summary>
internal sealed record NaiveStrip(string Path, string Name, string Role, string Stem, string? OneOf);
