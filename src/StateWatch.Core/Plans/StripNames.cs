using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>
/// Finds the strips that a name in a cue or a coupling stands for: inputs, groups and effect returns by name, roles, and
/// all strips of a line by what its name template has besides placeholders (<c>Handheld</c> for <c>Handheld {n}</c>).
/// </summary>
internal sealed class StripNames(PlanDocument document, IReadOnlyList<PlannedStrip> strips, PlanNames names, DiagnosticBag diagnostics)
{
    // Comparing a word with every name takes its time; a hostile file could ask for it a hundred thousand times.
    private const int MostSuggestions = 20;

    private readonly Dictionary<string, List<PlannedStrip>> _byName = Group(strips, strip => strip.Name);
    private readonly Dictionary<string, List<PlannedStrip>> _byRole = Group(strips, strip => strip.Role);
    private readonly Dictionary<string, List<PlannedStrip>> _byStem = Stems(document, strips);
    private readonly HashSet<Origin> _reported = [];
    private int _suggestions;

    /// <summary>Whether strips are missing because of faults that are told elsewhere.</summary>
    public bool IsIncomplete { get; set; }

    /// <summary>Whether the strips that can be meant are inputs only.</summary>
    public bool InputsOnly { get; init; }

    /// <summary>The returns of all effects.</summary>
    public IReadOnlyList<PlannedStrip> Effects { get; } = document.Effects.Count == 0 ? []
        : [.. strips.Where(strip => document.Effects.Any(effect => effect.Return?.At == strip.At))];

    /// <summary>The strips of a name; empty after a diagnostic, and for a role that no input has, which is told where it is defined.</summary>
    public IReadOnlyList<PlannedStrip> Strips(ScalarNode name)
    {
        var isRole = document.Roles.Any(role => role.Key.Text == name.Text);
        var named = _byName.GetValueOrDefault(name.Text);
        if (named is not null)
        {
            var others = isRole ? _byRole.GetValueOrDefault(name.Text) ?? [] : named;
            if (named.Any(strip => strip.Strip.Kind != named[0].Strip.Kind) || !others.ToHashSet().SetEquals(named))
                Report(PlanCodes.NameTwice, name.At, $"'{name.Text}' is the name of {Words(named)}{(isRole ? " and of a role" : "")}", "give one of them another name, so that it is clear which is meant");
            return named;
        }

        if (isRole)
            return _byRole.GetValueOrDefault(name.Text) ?? [];
        if (_byStem.TryGetValue(name.Text, out var line))
            return line;
        if (!InputsOnly && document.Effects.FirstOrDefault(effect => effect.Keys.Name?.Text == name.Text) is { Return: null })
            Report(PlanCodes.NoSuchStrip, name.At, $"effect '{name.Text}' has no return, so nothing can open or close it", "add return: fx-return 1 to the effect");
        else if (!IsIncomplete)
            Unknown(name);
        return [];
    }

    private void Unknown(ScalarNode name)
    {
        var known = _suggestions++ < MostSuggestions ? [.. _byName.Keys, .. document.Roles.Select(role => role.Key.Text), .. _byStem.Keys] : new List<string>();
        if (InputsOnly)
            names.Unknown(name, "input or role", known, "write a name as it stands under inputs or roles");
        else
            names.Unknown(name, "input, role, group or effect", known, "write a name as it stands under inputs, roles, groups or effects");
    }

    private static string Words(List<PlannedStrip> named) => string.Join(" and ", named.Select(strip => strip.Strip.Path.Replace('/', ' ')).Take(3));

    private void Report(DiagnosticCode code, Origin at, string message, string advice)
    {
        if (_reported.Add(at))
            diagnostics.Add(code, at, message, advice);
    }

    private static Dictionary<string, List<PlannedStrip>> Group(IReadOnlyList<PlannedStrip> strips, Func<PlannedStrip, string> key)
    {
        var groups = new Dictionary<string, List<PlannedStrip>>(StringComparer.Ordinal);
        foreach (var strip in strips)
            Add(groups, key(strip), strip);
        return groups;
    }

    private static Dictionary<string, List<PlannedStrip>> Stems(PlanDocument document, IReadOnlyList<PlannedStrip> strips)
    {
        var stems = new Dictionary<string, List<PlannedStrip>>(StringComparer.Ordinal);
        var byPath = new Dictionary<string, PlannedStrip>(strips.Count, StringComparer.Ordinal);
        foreach (var strip in strips)
            byPath.TryAdd(strip.Strip.Path, strip);
        void AddLine(string kind, IReadOnlyList<int> numbers, StripKeys keys)
        {
            if (keys.Name is not { } name || NameTemplate.Stem(name.Text) is not { Length: > 0 } stem)
                return;
            for (var i = 0; i < numbers.Count; i++)
            {
                if (byPath.TryGetValue($"{kind}/{numbers[i]}", out var strip)
                    && strip.Name == NameTemplate.Expand(name.Text, i, numbers[i], keys.IsStereo || numbers.Count == 2))
                    Add(stems, stem, strip);
            }
        }

        foreach (var line in document.Inputs)
            AddLine("input", line.Numbers, line.Keys);
        foreach (var line in document.Groups)
            AddLine("group", line.Numbers, line.Keys);
        foreach (var effect in document.Effects)
        {
            if (effect.Return is not null && NumberSet.TryParseWithWord(effect.Return.Text, out var kind, out var numbers))
                AddLine(kind, numbers, effect.Keys);
        }

        return stems;
    }

    private static void Add(Dictionary<string, List<PlannedStrip>> groups, string key, PlannedStrip strip)
    {
        if (!groups.TryGetValue(key, out var group))
            groups.Add(key, group = []);
        group.Add(strip);
    }
}
