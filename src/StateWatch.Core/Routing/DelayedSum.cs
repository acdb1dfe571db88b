namespace StateWatch.Core.Routing;

/// <summary>
/// The same signal by several ways: those that are equally late add with their sign, and may cancel; those that are not never cancel each
/// other, whatever their polarity.
/// </summary>
public sealed class DelayedSum
{
    private readonly List<(double Delay, double Gain)> _ways = [];

    /// <summary>Begins anew.</summary>
    public void Clear() => _ways.Clear();

    /// <summary>Adds a way.</summary>
    /// <param name="delay">How late it is, in ms.</param>
    /// <param name="gain">Its signed gain.</param>
    public void Add(double delay, double gain) => _ways.Add((delay, gain));

    /// <summary>What is left where no two ways of different delay meet in step: the magnitudes of what each delay brings, added up.</summary>
    public double Left()
    {
        _ways.Sort();
        var (left, sum, first) = (0.0, 0.0, double.NegativeInfinity);
        foreach (var (delay, gain) in _ways)
        {
            if (delay - first > WayDelays.Same)
            {
                left += Math.Abs(sum);
                (sum, first) = (0, delay);
            }

            sum += gain;
        }

        return left + Math.Abs(sum);
    }
}
