using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles.Codecs;

/// <summary>
/// A level or number, by a piecewise-linear table (wire, value) or as it is. With steps, values lie on the desk's own grid and are
/// compared by step, so that a quantised fader never differs by less than the desk can move it.
/// </summary>
public sealed class ScaleCodec : Codec
{
    private readonly double[] _wires;
    private readonly double[] _values;
    private readonly double[] _grid;
    private readonly Unit _unit;

    /// <summary>Makes the codec.</summary>
    /// <param name="name">Name in the profile.</param>
    /// <param name="kind">Level or number.</param>
    /// <param name="wire">Int or float.</param>
    /// <param name="unit">Unit of the value.</param>
    /// <param name="table">Points (wire, value), wires and values rising; empty for "as it is". A first value of -inf means off.</param>
    /// <param name="steps">Wire positions from the first point to the last, equally spaced; 0 for none.</param>
    /// <param name="texts">The desk's texts.</param>
    public ScaleCodec(string name, ValueKind kind, WireKind wire, Unit unit, IReadOnlyList<(double Wire, double Value)> table, int steps, TextPool texts)
        : base(name, kind, wire, texts)
    {
        _unit = unit;
        _wires = [.. table.Select(point => point.Wire)];
        _values = [.. table.Select(point => point.Value)];
        _grid = new double[table.Count > 0 ? steps : 0];
        for (var step = 0; step < _grid.Length; step++)
            _grid[step] = ValueAt(WireOf(step));
    }

    /// <summary>How many positions the desk has; 0 when it has no grid.</summary>
    public int Steps => _grid.Length;

    /// <summary>The value at a position of the desk's grid, in the codec's unit.</summary>
    /// <param name="step">0 to <see cref="Steps"/> - 1.</param>
    public double AtStep(int step) => _grid[step];

    /// <summary>The same as the desk would send it.</summary>
    /// <param name="step">0 to <see cref="Steps"/> - 1.</param>
    public SettingValue ValueAtStep(int step) => Make(_grid[step], step);

    /// <inheritdoc/>
    public override SettingValue AfterReset => Kind == ValueKind.Level
        ? Snap(double.NegativeInfinity)
        : Snap(_values.Length > 0 ? Math.Clamp(0, _values[0], _values[^1]) : 0);

    /// <inheritdoc/>
    public override bool TryDecode(in OscArgument argument, out SettingValue value)
    {
        value = default;
        if (argument.Type is OscType.True or OscType.False || !argument.TryGetNumber(out var wire) || double.IsNaN(wire))
            return false;
        // A desk that sends its levels as they are may send -inf for off; nothing else that is not finite has a place on a fader.
        if (double.IsInfinity(wire) && (_wires.Length > 0 || Kind != ValueKind.Level || wire > 0))
            return false;
        if (_grid.Length > 0)
        {
            var span = _wires[^1] - _wires[0];
            var step = (int)Math.Clamp(Math.Round((wire - _wires[0]) / span * (_grid.Length - 1)), 0, _grid.Length - 1);
            value = Make(_grid[step], step);
            return true;
        }

        value = Make(_wires.Length > 0 ? ValueAt(wire) : wire, -1);
        return true;
    }

    /// <inheritdoc/>
    public override void Encode(SettingValue value, ref OscWriter writer)
    {
        var wire = _grid.Length > 0 ? WireOf(value.Step) : _wires.Length > 0 ? WireAt(value.Number) : value.Number;
        if (Wire == WireKind.Int)
            writer.Int32((int)Math.Clamp(Math.Round(wire, MidpointRounding.AwayFromZero), int.MinValue, int.MaxValue));
        else
            writer.Float32((float)wire);
    }

    /// <inheritdoc/>
    public override bool TryParse(string text, out SettingValue value, out string? problem)
    {
        value = default;
        if (!ValueText.TryParseNumber(text, _unit, out var number))
        {
            problem = _unit == Unit.None
                ? $"'{text}' is not a number"
                : $"'{text}' is not a value in {_unit.Word()}; write it like '{(Kind == ValueKind.Level ? "-10" : "5")} {_unit.Word()}'";
            return false;
        }

        if (_values.Length > 0 && (number > _values[^1] + 1e-9 || (number < _values[0] - 1e-9)))
        {
            problem = $"{text} is outside what this desk can do here: {ValueText.Format(Make(_values[0], -1), Texts)} to "
                + ValueText.Format(Make(_values[^1], -1), Texts);
            return false;
        }

        if (Kind == ValueKind.Number && double.IsInfinity(number))
        {
            problem = $"'{text}' is not a number that can be set here";
            return false;
        }

        value = Snap(number);
        problem = null;
        return true;
    }

