using System.Collections.Concurrent;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests;

/// <summary>One shipped show: its plan, its desk and its incidents, read from the files beside the tests.</summary>
internal sealed class ShippedShow
{
    private const string PlanEnding = ".plan.yaml";
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "profiles", "shows");
    private static readonly ConcurrentDictionary<string, Lazy<ShippedShow>> Shows = new(StringComparer.Ordinal);
    private static readonly ConcurrentDictionary<string, Lazy<DeskProfile>> Profiles = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<(Phase Phase, string? Cue), Lazy<ShowPlan>> _plans = new();

    private ShippedShow(string name)
    {
        File = name + PlanEnding;
        PlanText = System.IO.File.ReadAllText(Path.Combine(Folder, File));
        var document = Read(PlanText, new DiagnosticBag());
        DeskFile = Path.GetFileName(document!.Desk.Text);
        Cues = [.. document.Cues.Select(cue => cue.Key.Text)];
        Profile = Profiles.GetOrAdd(DeskFile, file => new Lazy<DeskProfile>(() => ReadProfile(file))).Value;
        var diagnostics = new DiagnosticBag();
        var incidents = $"{name}.incidents.yaml";
        Incidents = IncidentReader.Read(new SourceText(incidents, System.IO.File.ReadAllText(Path.Combine(Folder, incidents))), Profile, diagnostics)!;
        Assert.Equal([], diagnostics.Items.Select(DemoShow.Say));
    }

    /// <summary>The names of all shipped shows, without the ending of their files.</summary>
    public static IReadOnlyList<string> Names { get; } =
        [.. Directory.GetFiles(Folder, "*" + PlanEnding).Select(file => Path.GetFileName(file)[..^PlanEnding.Length]).Order(StringComparer.Ordinal)];

    /// <summary>Every show, for theories.</summary>
    public static TheoryData<string> All => [.. Names];

    /// <summary>Every show in every phase, for theories.</summary>
    public static TheoryData<string, Phase> InAllPhases
    {
        get
        {
            var data = new TheoryData<string, Phase>();
            foreach (var name in Names)
            {
                foreach (var phase in Enum.GetValues<Phase>())
                    data.Add(name, phase);
            }

            return data;
        }
    }

    /// <summary>Every cue of every show, for theories.</summary>
    public static TheoryData<string, string> AtAllCues
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var name in Names)
            {
                foreach (var cue in Of(name).Cues)
                    data.Add(name, cue);
            }

            return data;
        }
    }

    public string File { get; }

    /// <summary>The names of the plan's cues.</summary>
    public IReadOnlyList<string> Cues { get; }

    public string DeskFile { get; }

    public string PlanText { get; }

    public DeskProfile Profile { get; }

    public IncidentScript Incidents { get; }

    public static ShippedShow Of(string name) => Shows.GetOrAdd(name, one => new Lazy<ShippedShow>(() => new ShippedShow(one))).Value;

    public ShowPlan Plan(Phase phase, string? cue = null) => _plans.GetOrAdd((phase, cue), one => new Lazy<ShowPlan>(() =>
    {
        var diagnostics = new DiagnosticBag();
        var plan = Compile(PlanText, one.Phase, diagnostics, out _, one.Cue);
        Assert.Equal([], diagnostics.Items.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(DemoShow.Say));
        return plan!;
    })).Value;

    /// <summary>Compiles a text in the place of the show's plan, with the audit of the plan itself.</summary>
    public ShowPlan? Compile(string planText, Phase phase, DiagnosticBag diagnostics, out PlanDocument? document, string? cue = null)
    {
        document = Read(planText, diagnostics);
        return document is null ? null : PlanCompiler.Compile(document, Profile, phase, diagnostics, auditPlan: true, cue);
    }

    /// <summary>A text in the place of the show's plan, as written.</summary>
    public PlanDocument? Document(string planText) => Read(planText, new DiagnosticBag());

    /// <summary>The desk in the show, at a cue, exactly as planned.</summary>
    public DeskState DeskAt(string cue)
    {
        var state = CleanDesk();
        foreach (var (setting, value) in PlannedState.Of(Plan(Phase.Show, cue)))
            state.Apply(setting, value);
        return state;
    }

    /// <summary>The desk after a reset, set to everything the plan says of the time before doors.</summary>
    public DeskState CleanDesk()
    {
        var state = new DeskState(Profile);
        foreach (var setting in Profile.Settings)
            state.Apply(setting.Id, setting.Reset);
        foreach (var expectation in Plan(Phase.Doors).Expectations)
            state.Apply(expectation.Setting, expectation.Planned);
        return state;
    }

    public IEnumerable<string> FindingIds(DeskState state, Phase phase) => new Auditor(Plan(phase)).Judge(state).Findings.Select(finding => finding.Id).Order(StringComparer.Ordinal);

    private PlanDocument? Read(string text, DiagnosticBag diagnostics) => PlanReader.Read(new SourceText(File, text), diagnostics,
        below => System.IO.File.Exists(Path.Combine(Folder, below.Text)) ? new SourceText(below.Text, System.IO.File.ReadAllText(Path.Combine(Folder, below.Text))) : null);

    private static DeskProfile ReadProfile(string file)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText(file, System.IO.File.ReadAllText(Path.Combine(Folder, "..", "desks", file))), diagnostics);
        Assert.Equal([], diagnostics.Items.Select(DemoShow.Say));
        return profile!;
    }
}
