using StateWatch.Core.Settings;

namespace StateWatch.Core.Documents;

/// <summary>
/// What may stand under a key. Readers take ranges, units and closed lists from it; the JSON Schemas and the reference are made from it.
/// </summary>
public abstract class ValueShape
{
    private protected ValueShape()
    {
    }
}

/// <summary>A single value that is taken as its text.</summary>
/// <param name="pattern">A regular expression (ECMA-262) that every good value matches, or null when only the desk profile or the plan can tell.</param>
public sealed class TextShape(string? pattern = null) : ValueShape
{
    /// <summary>Any text, an empty one too.</summary>
    public static TextShape Any { get; } = new();

    /// <summary>Any text that says something.</summary>
    public static TextShape Filled { get; } = new(@"\S");

    /// <summary>A regular expression (ECMA-262) that every good value matches, or null.</summary>
    public string? Pattern { get; } = pattern;
}

/// <summary>One word of a closed list.</summary>
/// <param name="words">The words.</param>
public sealed class WordShape(params IReadOnlyList<string> words) : ValueShape
{
    /// <summary>The words.</summary>
    public IReadOnlyList<string> Words { get; } = words;
}

/// <summary>A yes or no: <c>true</c>/<c>false</c>, <c>yes</c>/<c>no</c> or <c>on</c>/<c>off</c>.</summary>
public sealed class FlagShape : ValueShape
{
    private FlagShape()
    {
    }

    /// <summary>The only one.</summary>
    public static FlagShape One { get; } = new();
}

/// <summary>A whole number.</summary>
/// <param name="least">The smallest that is allowed.</param>
/// <param name="most">The largest that is allowed.</param>
public sealed class WholeShape(int least, int most) : ValueShape
{
    /// <summary>The smallest that is allowed.</summary>
    public int Least { get; } = least;

    /// <summary>The largest that is allowed.</summary>
    public int Most { get; } = most;
}

/// <summary>A number with a unit, such as <c>150 ms</c>; a bare number takes the unit.</summary>
/// <param name="unit">The unit, or <see cref="Unit.None"/> where any of them may stand.</param>
/// <param name="least">The smallest that is allowed, in the unit.</param>
/// <param name="most">The largest that is allowed, in the unit.</param>
public sealed class QuantityShape(Unit unit, double least, double most = double.PositiveInfinity) : ValueShape
{
    /// <summary>The unit, or <see cref="Unit.None"/> where any of them may stand.</summary>
    public Unit Unit { get; } = unit;

    /// <summary>The smallest that is allowed, in the unit.</summary>
    public double Least { get; } = least;

    /// <summary>The largest that is allowed, in the unit.</summary>
    public double Most { get; } = most;
}

/// <summary>A list.</summary>
/// <param name="item">What each item is.</param>
/// <param name="single">Whether one item may stand without brackets.</param>
/// <param name="least">The fewest items.</param>
/// <param name="most">The most items.</param>
/// <param name="distinct">Whether no item may stand twice.</param>
public sealed class ListShape(ValueShape item, bool single = false, int least = 0, int most = int.MaxValue, bool distinct = false) : ValueShape
{
    /// <summary>What each item is.</summary>
    public ValueShape Item { get; } = item;

    /// <summary>Whether one item may stand without brackets.</summary>
    public bool Single { get; } = single;

    /// <summary>The fewest items.</summary>
    public int Least { get; } = least;

    /// <summary>The most items.</summary>
    public int Most { get; } = most;

    /// <summary>Whether no item may stand twice.</summary>
    public bool Distinct { get; } = distinct;
}

/// <summary>A mapping whose keys are the writer's own: names, numbers, paths.</summary>
/// <param name="key">What each key is.</param>
/// <param name="value">What each value is.</param>
/// <param name="least">The fewest entries.</param>
/// <param name="most">The most entries.</param>
public sealed class MapShape(ValueShape key, ValueShape value, int least = 0, int most = int.MaxValue) : ValueShape
{
    /// <summary>What each key is.</summary>
    public ValueShape Key { get; } = key;

    /// <summary>What each value is.</summary>
    public ValueShape Value { get; } = value;

    /// <summary>The fewest entries.</summary>
    public int Least { get; } = least;

    /// <summary>The most entries.</summary>
    public int Most { get; } = most;

    /// <summary>Keys that already say a part of what others must say in their value, and the value they need; null when there are none.</summary>
    public (IReadOnlyList<string> Keys, ValueShape Value)? Telling { get; init; }
}

/// <summary>A mapping whose keys the language knows.</summary>
/// <param name="table">Its keys.</param>
/// <param name="also">Keys that are required here besides those the table requires.</param>
public sealed class TableShape(KeyTable table, params IReadOnlyList<string> also) : ValueShape
{
    /// <summary>Its keys.</summary>
    public KeyTable Table { get; } = table;

    /// <summary>Keys that are required here besides those the table requires.</summary>
    public IReadOnlyList<string> Also { get; } = also;
}

/// <summary>The value of a setting: what the catalogue lets it hold, <c>any</c> in a plan, and a level or number perhaps with its tolerance.</summary>
/// <param name="kinds">What it may hold.</param>
public sealed class SettingShape(ValueKinds kinds) : ValueShape
{
    /// <summary>What it may hold.</summary>
    public ValueKinds Kinds { get; } = kinds;
}

/// <summary>Setting paths of the catalogue as keys, with the value each must have.</summary>
/// <param name="other">What may stand in place of a value, or null where paths and values are exact: no ranges, no tolerance, no <c>any</c>.</param>
/// <param name="least">The fewest entries.</param>
public sealed class SettingsShape(ValueShape? other, int least = 0) : ValueShape
{
    /// <summary>What may stand in place of a value, or null where paths and values are exact.</summary>
    public ValueShape? Other { get; } = other;

    /// <summary>The fewest entries.</summary>
    public int Least { get; } = least;
}

/// <summary>One of several shapes.</summary>
/// <param name="shapes">The shapes.</param>
public sealed class EitherShape(params IReadOnlyList<ValueShape> shapes) : ValueShape
{
    /// <summary>The shapes.</summary>
    public IReadOnlyList<ValueShape> Shapes { get; } = shapes;
}
