using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing;

/// <summary>Writes what a plan allows: <c>-10.0 dB</c>, or <c>-11.0 dB to -9.0 dB</c> when it has a tolerance.</summary>
public static class AllowedText
{
    /// <summary>The planned value, with its tolerance where the plan gives one.</summary>
    public static string Of(Expectation expectation, DeskProfile profile)
    {
        var planned = profile.Format(expectation.Planned);
        if (expectation.Planned.Kind is not (ValueKind.Level or ValueKind.Number))
            return planned;
        var low = profile.Format(expectation.Low);
        var high = profile.Format(expectation.High);
        return low == high || expectation.Low.Step < 0 ? planned : $"{planned} ({low} to {high})";
    }
}
