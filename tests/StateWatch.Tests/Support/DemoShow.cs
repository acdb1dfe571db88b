using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator;

namespace StateWatch.Tests.Support;

/// <summary>The shipped show, compiled.</summary>
internal static class DemoShow
{
    public static ShowPlan Compile(Phase phase = Phase.Doors)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("larch-48.desk.yaml", File.ReadAllText(ShippedFiles.Desk)), diagnostics)!;
        var document = PlanReader.Read(new SourceText("midwinter.plan.yaml", File.ReadAllText(ShippedFiles.Plan)), diagnostics)!;
        var plan = PlanCompiler.Compile(document, profile, phase, diagnostics);
        Assert.Empty(diagnostics.Items);
        return plan!;
    }

    /// <summary>A virtual desk exactly as planned.</summary>
    public static VirtualDesk Desk(ShowPlan plan)
    {
        var desk = new VirtualDesk(plan.Profile);
        foreach (var (setting, value) in PlannedState.Of(plan))
            desk.Set(setting, value);
        return desk;
    }
}
