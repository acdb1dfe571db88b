namespace StateWatch.Core.Tests.Auditing;

/// <summary>What a desk can hold, by hand from its protocol sheet: the positions of faders and gains, the length of names.</summary>
/// <param name="Faders">Levels in dB, from off to the top.</param>
/// <param name="Gains">Preamp gains in dB.</param>
/// <param name="NameLength">Letters of a name.</param>
internal sealed record NaiveDesk(IReadOnlyList<double> Faders, IReadOnlyList<double> Gains, int NameLength)
{
    /// <summary>801 positions with straight lines in dB between -60 dB at 1/8, -30 dB at 3/8, 0 dB at 3/4 and +10 dB; gain in whole decibels.</summary>
    private static readonly NaiveDesk Larch = new(
        [.. Enumerable.Range(0, 801).Select(step => Between(step / 800.0, [(0.125, -60), (0.375, -30), (0.75, 0), (1, 10)]))],
        [.. Enumerable.Range(0, 61).Select(gain => (double)gain)], 12);

    /// <summary>901 positions: -60 dB up to 100, then 0.1 dB each to 0 dB at 700 and 0.05 dB each to +10 dB; gain in half decibels from -6 dB to 60 dB.</summary>
    private static readonly NaiveDesk Ouzel = new(
        [.. Enumerable.Range(0, 901).Select(step => Between(step, [(100, -60), (700, 0), (900, 10)]))],
        [.. Enumerable.Range(0, 133).Select(step => -6 + 0.5 * step)], 10);

    public static NaiveDesk Of(string profileFile) => profileFile switch
    {
        "larch-48.desk.yaml" => Larch,
        "ouzel-64.desk.yaml" => Ouzel,
        _ => throw new NotSupportedException($"the naive checker does not know the desk of '{profileFile}'"),
    };

    // Off at the bottom; then the first point's level until that point, and straight lines from point to point.
    private static double Between(double wire, (double Wire, double Decibels)[] points)
    {
        if (wire <= 0)
            return double.NegativeInfinity;
        if (wire <= points[0].Wire)
            return points[0].Decibels;
        for (var i = 1; ; i++)
        {
            if (wire > points[i].Wire)
                continue;
            var (fromWire, from) = points[i - 1];
            return from + (points[i].Decibels - from) * (wire - fromWire) / (points[i].Wire - fromWire);
        }
    }
}
