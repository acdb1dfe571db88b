using System.Globalization;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>A number with a unit that no setting of a desk has: a length, an angle, what data sheets say.</summary>
/// <param name="unit">The unit that a bare number takes, or empty.</param>
/// <param name="least">The smallest that is allowed.</param>
/// <param name="most">The largest that is allowed.</param>
internal sealed class Measure(string unit, double least, double most)
{
    /// <summary>Metres.</summary>
    public static Measure Length { get; } = new("m", 0.02, 500) { Hundredth = "cm" };

    /// <summary>Degrees off a microphone's front.</summary>
    public static Measure Angle { get; } = new("deg", 0, 180);

    /// <summary>A coupling's loss in dB.</summary>
    public static Measure Loss { get; } = new("dB", -20, 120);

    /// <summary>A loudspeaker's level at 1 m for 2.83 V, in dB.</summary>
    public static Measure LoudspeakerSensitivity { get; } = new("dB", 60, 140);

    /// <summary>An amplifier's voltage gain in dB.</summary>
    public static Measure Amplifier { get; } = new("dB", 0, 80);

    /// <summary>A microphone's mV per Pa.</summary>
    public static Measure MicrophoneSensitivity { get; } = new("mV", 0.01, 1000);

    /// <summary>The unit of a hundredth of it, or null.</summary>
    private string? Hundredth { get; init; }

    /// <summary>Reads a value, or null after a diagnostic; null too when there is none.</summary>
    /// <param name="scalar">The value as written.</param>
    /// <param name="row">Its key.</param>
    /// <param name="diagnostics">Gets the faults.</param>
    public double? Read(ScalarNode? scalar, KeyInfo row, DiagnosticBag diagnostics)
    {
        if (scalar is null)
            return null;
        var text = scalar.Text.AsSpan().Trim();
        var digits = text.TrimEnd("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ");
        var word = text[digits.Length..];
        var scale = word.IsEmpty || word.SequenceEqual(unit) ? 1 : Hundredth is not null && word.SequenceEqual(Hundredth) ? 0.01 : 0;
        if (scale == 0 || !double.TryParse(digits.TrimEnd(), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) || !double.IsFinite(number))
            diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a value of '{row.Key}'", $"write it like {row.Key}: {row.Example}");
        else if (number * scale is var value && (value < least || value > most))
            diagnostics.Add(DocumentCodes.OutOfRange, scalar.At, $"'{row.Key}' is {Words(value)}, but {Words(least)} to {Words(most)} is allowed", "look at the unit and the decimal point");
        else
            return value;
        return null;
    }

    private string Words(double number) => string.Create(CultureInfo.InvariantCulture, $"{number:0.####} {unit}");
}
