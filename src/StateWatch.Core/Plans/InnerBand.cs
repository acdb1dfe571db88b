using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>
/// The values well inside a tolerance, and how far away others are, so that a level which wavers at the edge of what is allowed does not raise and clear in
/// turn. Common practice (a dead band), no source for the figures.
/// </summary>
internal sealed class InnerBand
{
    /// <summary>The farthest band.</summary>
    public const int Farthest = 99;

    private const double Part = 0.8;
    private const double Slack = 1e-9;

    private readonly SettingValue _low;
    private readonly SettingValue _high;
    private readonly double _planned;
    private readonly double _unit;

    private InnerBand(SettingValue low, SettingValue high, double planned, double unit) => (_low, _high, _planned, _unit) = (low, high, planned, unit);

    /// <summary>The band inside of what a line allows; never empty: the planned value lies in it.</summary>
    /// <param name="scale">What the desk can do.</param>
    /// <param name="wanted">The value as written.</param>
    /// <param name="tolerance">How far off it may be, in the same unit; 0 when the plan gives none.</param>
    /// <param name="low">Lowest allowed value.</param>
    /// <param name="high">Highest allowed value.</param>
    public static InnerBand Of(ScaleCodec scale, double wanted, double tolerance, SettingValue low, SettingValue high)
    {
        var planned = scale.Snap(wanted);
        // Without a tolerance a decibel stands for one; other units have no such measure.
        var unit = tolerance > 0 ? Math.Max(tolerance, scale.StepAround(wanted)) : planned.Unit == Unit.Decibel ? Math.Max(1, scale.StepAround(wanted)) : 0;
        if (tolerance <= 0 || !double.IsFinite(wanted))
            return new InnerBand(low, high, planned.Number, unit);
        var (innerLow, innerHigh) = scale.Around(wanted, Part * tolerance);
        if (scale.Steps == 0)
            return new InnerBand(innerLow, innerHigh, planned.Number, unit);
        // At the end of its travel a fader cannot be any nearer to the plan.
        var (coreLow, coreHigh) = scale.Around(planned.Number, 0);
        var lowStep = low.Step == 0 ? innerLow.Step : Math.Max(innerLow.Step, low.Step + 1);
        var highStep = high.Step == scale.Steps - 1 ? innerHigh.Step : Math.Min(innerHigh.Step, high.Step - 1);
        return new InnerBand(scale.ValueAtStep(Math.Min(lowStep, coreLow.Step)), scale.ValueAtStep(Math.Max(highStep, coreHigh.Step)), planned.Number, unit);
    }

    /// <summary>Whether a value lies in it.</summary>
    public bool Holds(SettingValue live) => _low.Step >= 0 && live.Step >= 0
        ? live.Step >= _low.Step && live.Step <= _high.Step
        : live.Number >= _low.Number && live.Number <= _high.Number;

    /// <summary>How many tolerances beyond the first a value lies away.</summary>
    public int BandOf(SettingValue live) => BandOf(live.Number == _planned ? 0 : Math.Abs(live.Number - _planned), _unit);

    /// <summary>How many limits beyond the first something has moved.</summary>
    /// <param name="moved">How far, not negative.</param>
    /// <param name="limit">How far it may.</param>
    public static int BandOf(double moved, double limit)
    {
        if (!(limit > 0))
            return 0;
        var many = Math.Floor(moved / limit + Slack) - 1;
        return many > 0 ? (int)Math.Min(many, Farthest) : 0;
    }
}
