using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>The demo plan with a cue: a lectern and one of four handhelds speak, whoever sings is closed.</summary>
internal static class CueShow
{
    private const string Cue = "cues: { Sermon: { open: [Lectern, Handheld], closed: [choir, vocal, Singers], effects: muted } }\n";

    /// <summary>Adds the cue to a demo plan.</summary>
    public static string Of(string planText) =>
        planText.Replace("role: talker, from: local 3-6,", "role: talker, one-of: true, from: local 3-6,", StringComparison.Ordinal) + "\n" + Cue;

    public static ShowPlan Compile(string planText, Phase phase) => DemoShow.Compile(Of(planText), phase, "Sermon");

    /// <summary>The desk as planned at the plan's cue.</summary>
    public static DeskState CleanDesk(ShowPlan plan)
    {
        var state = new DeskState(plan.Profile);
        foreach (var setting in plan.Profile.Settings)
            state.Apply(setting.Id, setting.Reset);
        foreach (var (setting, value) in PlannedState.Of(plan))
            state.Apply(setting, value);
        return state;
    }
}
