using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>
/// Which one setting wins back most margin when it is put back to its planned value: each that differs is tried. One that makes any
/// microphone louder at any loudspeaker is no remedy.
/// </summary>
internal sealed class LoopTrials(LoopViews views, CoupledLoops coupled, LoopGains now, LoopGains open, LoopGains trial)
{
    // Less is nobody's remedy.
    private const double Least = 0.5;

    private const int Together = -1;

    /// <summary>Of the margin of a microphone alone; null where no setting does.</summary>
    public Remedy? BestAlone(int microphone) => Best(views.Open, open, microphone);

    /// <summary>Of the margin of all that is open now; null where no setting does.</summary>
    public Remedy? BestTogether() => Best(views.Now, now, Together);

    private Remedy? Best(LoopViews.View view, LoopGains gains, int microphone)
    {
        var margin = microphone == Together ? coupled.Together.Power : coupled.Alone(microphone).Margins.Power;
        Remedy? best = null;
        foreach (var setting in views.Differing())
        {
            var (live, planned) = (view.State[setting], views.Approved.State[setting]);
            view.Change(setting, planned);
            trial.Read(view.Routing.Graph);
            view.Change(setting, live);
            var by = trial.IsLouderThan(gains) ? 0 : (microphone == Together ? coupled.TogetherIn(trial).Power : coupled.AloneIn(trial, microphone).Margins.Power) - margin;
            if (by > Least && (best is null || by > best.Value.By))
                best = new Remedy(setting, planned, by);
        }

        return best;
    }
}

/// <summary>A setting back at its planned value.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="To">The value.</param>
/// <param name="By">What it wins back, in dB; +inf when no loop is left.</param>
internal readonly record struct Remedy(int Setting, SettingValue To, double By);
