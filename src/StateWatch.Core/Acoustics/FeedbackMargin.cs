namespace StateWatch.Core.Acoustics;

/// <summary>
/// Distance from feedback of microphones and loudspeaker feeds: gains of the desk from every microphone to every feed, and how loud each
/// microphone picks up each feed's loudspeakers. Loops form a matrix whose largest eigenvalue limits the gain; two bounds of it are told,
/// both from magnitudes alone, so that no cancellation can hide a loop. N equal open microphones on one loudspeaker cost 20 lg N and
/// 10 lg N (the handbooks' number of open microphones). Computed on the smaller side, since both have the same eigenvalues but for zeros.
/// Only what changed is computed again, to the same bits as afresh, and nothing is allocated once made.
/// </summary>
public sealed class FeedbackMargin
{
    private readonly bool _feedSide;
    private readonly LoopMatrix _coherent;
    private readonly LoopMatrix _power;
    private readonly double[] _returning;
    private readonly double[] _leaving;

    /// <summary>Makes a margin in which nothing is open and nothing heard.</summary>
    /// <param name="microphones">How many microphones there are, 0 or more.</param>
    /// <param name="feeds">How many loudspeaker feeds there are, 0 or more; in-ears are none.</param>
    public FeedbackMargin(int microphones, int feeds)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(microphones);
        ArgumentOutOfRangeException.ThrowIfNegative(feeds);
        Microphones = microphones;
        Feeds = feeds;
        _feedSide = feeds <= microphones;
        var (size, others) = _feedSide ? (feeds, microphones) : (microphones, feeds);
        _coherent = new LoopMatrix(size, others);
        _power = new LoopMatrix(size, others);
        _returning = new double[size];
        _leaving = new double[size];
    }

    /// <summary>How many microphones there are.</summary>
    public int Microphones { get; }

    /// <summary>How many loudspeaker feeds there are.</summary>
    public int Feeds { get; }

    /// <summary>The margins as of the last <see cref="Update"/>.</summary>
    public LoopMargins Margins { get; private set; } = new(double.PositiveInfinity, double.PositiveInfinity);

    /// <summary>Sets how loud a microphone picks up what a feed plays.</summary>
    /// <param name="microphone">The microphone.</param>
    /// <param name="feed">The feed.</param>
    /// <param name="factor">From the signal of the feed to that of the microphone, as a factor (not dB), 0 for none.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number that does not exist, or a factor that is negative or not finite.</exception>
    public void SetCoupling(int microphone, int feed, double factor)
    {
        var (own, other) = Place(microphone, feed);
        if (!(factor >= 0 && double.IsFinite(factor)))
            throw new ArgumentOutOfRangeException(nameof(factor), factor, "a coupling is a factor of 0 or more");
        _coherent.SetCoupling(own, other, factor);
        _power.SetCoupling(own, other, Math.Min(factor * factor, double.MaxValue));
    }

    /// <summary>Sets what the desk does from a microphone to a feed.</summary>
    /// <param name="microphone">The microphone.</param>
    /// <param name="feed">The feed.</param>
    /// <param name="total">Sum of the magnitudes of all ways, as a factor; 0 for none, +inf for a circle that does not die away.</param>
    /// <param name="power">Sum of the squared magnitudes of single ways.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number that does not exist, or a gain that is negative or no number.</exception>
    public void SetGain(int microphone, int feed, double total, double power)
    {
        var (own, other) = Place(microphone, feed);
        if (!(total >= 0))
            throw new ArgumentOutOfRangeException(nameof(total), total, "a sum of magnitudes is 0 or more");
        if (!(power >= 0))
            throw new ArgumentOutOfRangeException(nameof(power), power, "a sum of squares is 0 or more");
        _coherent.SetGain(own, other, total);
        _power.SetGain(own, other, power);
    }

    /// <summary>Sets what the desk does from a microphone to every feed.</summary>
    /// <param name="microphone">The microphone.</param>
    /// <param name="totals">Sums of magnitudes, by feed.</param>
    /// <param name="powers">Sums of squares, by feed.</param>
    public void SetGains(int microphone, ReadOnlySpan<double> totals, ReadOnlySpan<double> powers)
    {
        for (var feed = 0; feed < Feeds; feed++)
            SetGain(microphone, feed, totals[feed], powers[feed]);
    }

    /// <summary>Computes the margins after changes.</summary>
    /// <returns>The margins.</returns>
    public LoopMargins Update()
    {
        _coherent.Update();
        _power.Update();
        return Margins = new LoopMargins(Margin(Decibels.OfFactor(_coherent.Radius)), Margin(Decibels.OfPower(_power.Radius)));
    }

    /// <summary>The margins with one microphone out of one feed and all else as it is.</summary>
    public LoopMargins Without(int microphone, int feed)
    {
        var (own, other) = Place(microphone, feed);
        var (now, total, power) = (Margins, _coherent.GainOf(own, other), _power.GainOf(own, other));
        SetGain(microphone, feed, 0, 0);
        var without = Update();
        SetGain(microphone, feed, total, power);
        Update();
        Margins = now;
        return without;
    }

    /// <summary>
    /// The microphone and feed that weigh most in the loop with the least power margin, by the left and right eigenvectors of its part; the
    /// first by number where several weigh the same. Null without a loop.
    /// </summary>
    public LoopPair? Heaviest()
    {
        Update();
        var rows = _power.Loudest(_returning, _leaving);
        if (!(_power.Radius > 0))
            return null;
        var endless = double.IsPositiveInfinity(_power.Radius);
        double most = 0, all = 0;
        var (microphone, feed) = (-1, -1);
        for (var i = 0; i < rows.Length; i++)
        {
            for (var other = 0; other < (_feedSide ? Microphones : Feeds); other++)
            {
                var weight = Weight(rows, i, other, endless);
                all += weight;
                var (m, f) = _feedSide ? (other, rows[i]) : (rows[i], other);
                if (weight > most || (weight > 0 && weight.Equals(most) && (m, f).CompareTo((microphone, feed)) < 0))
                    (most, microphone, feed) = (weight, m, f);
            }
        }

        if (microphone < 0)
            return null;
        var without = Without(microphone, feed);
        return new LoopPair(microphone, feed, most / all, without, without.Power.Equals(Margins.Power) ? 0 : without.Power - Margins.Power);
    }

    /// <summary>How many equally open microphones would be as many as are open at a feed: Σg²/max g². 0 when none is; not a number when a gain is endless.</summary>
    /// <param name="feed">The feed.</param>
    public double OpenMicrophones(int feed)
    {
        var largest = 0.0;
        for (var microphone = 0; microphone < Microphones; microphone++)
            largest = Math.Max(largest, GainOf(microphone, feed));
        if (!(largest > 0) || !double.IsFinite(largest))
            return largest == 0 ? 0 : double.NaN;
        var sum = 0.0;
        for (var microphone = 0; microphone < Microphones; microphone++)
        {
            var ratio = GainOf(microphone, feed) / largest;
            sum += ratio * ratio;
        }

        return sum;
    }

    private double GainOf(int microphone, int feed)
    {
        var (own, other) = Place(microphone, feed);
        return _coherent.GainOf(own, other);
    }

    // What comes back at a row by way of one of the other side. Of endless loops no vectors are known: the endless gains weigh alike.
    private double Weight(ReadOnlySpan<int> rows, int row, int other, bool endless)
    {
        var gain = _power.GainOf(rows[row], other);
        var heard = 0.0;
        for (var i = 0; i < rows.Length; i++)
            heard += _power.CouplingOf(rows[i], other) * (endless ? 1 : _leaving[i]);
        return gain == 0 || heard == 0 ? 0 : !endless ? _returning[row] * gain * heard : double.IsPositiveInfinity(gain * heard) ? 1 : 0;
    }

    private (int Own, int Other) Place(int microphone, int feed)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)microphone, (uint)Microphones, nameof(microphone));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)feed, (uint)Feeds, nameof(feed));
        return _feedSide ? (feed, microphone) : (microphone, feed);
    }

    // No loop is plus infinity, not minus a logarithm of nothing; and never a negative nought.
    private static double Margin(double level) => 0 - level;
}
