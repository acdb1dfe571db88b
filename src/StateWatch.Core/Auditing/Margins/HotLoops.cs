using StateWatch.Core.Acoustics;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>
/// Microphones that are louder at a loudspeaker than the plan has them, and the setting that makes each of them so. Needs no coupling: if no
/// gain rose by more than x dB, no margin fell by more than x dB, however loud microphones hear loudspeakers (see <see cref="ApprovedGains"/>).
/// </summary>
internal sealed class HotLoops(ShowPlan plan, LoopViews views, LoopGains open, LoopGains approved)
{
    /// <summary>From which rise on it is told, in dB: the feedback stability margin of the handbooks is used up.</summary>
    public const double Rise = AcousticGain.StabilityMargin;

    // What lies so far below the loudest microphone planned at a loudspeaker decides no loop there. Common practice, no source.
    private const double Negligible = -30;

    private readonly Dictionary<int, List<HotPair>> _by = [];

    /// <summary>The pair whose gain rose most above plan, of those planned at all; null when nothing is open as planned.</summary>
    public HotPair? Largest { get; private set; }

    /// <summary>Pairs that are hot because of a setting in the state that was loaded last; null when none is.</summary>
    public List<HotPair>? HotBy(int setting) => _by.GetValueOrDefault(setting);

    /// <summary>Looks at every pair again.</summary>
    public void Load()
    {
        _by.Clear();
        Largest = null;
        var factor = Decibels.ToFactor(Rise) * (1 - 1e-9);
        List<HotPair> hot = [];
        for (var loudspeaker = 0; loudspeaker < open.Loudspeakers; loudspeaker++)
        {
            var loudest = 0.0;
            for (var microphone = 0; microphone < open.Microphones; microphone++)
                loudest = Math.Max(loudest, approved.Total(microphone, loudspeaker));
            for (var microphone = 0; microphone < open.Microphones; microphone++)
            {
                var (now, before) = (open.Total(microphone, loudspeaker), approved.Total(microphone, loudspeaker));
                // A way that the plan does not make is told as that.
                if (before == 0 || now < loudest * Decibels.ToFactor(Negligible) || !double.IsFinite(now))
                    continue;
                var pair = new HotPair(microphone, loudspeaker, now.Equals(before) ? 0 : Decibels.OfFactor(now / before));
                if (Largest is null || pair.Rise > Largest.Value.Rise)
                    Largest = pair;
                if (now >= before * factor)
                    hot.Add(pair);
            }
        }

        if (hot.Count > 0)
            Attribute(hot);
    }

    // To the one setting that takes back most; what a phase leaves to the hand is nobody's fault.
    private void Attribute(List<HotPair> hot)
    {
        var best = new (int Setting, double Total)[hot.Count];
        Array.Fill(best, (-1, double.PositiveInfinity));
        foreach (var setting in views.Differing())
        {
            var live = views.Open.State[setting];
            views.Open.Change(setting, views.Approved.State[setting]);
            for (var i = 0; i < hot.Count; i++)
            {
                var total = open.Of(views.Open.Routing.Graph, hot[i].Microphone, hot[i].Loudspeaker).Total;
                if (total < best[i].Total && total < open.Total(hot[i].Microphone, hot[i].Loudspeaker))
                    best[i] = (setting, total);
            }

            views.Open.Change(setting, live);
        }

        for (var i = 0; i < hot.Count; i++)
        {
            var setting = best[i].Setting;
            if (setting < 0 || plan.For(setting) is null || plan.LockOf(setting) == PhaseLock.Free)
                continue;
            if (!_by.TryGetValue(setting, out var pairs))
                _by.Add(setting, pairs = []);
            pairs.Add(hot[i]);
        }
    }
}

/// <summary>A microphone at a loudspeaker against the plan.</summary>
/// <param name="Microphone">The microphone, by its number in the plan.</param>
/// <param name="Loudspeaker">The loudspeaker, by its number in the plan.</param>
/// <param name="Rise">By how many dB it is louder than planned.</param>
internal readonly record struct HotPair(int Microphone, int Loudspeaker, double Rise);
