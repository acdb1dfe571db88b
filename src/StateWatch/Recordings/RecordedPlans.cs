using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Watching;
using StateWatch.Hosting;

namespace StateWatch.Recordings;

/// <summary>Reads plans out of a recording. A profile that says the same is the same object, so that a plan can be taken while a watch runs.</summary>
internal sealed class RecordedPlans
{
    private DeskProfile? _profile;
    private string _profileText = "";

    /// <summary>What was wrong with the last plan, or null.</summary>
    public string? Fault { get; private set; }

    /// <summary>Reads one.</summary>
    /// <returns>The plan; null when it is none or not the one whose fingerprint was recorded, and <see cref="Fault"/> says why.</returns>
    public WatchedPlan? Read(RecordedPlan recorded)
    {
        Fault = null;
        if (recorded.Files.Count < 2)
            return Refuse("a plan is recorded without its texts");
        SourceText[] sources = [.. recorded.Files.Select(static file => new SourceText(file.Name, file.Text))];
        if (PlanFingerprint.Of(sources) != recorded.Fingerprint)
            return Refuse($"the plan {Core.Reports.PlainText.Clean(sources[0].Name, 200)} is not the one that was recorded: its texts have another fingerprint");
        var diagnostics = new DiagnosticBag();
        var document = PlanReader.Read(sources[0], diagnostics, node => Below(node, sources, diagnostics));
        var profile = _profile is not null && sources[^1].Text == _profileText ? _profile : ProfileReader.Read(sources[^1], diagnostics);
        if (document is null || profile is null || diagnostics.HasErrors)
            return Refuse(First(diagnostics));
        var plan = new WatchedPlan(document, profile, recorded.Fingerprint) { Sources = sources };
        if (plan.HasFaults(diagnostics))
            return Refuse(First(diagnostics));
        (_profile, _profileText) = (profile, sources[^1].Text);
        return plan;
    }

    private static SourceText? Below(ScalarNode path, SourceText[] sources, DiagnosticBag diagnostics)
    {
        var name = Path.Combine(Path.GetDirectoryName(path.At.File) ?? "", path.Text);
        var source = Array.Find(sources, one => one.Name == name);
        if (source is null)
            diagnostics.Add(PlanCodes.CannotExtend, path.At, $"'{name}' was not recorded", "record the watch again");
        return source;
    }

    private static string First(DiagnosticBag diagnostics)
    {
        var first = diagnostics.Items.FirstOrDefault(static item => item.Code.Level == DiagnosticLevel.Error);
        return first is null ? "the recorded plan has a fault" : Core.Reports.PlainText.Clean($"the recorded plan has a fault: {first.At}: {first.Message}", 400);
    }

    private WatchedPlan? Refuse(string fault)
    {
        Fault = fault;
        return null;
    }
}
