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

    /// <summary>Of the margin of a microphone alone; null where no setting does.</summary>
    public Remedy? BestAlone(int microphone)
    {
        var margin = coupled.Alone(microphone).Margins.Power;
        return Best(views.Open, open, () => coupled.AloneIn(trial, microphone).Margins.Power - margin);
    }

    /// <summary>Of the margin of all that is open now; null where no setting does.</summary>
    public Remedy? BestTogether() => Best(views.Now, now, () => coupled.TogetherIn(trial).Power - coupled.Together.Power);

    private Remedy? Best(LoopViews.View view, LoopGains gains, Func<double> won)
    {
        Remedy? best = null;
        foreach (var setting in views.Differing())
        {
            var (live, planned) = (view.State[setting], views.Approved.State[setting]);
            view.Change(setting, planned);
            trial.Read(view.Routing.Graph);
            view.Change(setting, live);
            if (!trial.IsLouderThan(gains) && won() is > Least and var by && (best is null || by > best.Value.By))
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
