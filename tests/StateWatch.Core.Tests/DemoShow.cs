using System.Collections.Concurrent;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests;

/// <summary>The shipped desk, plan and incidents, read from the files beside the tests.</summary>
internal static class DemoShow
{
    private static readonly ConcurrentDictionary<Phase, Lazy<ShowPlan>> Plans = new();

    public static string ProfileText { get; } = Read("desks/larch-48.desk.yaml");

    public static string PlanText { get; } = Read("shows/midwinter.plan.yaml");

    public static string IncidentsText { get; } = Read("shows/midwinter.incidents.yaml");

    public static string QuestionsText { get; } = Read("desks/larch-48.questions.txt");

    public static DeskProfile Profile { get; } = ReadProfile(ProfileText);

    public static IncidentScript Incidents { get; } = ReadIncidents();

    public static ShowPlan Plan(Phase phase) => Plans.GetOrAdd(phase, one => new Lazy<ShowPlan>(() => Compile(PlanText, one))).Value;

    public static ShowPlan Compile(string planText, Phase phase, string? cue = null) => Compile(planText, Profile, phase, cue);

    /// <summary>A plan for a changed desk profile.</summary>
    public static ShowPlan CompileFor(string profileText, string planText, Phase phase) => Compile(planText, ReadProfile(profileText), phase, null);

    private static ShowPlan Compile(string planText, DeskProfile profile, Phase phase, string? cue)
    {
        var diagnostics = new DiagnosticBag();
        var document = PlanReader.Read(new SourceText("midwinter.plan.yaml", planText), diagnostics);
        var plan = document is null ? null : PlanCompiler.Compile(document, profile, phase, diagnostics, cue: cue);
        Assert.Equal([], diagnostics.Items.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(Say));
        return plan!;
    }

    /// <summary>The desk after a reset, set to everything the plan says of the time before doors.</summary>
    public static DeskState CleanDesk() => PlannedDesk(Plan(Phase.Doors));

    /// <summary>A desk after a reset, set to everything a plan says.</summary>
    public static DeskState PlannedDesk(ShowPlan plan)
    {
        var state = new DeskState(plan.Profile);
        foreach (var setting in plan.Profile.Settings)
            state.Apply(setting.Id, setting.Reset);
        foreach (var expectation in plan.Expectations)
            state.Apply(expectation.Setting, expectation.Planned);
        return state;
    }

    public static void Set(this DeskState state, string path, string text)
    {
        var id = state.Profile.Find(path);
        Assert.True(id >= 0, path);
        Assert.True(state.Profile.Settings[id].Codec.TryParse(text, out var value, out var problem), problem);
        state.Apply(id, value);
    }

    public static string Get(this DeskState state, string path) => state.Profile.Format(state[state.Profile.Find(path)]);

    public static void Apply(this DeskState state, Incident incident)
    {
        foreach (var (setting, value) in incident.Set)
            state.Apply(setting, value);
    }

    public static IReadOnlyList<Finding> Findings(DeskState state, Phase phase) => new Auditor(Plan(phase)).Judge(state).Findings;

    public static string Say(Diagnostic item) => $"{item.Code.Id} {item.At.Place} {item.Message}";

    private static DeskProfile ReadProfile(string text)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("larch-48.desk.yaml", text), diagnostics);
        Assert.Equal([], diagnostics.Items.Select(Say));
        return profile!;
    }

    private static IncidentScript ReadIncidents()
    {
        var diagnostics = new DiagnosticBag();
        var script = IncidentReader.Read(new SourceText("midwinter.incidents.yaml", IncidentsText), Profile, diagnostics);
        Assert.Equal([], diagnostics.Items.Select(Say));
        return script!;
    }

    private static string Read(string file) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "profiles", file));
}
