namespace StateWatch.Core.Acoustics;

/// <summary>
/// Gains of an approved state, kept to compare with when nobody knows how loud microphones hear loudspeakers. If no gain rose by more than
/// x dB, no margin fell by more than x dB, whatever the couplings are: a matrix of magnitudes that is nowhere larger has no larger radius
/// (Horn and Johnson, Matrix Analysis, theorem 8.1.18).
/// </summary>
public sealed class ApprovedGains(int microphones, int feeds)
{
    private readonly double[] _approved = new double[microphones * feeds];
    private readonly double[] _now = new double[microphones * feeds];

    /// <summary>Sets a gain, as sum of the magnitudes of all ways.</summary>
    /// <param name="microphone">The microphone.</param>
    /// <param name="feed">The feed.</param>
    /// <param name="total">A factor of 0 or more.</param>
    public void SetGain(int microphone, int feed, double total)
    {
        if (!(total >= 0))
            throw new ArgumentOutOfRangeException(nameof(total), total, "a sum of magnitudes is 0 or more");
        _now[Place(microphone, feed)] = total;
    }

    /// <summary>What is now is approved.</summary>
    public void Approve() => _now.CopyTo(_approved, 0);

    /// <summary>
    /// The pair whose gain rose most (fell least), and by how many dB: no margin fell by more. +inf when a way is open that was closed.
    /// Null when nothing is open now.
    /// </summary>
    public (int Microphone, int Feed, double Rise)? LargestRise()
    {
        (int, int, double)? largest = null;
        var most = double.NegativeInfinity;
        for (var place = 0; place < _now.Length; place++)
        {
            if (_now[place] == 0)
                continue;
            var rise = _now[place].Equals(_approved[place]) ? 0 : Decibels.OfFactor(_now[place]) - Decibels.OfFactor(_approved[place]);
            if (largest is null || rise > most)
                (largest, most) = ((place / feeds, place % feeds, rise), rise);
        }

        return largest;
    }

    private int Place(int microphone, int feed)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)microphone, (uint)microphones, nameof(microphone));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)feed, (uint)feeds, nameof(feed));
        return microphone * feeds + feed;
    }
}
