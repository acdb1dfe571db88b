using System.Globalization;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Looks at couplings of a plan that compiles for what is allowed but probably not meant.</summary>
internal sealed class CouplingAudit(ShowPlan plan, DiagnosticBag diagnostics)
{
    public void Run()
    {
        if (plan.Document.Couplings.Count == 0)
            return;
        // An estimate beside a measured reference is kept for the day on which that expires.
        var counting = plan.Couplings.Concat(plan.Couplings.Select(coupling => coupling.Estimate).OfType<PlannedCoupling>()).ToLookup(coupling => coupling.At);
        foreach (var line in plan.Document.Couplings)
        {
            if (!counting.Contains(line.At))
                AuditIdle(line);
            else if (line.Geometry?.Listening is not null)
                AuditReach(line, counting[line.At].MaxBy(Potential)!);
        }
    }

    // A role that no input has is told where it is defined.
    private void AuditIdle(CouplingLine line)
    {
        if (line.At.File == plan.Document.File && (plan.Strips.Any(strip => strip.Role == line.Mic.Text) || plan.Document.Roles.All(role => role.Key.Text != line.Mic.Text)))
            diagnostics.Add(PlanCodes.Redundant, line.At, $"this changes nothing: narrower lines speak of every pair of '{line.Mic.Text}' and '{line.Feed.Text}'", "remove it");
    }

    // The best case: one microphone open, and what its direction may be credited with. A directional loudspeaker may do better, so it is a notice.
    private void AuditReach(CouplingLine line, PlannedCoupling best)
    {
        var (potential, needed) = (Potential(best), best.Geometry!.NeededGain!.Value);
        if (potential < needed)
            diagnostics.Add(PlanCodes.TooLittleGain, line.At,
                string.Create(CultureInfo.InvariantCulture, $"'{line.Mic.Text}' needs {needed:0} dB of gain at '{line.Feed.Text}' for the farthest listener, but by these distances about {potential:0} dB are possible before feedback, with one microphone open"),
                "bring the microphone nearer to the mouth, or the loudspeaker nearer to the listeners and farther from the microphone; no desk setting helps");
    }

    private double Potential(PlannedCoupling coupling) => coupling.Geometry!.PotentialGain(1)!.Value
        + (plan.Feeds[plan.Loudspeakers[coupling.Loudspeaker].Feed].Purpose == Purpose.Subs ? 0 : coupling.Microphone.Microphone!.Chain.Pattern.Credit(coupling.Geometry.Angle));
}
