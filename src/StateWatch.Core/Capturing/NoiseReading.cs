using System.Globalization;
using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Capturing;

/// <summary>What one reading says of noise on its way from a feed to a microphone that does not go there.</summary>
/// <param name="Input">Level at the microphone's socket, before the preamp, in dB; -inf when the meter sees nothing.</param>
/// <param name="Output">Level that leaves the feed's outputs, in dB on the same scale; -inf when the meter sees nothing.</param>
/// <param name="Fault">Why this reading cannot be trusted, as a sentence; null when it can.</param>
public readonly record struct NoiseSample(double Input, double Output, string? Fault = null);

/// <summary>What a reading changed in a measurement with noise.</summary>
public enum NoiseEvent : byte
{
    /// <summary>Nothing to tell.</summary>
    None,

    /// <summary>The background is known; now the noise.</summary>
    Background,

    /// <summary>One of the readings is complete.</summary>
    Kept,

    /// <summary>The readings agree: <see cref="NoiseReading.Loss"/> is known.</summary>
    Captured,

    /// <summary>Too little noise over the background, or readings that do not agree: nothing is captured.</summary>
    Discarded,

    /// <summary>It is void, for the reason in <see cref="NoiseReading.Why"/>: nothing is captured.</summary>
    Void,
}

/// <summary>
/// Makes a loss of levels: first without noise, then with it, three times. Readings in, events out; it has no clock and makes no sound. What
/// background adds makes the loss smaller, never larger. Limits are common practice, no source.
/// </summary>
public sealed class NoiseReading
{
    /// <summary>Meter values of the background, and of each reading.</summary>
    public const int Samples = 10;

    /// <summary>How many readings must agree.</summary>
    public const int Wanted = 3;

    /// <summary>How far input and output must rise over their background, in dB.</summary>
    public const double LeastRise = 10;

    /// <summary>Readings further apart are discarded, in dB.</summary>
    public const double MostApart = 2;

    private const double Rounding = 1e-9;

    private readonly List<NoiseSample> _samples = [];
    private readonly List<double> _losses = [];

    /// <summary>The loudest background at the microphone's socket, in dB; not a number before it is known.</summary>
    public double Background { get; private set; } = double.NaN;

    /// <summary>The loudest background at the outputs, in dB; not a number before it is known.</summary>
    public double OutputBackground { get; private set; } = double.NaN;

    /// <summary>The losses that were read, in dB.</summary>
    public IReadOnlyList<double> Losses => _losses;

    /// <summary>The worst of three readings that agree, in dB; null until it is captured.</summary>
    public double? Loss { get; private set; }

    /// <summary>Why it ended without a result, as a sentence; else null.</summary>
    public string? Why { get; private set; }

    /// <summary>Whether no more readings are wanted.</summary>
    public bool HasEnded { get; private set; }

    /// <summary>Takes the next meter values.</summary>
    public NoiseEvent Take(NoiseSample sample)
    {
        if (HasEnded)
            return NoiseEvent.None;
        if (sample.Fault is { } fault)
            return End(NoiseEvent.Void, fault);
        if (double.IsNaN(sample.Input) || double.IsNaN(sample.Output) || double.IsPositiveInfinity(sample.Input) || double.IsPositiveInfinity(sample.Output))
            return End(NoiseEvent.Void, "A meter of the desk showed no level.");
        _samples.Add(sample);
        if (_samples.Count < Samples)
            return NoiseEvent.None;
        var result = double.IsNaN(Background) ? Quiet() : Read();
        _samples.Clear();
        return result;
    }

    private NoiseEvent Quiet()
    {
        Background = _samples.Max(sample => sample.Input);
        OutputBackground = _samples.Max(sample => sample.Output);
        return NoiseEvent.Background;
    }

    private NoiseEvent Read()
    {
        var (input, output) = (Mean(sample => sample.Input), Mean(sample => sample.Output));
        if (!IsClear(output, OutputBackground))
            return End(NoiseEvent.Discarded, Say($"The feed's outputs rose by {Rise(output, OutputBackground)}, less than {LeastRise:0} dB: the noise is not on this feed, or is hardly louder than what was there before."));
        if (!IsClear(input, Background))
            return End(NoiseEvent.Discarded, Say($"The microphone's level rose by {Rise(input, Background)}, less than {LeastRise:0} dB over the background. Make the room quieter, or bring the noise up a little."));
        _losses.Add(output - input);
        if (_losses.Count < Wanted)
            return NoiseEvent.Kept;
        var apart = _losses.Max() - _losses.Min();
        if (apart > MostApart + Rounding)
            return End(NoiseEvent.Discarded, Say($"The readings are {apart:0.0} dB apart, more than {MostApart:0}: the noise was not steady, or somebody moved or spoke."));
        Loss = _losses.Min();
        return End(NoiseEvent.Captured, null);
    }

    private static bool IsClear(double level, double background) => double.IsFinite(level) && level >= background + LeastRise - Rounding;

    private static string Rise(double level, double background) =>
        !double.IsFinite(level) ? "nothing" : Say($"{level - background:0.0} dB");

    // Noise is averaged by power.
    private double Mean(Func<NoiseSample, double> level) => Decibels.OfPower(_samples.Average(sample => Math.Pow(10, level(sample) / 10)));

    private NoiseEvent End(NoiseEvent how, string? why)
    {
        (HasEnded, Why) = (true, why);
        return how;
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
