using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace StateWatch.Core.Settings;

/// <summary>What kind of value a setting holds.</summary>
public enum ValueKind : byte
{
    /// <summary>No value: never read.</summary>
    None,

    /// <summary>A level in dB; negative infinity means off.</summary>
    Level,

    /// <summary>A number with a unit.</summary>
    Number,

    /// <summary>On or off.</summary>
    Switch,

    /// <summary>One of a list of words.</summary>
    Choice,

    /// <summary>Free text, such as a name.</summary>
    Text,

    /// <summary>A point signals come from or go to: a socket, a bus, or none.</summary>
    Point,
}

/// <summary>Unit of a number.</summary>
public enum Unit : byte
{
    /// <summary>A bare number.</summary>
    None,

    /// <summary>Decibels.</summary>
    Decibel,

    /// <summary>Milliseconds.</summary>
    Millisecond,

    /// <summary>Hertz.</summary>
    Hertz,

    /// <summary>Per cent.</summary>
    Percent,

    /// <summary>Kilohertz.</summary>
    Kilohertz,
}

/// <summary>
/// One canonical value, 16 bytes. Two spellings of one value are equal: levels and numbers on a desk's grid are compared by
/// their step, words and texts by their identity in the desk's <see cref="TextPool"/>.
/// </summary>
[StructLayout(LayoutKind.Sequential)]
public readonly struct SettingValue : IEquatable<SettingValue>
{
    private const int NoStep = -1;

    private readonly double _number;
    private readonly int _aux;
    private readonly ValueKind _kind;
    private readonly Unit _unit;

    private SettingValue(ValueKind kind, double number, int aux, Unit unit)
    {
        _number = number;
        _aux = aux;
        _kind = kind;
        _unit = unit;
    }

    /// <summary>What kind of value this is; <see cref="ValueKind.None"/> when never read.</summary>
    public ValueKind Kind => _kind;

    /// <summary>Unit of a number or level.</summary>
    public Unit Unit => _unit;

    /// <summary>The level in dB or the number in its unit; 0 for other kinds.</summary>
    public double Number => _number;

    /// <summary>The position on the desk's own grid, from 0, or -1 when the desk has none.</summary>
    public int Step => _aux;

    /// <summary>Identity of a choice, text or point in the <see cref="TextPool"/>.</summary>
    public int TextId => _aux;

    /// <summary>Whether a switch is on.</summary>
    public bool IsOn => _kind == ValueKind.Switch && _aux != 0;

    /// <summary>Whether there is a value.</summary>
    public bool HasValue => _kind != ValueKind.None;

    /// <summary>A level in dB.</summary>
    /// <param name="decibels">Negative infinity for off.</param>
    /// <param name="step">Position on the desk's grid, or -1.</param>
    public static SettingValue Level(double decibels, int step = NoStep) => new(ValueKind.Level, decibels, step, Unit.Decibel);

    /// <summary>A number with a unit.</summary>
    /// <param name="number">The number in <paramref name="unit"/>.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="step">Position on the desk's grid, or -1.</param>
    public static SettingValue OfNumber(double number, Unit unit, int step = NoStep) => new(ValueKind.Number, number, step, unit);

    /// <summary>On or off.</summary>
    public static SettingValue Switch(bool on) => new(ValueKind.Switch, 0, on ? 1 : 0, Unit.None);

    /// <summary>A word of a list.</summary>
    public static SettingValue Choice(int textId) => new(ValueKind.Choice, 0, textId, Unit.None);

    /// <summary>Free text.</summary>
    public static SettingValue Text(int textId) => new(ValueKind.Text, 0, textId, Unit.None);

    /// <summary>A patch point.</summary>
    public static SettingValue Point(int textId) => new(ValueKind.Point, 0, textId, Unit.None);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public bool Equals(SettingValue other) =>
        _kind == other._kind && _aux == other._aux && _unit == other._unit
        && (_kind > ValueKind.Number || (_aux != NoStep && _kind != ValueKind.None) || _number.Equals(other._number));

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is SettingValue other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode() =>
        _kind <= ValueKind.Number && _aux == NoStep ? HashCode.Combine(_kind, _number) : HashCode.Combine(_kind, _aux);

    /// <summary>Equality of canonical values.</summary>
    public static bool operator ==(SettingValue left, SettingValue right) => left.Equals(right);

    /// <summary>Inequality of canonical values.</summary>
    public static bool operator !=(SettingValue left, SettingValue right) => !left.Equals(right);
}
