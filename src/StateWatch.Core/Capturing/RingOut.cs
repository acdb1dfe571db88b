using System.Globalization;

namespace StateWatch.Core.Capturing;

/// <summary>What a reading changed in a ring-out.</summary>
public enum RingOutEvent : byte
{
    /// <summary>Nothing to tell.</summary>
    None,

    /// <summary>The way opened above <see cref="RingOut.Limit"/>: it must come down before a round begins.</summary>
    TooLoud,

    /// <summary>A round began.</summary>
    Began,

    /// <summary>The gain moved.</summary>
    Moved,

    /// <summary>The gain rises faster than somebody can listen: 1 dB, speak, wait 3 s.</summary>
    TooFast,

    /// <summary>The way was muted or brought down; <see cref="RingOut.Answer"/> must say whether it rang.</summary>
    Muted,

    /// <summary>A round counts; the next one begins lower.</summary>
    Kept,

    /// <summary>Two rounds agree: <see cref="RingOut.Loss"/> is known.</summary>
    Captured,

    /// <summary>Two rounds do not agree: nothing is captured.</summary>
    Discarded,

    /// <summary>The round is void, for the reason in <see cref="RingOut.Why"/>: nothing is captured.</summary>
    Void,
}

/// <summary>
/// Follows a person who brings a loop up until it rings, twice, and keeps the desk's gain from before each mute. Readings in, events out; it
/// has no clock, hears nothing and moves nothing. Limits are common practice, no source.
/// </summary>
/// <param name="showGain">The gain of the show in dB, 20 dB below which the first round begins; not a number or infinite when nobody knows, which counts as 0 dB.</param>
public sealed class RingOut(double showGain)
{
    /// <summary>How far below the gain of the show the first round begins, in dB.</summary>
    public const double StartBelow = 20;

    /// <summary>How far below the first ring the second round begins, in dB.</summary>
    public const double BackOff = 6;

    /// <summary>A larger rise than this within <see cref="Wait"/> makes a round void, in dB.</summary>
    public const double MostStep = 3;

    /// <summary>Two rounds further apart are discarded, in dB.</summary>
    public const double MostApart = 2;

    /// <summary>How many rounds must agree.</summary>
    public const int Wanted = 2;

    /// <summary>How long to listen after a step.</summary>
    public static readonly TimeSpan Wait = TimeSpan.FromSeconds(3);

    /// <summary>A longer time between two readings makes a round void: nobody knows what happened in it.</summary>
    public static readonly TimeSpan LongestGap = TimeSpan.FromSeconds(2);

    // Steps of 1 dB in less than the wait make at most two of them.
    private const double Brisk = 2;

    // Faders of desks have steps, and factors are rounded.
    private const double Rounding = 0.05;

    private readonly Queue<LoopSample> _window = new();
    private readonly List<double> _rounds = [];
    private Part _part = Part.Low;
    private LoopSample _last;
    private bool _isTooLoud;
    private bool _isTooFast;

    private enum Part : byte
    {
        Low,
        Rising,
        Asking,
        Ended,
    }

    /// <summary>The highest gain at which the next round may begin, in dB.</summary>
    public double Limit { get; private set; } = (double.IsFinite(showGain) ? showGain : 0) - StartBelow;

    /// <summary>The gains that were kept, in dB, one for each round.</summary>
    public IReadOnlyList<double> Rounds => _rounds;

    /// <summary>The last gain before the mute, in dB; not a number before a round begins.</summary>
    public double Held { get; private set; } = double.NaN;

    /// <summary>The worse of two rounds that agree, in dB: the gain at which this loop rings. Null until it is captured.</summary>
    public double? Loss { get; private set; }

    /// <summary>Why it ended without a result, as a sentence; else null.</summary>
    public string? Why { get; private set; }

    /// <summary>Whether no more readings are wanted.</summary>
    public bool HasEnded => _part == Part.Ended;

