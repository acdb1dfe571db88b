namespace StateWatch.Core.Routing;

/// <summary>How a desk shares a signal between left and right.</summary>
public enum PanLaw : byte
{
    /// <summary>-3 dB in the middle: powers add up to the same everywhere.</summary>
    ConstantPower,

    /// <summary>-4.5 dB in the middle: between the other two.</summary>
    Compromise,

    /// <summary>-6 dB in the middle: voltages add up to the same everywhere.</summary>
    Linear,

    /// <summary>0 dB in the middle, the other side falls: the balance of a stereo signal.</summary>
    Balance,
}

/// <summary>Factors of the pan laws.</summary>
public static class PanLaws
{
    /// <summary>What reaches left and right.</summary>
    /// <param name="law">The desk's law.</param>
    /// <param name="position">0 left, 0.5 middle, 1 right; held to that range.</param>
    public static (double Left, double Right) At(this PanLaw law, double position)
    {
        var p = Math.Clamp(position, 0, 1);
        // The cosine of a right angle is not quite 0 in binary; fully left must be silent right.
        var cosine = p >= 1 ? 0 : Math.Cos(p * Math.PI / 2);
        var sine = p <= 0 ? 0 : Math.Sin(p * Math.PI / 2);
        return law switch
        {
            PanLaw.ConstantPower => (cosine, sine),
            PanLaw.Compromise => (Math.Sqrt((1 - p) * cosine), Math.Sqrt(p * sine)),
            PanLaw.Linear => (1 - p, p),
            _ => (Math.Min(1, 2 * (1 - p)), Math.Min(1, 2 * p)),
        };
    }
}
