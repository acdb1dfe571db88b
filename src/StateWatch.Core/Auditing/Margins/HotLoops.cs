using StateWatch.Core.Acoustics;
using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>
/// Microphones that are louder at a loudspeaker than the plan has them, and the setting that makes each of them so. Needs no coupling: if no
/// gain rose by more than x dB, no margin fell by more than x dB, however loud microphones hear loudspeakers (see <see cref="ApprovedGains"/>).
/// </summary>
internal sealed class HotLoops(ShowPlan plan, LoopViews views, LoopGains open, LoopGains approved, DerivedFacts facts)
{
    /// <summary>From which rise on it is told, in dB: the feedback stability margin of the handbooks is used up.</summary>
    public const double Rise = AcousticGain.StabilityMargin;

    // What lies so far below the loudest microphone planned at a loudspeaker decides no loop there: 30 dB. Common practice, no source.
    private static readonly double Negligible = Decibels.ToFactor(-30);

    // A hair less, so that rounding does not decide.
    private static readonly double Factor = Decibels.ToFactor(Rise) * (1 - 1e-9);

    private readonly int _firstFact = facts.Reserve(plan.Profile.Settings.Count);
    private readonly List<HotPair> _hot = [];
    private readonly List<int> _blamed = [];
    private readonly List<double> _least = [];
    private readonly bool[] _isHot = new bool[plan.Profile.Settings.Count];

    /// <summary>The number of the fact that a setting makes pairs hot.</summary>
    public int FactOf(int setting) => _firstFact + setting;

    /// <summary>Whether pairs are hot because of a setting.</summary>
    public bool IsHot(int setting) => _isHot[setting];

    /// <summary>The pairs that are hot because of a setting.</summary>
    public List<HotPair> HotBy(int setting) => [.. _hot.Where((_, index) => _blamed[index] == setting)];

    /// <summary>The pair whose gain rose most above plan, +inf dB where the plan makes no way: no margin fell by more. Null when nothing is open.</summary>
    public HotPair? Largest()
    {
        var gains = new ApprovedGains(open.Microphones, open.Loudspeakers);
        Tell(gains, approved);
        gains.Approve();
        Tell(gains, open);
        return gains.LargestRise() is { } largest ? new HotPair(largest.Microphone, largest.Feed, largest.Rise) : null;
    }

    /// <summary>Looks at every pair again.</summary>
    public void Update()
    {
        foreach (var setting in _blamed)
            Note(setting, false);
        _hot.Clear();
        _blamed.Clear();
        for (var loudspeaker = 0; loudspeaker < open.Loudspeakers; loudspeaker++)
        {
            var loudest = 0.0;
            for (var microphone = 0; microphone < open.Microphones; microphone++)
                loudest = Math.Max(loudest, approved.Total(microphone, loudspeaker));
            for (var microphone = 0; microphone < open.Microphones; microphone++)
            {
                var (now, before) = (open.Total(microphone, loudspeaker), approved.Total(microphone, loudspeaker));
                // A way that the plan does not make is told as that.
                if (before != 0 && now >= before * Factor && now >= loudest * Negligible && double.IsFinite(now))
                    _hot.Add(new HotPair(microphone, loudspeaker, Decibels.OfFactor(now / before)));
            }
        }

        if (_hot.Count > 0)
            Blame();
    }

    // The one setting that takes back most; what a phase leaves to the hand is nobody's fault.
    private void Blame()
    {
        _least.Clear();
        foreach (var pair in _hot)
        {
            _blamed.Add(-1);
            _least.Add(open.Total(pair.Microphone, pair.Loudspeaker));
        }

        foreach (var setting in views.Differing())
        {
            var live = views.Open.State[setting];
            views.Open.Change(setting, views.Approved.State[setting]);
            for (var i = 0; i < _hot.Count; i++)
            {
                var total = open.EndsOf(_hot[i].Microphone, _hot[i].Loudspeaker).GainIn(views.Open.Routing.Graph).Total;
                if (total < _least[i])
                    (_blamed[i], _least[i]) = (setting, total);
            }

            views.Open.Change(setting, live);
        }

        for (var i = 0; i < _blamed.Count; i++)
        {
            if (_blamed[i] >= 0 && (plan.For(_blamed[i]) is null || plan.LockOf(_blamed[i]) == PhaseLock.Free))
                _blamed[i] = -1;
            Note(_blamed[i], true);
        }
    }

    private static void Tell(ApprovedGains gains, LoopGains reading)
    {
        for (var microphone = 0; microphone < reading.Microphones; microphone++)
        {
            for (var loudspeaker = 0; loudspeaker < reading.Loudspeakers; loudspeaker++)
                gains.SetGain(microphone, loudspeaker, reading.Total(microphone, loudspeaker));
        }
    }

    private void Note(int setting, bool isHot)
    {
        if (setting < 0)
            return;
        _isHot[setting] = isHot;
        facts.Mark(_firstFact + setting);
    }
}

/// <summary>A microphone at a loudspeaker against the plan.</summary>
/// <param name="Microphone">The microphone, by its number in the plan.</param>
/// <param name="Loudspeaker">The loudspeaker, by its number in the plan.</param>
/// <param name="Rise">By how many dB it is louder than planned.</param>
internal readonly record struct HotPair(int Microphone, int Loudspeaker, double Rise);
