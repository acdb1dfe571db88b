namespace StateWatch.Core.Records;

/// <summary>What became of one setting between two moments.</summary>
/// <param name="Setting">Its path.</param>
/// <param name="IsPlanned">Whether the plan said something of it when it last changed.</param>
/// <param name="Changes">How often it changed; what moved on and on counts each time it was written down.</param>
/// <param name="First">When it changed first.</param>
/// <param name="Last">When it changed last.</param>
/// <param name="Before">Canonical value before; null when it was not known.</param>
/// <param name="After">Canonical value afterwards; null when it was no longer known.</param>
public sealed record SettingMove(string Setting, bool IsPlanned, int Changes, DateTimeOffset First, DateTimeOffset Last, string? Before, string? After)
{
    /// <summary>Whether it has another value than before; else it was moved and moved back.</summary>
    public bool Differs => !string.Equals(Before, After, StringComparison.Ordinal);
}

/// <summary>What became of one strip.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Strip">Its path, such as <c>input/31</c>; <c>desk</c> for the desk itself.</param>
/// <param name="Name">Its planned name where that is known, or null.</param>
/// <param name="Moves">Its settings that changed, by path.</param>
public sealed record StripMove(string Desk, string Strip, string? Name, IReadOnlyList<SettingMove> Moves);

/// <summary>Gathers changes of settings by strip.</summary>
public static class StripChanges
{
    /// <summary>All strips of which something changed, by desk, kind and number.</summary>
    /// <param name="changes">The changes, in order.</param>
    /// <param name="names">Planned names by <c>site/desk/strip</c>.</param>
    public static IReadOnlyList<StripMove> Of(IEnumerable<RecordedChange> changes, IReadOnlyDictionary<string, string> names)
    {
        var moves = new Dictionary<(string Desk, string Setting), SettingMove>();
        foreach (var (desk, change) in changes)
        {
            var key = (desk, change.Setting);
            moves[key] = moves.TryGetValue(key, out var known)
                ? known with { IsPlanned = change.Planned, Changes = known.Changes + 1, Last = change.At, After = change.After }
                : new SettingMove(change.Setting, change.Planned, 1, change.At, change.At, change.Before, change.After);
        }

        return [.. moves.GroupBy(static move => (move.Key.Desk, Strip: StripOf(move.Key.Setting)))
            .OrderBy(static strip => strip.Key.Desk, StringComparer.Ordinal).ThenBy(static strip => strip.Key.Strip, ByNumber.Order)
            .Select(strip => new StripMove(strip.Key.Desk, strip.Key.Strip, names.GetValueOrDefault($"{strip.Key.Desk}/{strip.Key.Strip}"), [.. strip.Select(static move => move.Value).OrderBy(static move => move.Setting, ByNumber.Order)]))];
    }

    /// <summary>The strip of a setting: the first two parts of its path, <c>desk</c> for the desk's own.</summary>
    public static string StripOf(string setting)
    {
        var kind = setting.IndexOf('/', StringComparison.Ordinal);
        if (kind < 0 || setting.AsSpan(0, kind) is "desk")
            return kind < 0 ? setting : "desk";
        var number = setting.IndexOf('/', kind + 1);
        return number < 0 ? setting : setting[..number];
    }

    // input/2 before input/10.
    private sealed class ByNumber : IComparer<string>
    {
        public static ByNumber Order { get; } = new();

        public int Compare(string? one, string? other)
        {
            var (ours, theirs) = (one!.Split('/'), other!.Split('/'));
            for (var i = 0; i < ours.Length && i < theirs.Length; i++)
            {
                var order = int.TryParse(ours[i], out var left) && int.TryParse(theirs[i], out var right) ? left.CompareTo(right) : string.CompareOrdinal(ours[i], theirs[i]);
                if (order != 0)
                    return order;
            }

            return ours.Length.CompareTo(theirs.Length);
        }
    }
}
