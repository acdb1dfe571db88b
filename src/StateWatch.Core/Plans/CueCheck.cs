using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Compiles every cue of a plan, to find what only shows there: conflicts, broken constraints, lines that change nothing.</summary>
public static class CueCheck
{
    /// <summary>Compiles each cue for the show and adds what is found to the diagnostics, unless it is there already.</summary>
    /// <param name="document">The plan; it compiles without a cue.</param>
    /// <param name="profile">The desk.</param>
    /// <param name="diagnostics">Gets the faults, each with the cue's name.</param>
    public static void All(PlanDocument document, DeskProfile profile, DiagnosticBag diagnostics)
    {
        var known = diagnostics.Items.ToHashSet();
        foreach (var line in document.Cues)
        {
            var found = new DiagnosticBag();
            _ = PlanCompiler.Compile(document, profile, Phase.Show, found, auditPlan: true, cue: line.Key.Text);
            foreach (var item in found.Items)
            {
                if (known.Add(item))
                    diagnostics.Add(item.Code, item.At, $"at cue '{line.Key.Text}': {item.Message}", item.Advice, item.Suggestion);
            }
        }
    }
}
