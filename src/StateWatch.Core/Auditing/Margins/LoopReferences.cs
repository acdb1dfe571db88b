using System.Globalization;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>How far each coupling of a plan can be trusted on a day and with the desk as it is.</summary>
internal sealed class LoopReferences(ShowPlan plan)
{
    /// <summary>How far a measured margin may be off, in dB. Common practice, no source.</summary>
    public const double Measured = 3;

    /// <summary>How far an estimated one may be off, in dB: a hand, a hat or an amplifier's knob. Common practice, no source.</summary>
    public const double Estimated = 10;

    private readonly string?[] _stale = new string?[plan.Couplings.Count];
    private readonly LoopSetup?[] _setups = [.. plan.Couplings.Select(coupling => coupling.Setup is null ? null : LoopSetup.Of(plan, coupling.Microphone, plan.Loudspeakers[coupling.Loudspeaker]))];

    private bool _isDated;
    private DateOnly? _day;

    /// <summary>Settings that shape the loops whose setup the plan keeps.</summary>
    public IEnumerable<int> Settings => _setups.OfType<LoopSetup>().SelectMany(setup => setup.Settings);

    /// <summary>Sets the day where the show is; null when no day counts.</summary>
    /// <returns>Whether it is another one than before, so that references must be looked at again.</returns>
    public bool SetDay(DateOnly? day)
    {
        if (_isDated && _day == day)
            return false;
        (_isDated, _day) = (true, day);
        return true;
    }

    /// <summary>Looks at the day and the setup of every loop again.</summary>
    public void Update(DeskState state)
    {
        for (var line = 0; line < _stale.Length; line++)
        {
            var coupling = plan.Couplings[line];
            _stale[line] = _day is { } today && coupling.IsStaleOn(today) ? $"measured {Day(coupling)}, more than {MeasuredLoss.Days} days ago"
                : _setups[line]?.Fingerprint(state) is { } setup && !setup.Equals(coupling.Setup, StringComparison.OrdinalIgnoreCase) ? "equaliser, delay, inserts or dynamics of the loop are other than when it was measured"
                : null;
        }
    }

    /// <summary>Why a reference no longer counts as measured; null while it does, and for estimates.</summary>
    public string? StaleOf(int line) => _stale[line];

    /// <summary>Whether it was measured and still counts: only then may a margin be urgent.</summary>
    public bool IsCertain(int line) => plan.Couplings[line].IsMeasured && _stale[line] is null;

    /// <summary>How far a margin may be off, in dB.</summary>
    public double SpreadOf(int line) => IsCertain(line) ? Measured : Estimated;

    /// <summary>Where it is from, in a sentence.</summary>
    public string WordsOf(int line)
    {
        var coupling = plan.Couplings[line];
        return !coupling.IsMeasured ? "Estimated from distances and data sheets."
            : _stale[line] is { } stale ? $"The reference is stale: {stale}."
            : $"Measured {Day(coupling)} by {coupling.By}{(coupling.Room is { } room ? $", room {room}" : "")}.";
    }

    private static string Day(PlannedCoupling coupling) => coupling.Measured is { } day ? day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : "";
}