    /// <summary>The nearest value the desk can hold.</summary>
    public SettingValue Snap(double number)
    {
        if (_grid.Length == 0)
            return Make(_wires.Length > 0 ? Math.Clamp(number, _values[0], _values[^1]) : Wire == WireKind.Float ? (float)number : number, -1);
        var step = NearestStep(number);
        return Make(_grid[step], step);
    }

    /// <summary>The lowest and highest values within a tolerance of a number; never empty: at least the nearest step.</summary>
    /// <param name="number">The middle, in the codec's unit; -inf allows only what the desk calls off.</param>
    /// <param name="tolerance">Half width, in the same unit, not negative.</param>
    public (SettingValue Low, SettingValue High) Around(double number, double tolerance)
    {
        if (_grid.Length == 0)
        {
            // Float spelling of a decimal is no difference: a ten-thousandth, and for levels half of what desks show.
            var slack = Math.Max(tolerance, Kind == ValueKind.Level ? 0.05 : 1e-4 * Math.Max(1, Math.Abs(number)));
            return double.IsNegativeInfinity(number) ? (Make(number, -1), Make(number, -1)) : (Make(number - slack, -1), Make(number + slack, -1));
        }

        var nearest = NearestStep(number);
        var low = Below(Math.Min(number - tolerance - 1e-9, _grid[nearest]), orAt: false);
        var high = Below(Math.Max(number + tolerance + 1e-9, _grid[nearest]), orAt: true) - 1;
        return (Make(_grid[low], low), Make(_grid[high], high));
    }

    /// <summary>The size of the desk's step around a number, in the codec's unit; 0 when it has no grid.</summary>
    public double StepAround(double number)
    {
        if (_grid.Length < 2)
            return 0;
        var step = NearestStep(number);
        var up = step < _grid.Length - 1 ? _grid[step + 1] - _grid[step] : 0;
        var down = step > 0 ? _grid[step] - _grid[step - 1] : 0;
        return double.IsFinite(down) ? Math.Max(up, down) : up;
    }

    private SettingValue Make(double number, int step) =>
        Kind == ValueKind.Level ? SettingValue.Level(number, step) : SettingValue.OfNumber(number, _unit, step);

    private int NearestStep(double number)
    {
        var at = Array.BinarySearch(_grid, number);
        if (at >= 0)
        {
            // Every step between "off" and the first level has that level; the desk itself sends it as the last of them.
            return Below(_grid[at], orAt: true) - 1;
        }

        at = ~at;
        if (at == 0)
            return 0;
        if (at == _grid.Length)
            return at - 1;
        return number - _grid[at - 1] < _grid[at] - number ? at - 1 : at;
    }

    // How many steps lie below a number, or below and at it. A run of equal steps, or a tolerance, may be as wide as the grid.
    private int Below(double number, bool orAt)
    {
        var (low, high) = (0, _grid.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_grid[middle] < number || (orAt && _grid[middle] <= number))
                low = middle + 1;
            else
                high = middle;
        }

        return low;
    }

    private double WireOf(int step) => _wires[0] + (_wires[^1] - _wires[0]) * step / (_grid.Length - 1);

    // Piecewise-linear interpolation, clamped outside; above a first -inf the second point's value holds.
    private double ValueAt(double wire)
    {
        if (wire <= _wires[0])
            return _values[0];
        if (wire > _wires[^1])
            return _values[^1];
        var found = Array.BinarySearch(_wires, wire);
        var i = found >= 0 ? found : ~found;
        if (double.IsNegativeInfinity(_values[i - 1]))
            return _values[i];
        return _values[i - 1] + (_values[i] - _values[i - 1]) * (wire - _wires[i - 1]) / (_wires[i] - _wires[i - 1]);
    }

    private double WireAt(double number)
    {
        if (number <= _values[0])
            return _wires[0];
        for (var i = 1; i < _values.Length; i++)
        {
            if (number > _values[i])
                continue;
            if (double.IsNegativeInfinity(_values[i - 1]))
                return _wires[i];
            return _wires[i - 1] + (_wires[i] - _wires[i - 1]) * (number - _values[i - 1]) / (_values[i] - _values[i - 1]);
        }

        return _wires[^1];
    }
}
