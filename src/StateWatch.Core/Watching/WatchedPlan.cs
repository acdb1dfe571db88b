using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Watching;

/// <summary>A plan that a watch goes by: compiled for each phase and cue when it is needed, from one text. Immutable but for what it has compiled; for any thread: whoever reads a plan looks for its faults, and
/// the loop of the desk compiles too.</summary>
/// <param name="document">The plan as written.</param>
/// <param name="profile">The desk.</param>
/// <param name="fingerprint">SHA-256 of the texts of plan and profile, hexadecimal.</param>
public sealed class WatchedPlan(PlanDocument document, DeskProfile profile, string fingerprint)
{
    private readonly Dictionary<(Phase, string?), ShowPlan> _compiled = [];
    private readonly Lock _gate = new();

    /// <summary>The plan as written.</summary>
    public PlanDocument Document { get; } = document;

    /// <summary>The desk.</summary>
    public DeskProfile Profile { get; } = profile;

    /// <summary>SHA-256 of the texts of plan and profile, hexadecimal.</summary>
    public string Fingerprint { get; } = fingerprint;

    /// <summary>The texts it was read from: the plan, the plans below it, the profile last. Empty when nobody said.</summary>
    public IReadOnlyList<SourceText> Sources { get; init; } = [];

    /// <summary>Names of its cues, as written.</summary>
    public IReadOnlyList<string> Cues { get; } = [.. document.Cues.Select(cue => cue.Key.Text)];

    /// <summary>Whether it has faults in any phase or cue; they are added to the bag.</summary>
    public bool HasFaults(DiagnosticBag diagnostics)
    {
        foreach (var phase in Enum.GetValues<Phase>())
            _ = Compile(phase, null, diagnostics);
        foreach (var cue in Cues)
            _ = Compile(Phase.Show, cue, diagnostics);
        return diagnostics.HasErrors;
    }

    /// <summary>The plan for a phase and a cue.</summary>
    /// <exception cref="ArgumentException">It has no such cue.</exception>
    /// <exception cref="InvalidOperationException">It has faults there: <see cref="HasFaults"/> was to be asked first.</exception>
    public ShowPlan For(Phase phase, string? cue) =>
        Compile(phase, cue, new DiagnosticBag()) ?? throw new InvalidOperationException($"the plan has faults in {phase.Word()}");

    private ShowPlan? Compile(Phase phase, string? cue, DiagnosticBag diagnostics)
    {
        lock (_gate)
        {
            if (_compiled.TryGetValue((phase, cue), out var known))
                return known;
            var plan = PlanCompiler.Compile(Document, Profile, phase, diagnostics, cue: cue);
            if (plan is not null)
                _compiled[(phase, cue)] = plan;
            return plan;
        }
    }
}