    /// <summary>Takes the next reading.</summary>
    public RingOutEvent Take(LoopSample sample)
    {
        if (_part is Part.Ended or Part.Asking)
            return RingOutEvent.None;
        if (sample.Fault is { } fault)
            return End(RingOutEvent.Void, fault);
        if (double.IsNaN(sample.Gain) || double.IsPositiveInfinity(sample.Gain))
            return End(RingOutEvent.Void, "A way runs in a circle of buses that does not die away, so no gain can be told.");
        var result = _part == Part.Low ? Open(sample) : Follow(sample);
        _last = sample;
        return result;
    }

    /// <summary>Says whether it rang before the mute. Ignored unless <see cref="RingOutEvent.Muted"/> asked.</summary>
    public RingOutEvent Answer(bool rang)
    {
        if (_part != Part.Asking)
            return RingOutEvent.None;
        if (!rang)
            return End(RingOutEvent.Void, "It was muted or brought down without a ring, so there is no gain to keep.");
        _rounds.Add(Held);
        if (_rounds.Count < Wanted)
        {
            (_part, Limit, Held, _isTooLoud) = (Part.Low, Held - BackOff, double.NaN, false);
            return RingOutEvent.Kept;
        }

        var apart = _rounds.Max() - _rounds.Min();
        if (apart > MostApart + Rounding)
            return End(RingOutEvent.Discarded, Say($"The rounds are {apart:0.0} dB apart, more than {MostApart:0}: something in the room or in the way of working changed between them."));
        Loss = _rounds.Min();
        return End(RingOutEvent.Captured, null);
    }

    private RingOutEvent Open(LoopSample sample)
    {
        if (double.IsNegativeInfinity(sample.Gain))
        {
            _isTooLoud = false;
            return RingOutEvent.None;
        }

        if (sample.Gain > Limit + Rounding)
        {
            var told = _isTooLoud;
            _isTooLoud = true;
            return told ? RingOutEvent.None : RingOutEvent.TooLoud;
        }

        _window.Clear();
        _window.Enqueue(sample);
        (_part, Held, _isTooLoud, _isTooFast) = (Part.Rising, sample.Gain, false, false);
        return RingOutEvent.Began;
    }

    private RingOutEvent Follow(LoopSample sample)
    {
        if (sample.At - _last.At > LongestGap)
            return End(RingOutEvent.Void, Say($"There was no reading for {(sample.At - _last.At).TotalSeconds:0.0} s, so nobody knows what happened in that time."));
        var isDown = double.IsNegativeInfinity(sample.Gain) || sample.Gain < Held - MostStep;
        if (isDown && sample.Unmuted > _last.Unmuted + Rounding)
            return End(RingOutEvent.Void, "The gain rose and was muted within one reading, so nobody knows at which gain it rang. Wait 3 s after each step.");
        if (isDown)
        {
            _part = Part.Asking;
            return RingOutEvent.Muted;
        }

        while (_window.Count > 1 && sample.At - _window.Peek().At > Wait)
            _window.Dequeue();
        var rise = sample.Gain - _window.Min(earlier => earlier.Gain);
        if (rise > MostStep + Rounding)
            return End(RingOutEvent.Void, Say($"The gain rose by {rise:0.0} dB within {Wait.TotalSeconds:0} s. Steps of 1 dB: speak, wait 3 s."));
        _window.Enqueue(sample);
        var moved = Math.Abs(sample.Gain - Held) > 1e-9;
        Held = sample.Gain;
        var isFaster = rise > Brisk + Rounding && !_isTooFast;
        _isTooFast = rise > Brisk + Rounding;
        return isFaster ? RingOutEvent.TooFast : moved ? RingOutEvent.Moved : RingOutEvent.None;
    }

    private RingOutEvent End(RingOutEvent how, string? why)
    {
        (_part, Why) = (Part.Ended, why);
        return how;
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
