using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Reports;
using StateWatch.Core.Settings;
using StateWatch.Simulator;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests.Reports;

/// <summary>The demo show on a virtual desk that is as planned, for real sweeps in virtual time.</summary>
internal sealed class Midwinter
{
    private static readonly DateTimeOffset At = new(2026, 12, 20, 9, 41, 7, 120, TimeSpan.Zero);

    public Midwinter(Phase phase = Phase.Doors, string lines = "", string? cue = null)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(Shipped("desks/larch-48.desk.yaml"), diagnostics);
        var document = PlanReader.Read(Shipped("shows/midwinter.plan.yaml", lines), diagnostics);
        Assert.Empty(diagnostics.Items.Select(item => item.Message));
        Plan = PlanCompiler.Compile(document!, profile!, phase, diagnostics, cue: cue)!;
        Incidents = IncidentReader.Read(Shipped("shows/midwinter.incidents.yaml"), profile!, diagnostics)!;
        Assert.Empty(diagnostics.Items.Select(item => item.Message));
        Desk = new VirtualDesk(profile!);
        foreach (var expectation in Plan.Expectations)
            Desk.Set(expectation.Setting, expectation.Planned);

        // What only rules read: everything planned is open.
        foreach (var strip in Plan.Strips)
            SetIfSeen($"{strip.Strip.Path}/on", SettingValue.Switch(true));
        foreach (var (setting, value) in cue is null ? [] : PlannedState.Of(Plan))
            Desk.Set(setting, value);
    }

    public ShowPlan Plan { get; }

    public IncidentScript Incidents { get; }

    public VirtualDesk Desk { get; }

    public Midwinter WithIncidents()
    {
        foreach (var incident in Incidents.Incidents)
            Desk.Apply(incident);
        return this;
    }

    public Midwinter With(string path, string value)
    {
        var setting = Plan.Profile.Settings[Plan.Profile.Find(path)];
        Assert.True(setting.Codec.TryParse(value, out var parsed, out var problem), problem);
        Desk.Set(setting.Id, parsed);
        return this;
    }

    public Midwinter Silent()
    {
        Desk.Silent = true;
        return this;
    }

    public Midwinter SayingItIs(params string[] identity)
    {
        Desk.IdentityAnswer = identity;
        return this;
    }

    public Midwinter Unanswered(params string[] paths)
    {
        Desk.Unanswered = paths.Select(Plan.Profile.Find).ToHashSet();
        return this;
    }

    public SweepResult Sweep(bool simulated = false, Action<MemoryDeskReader>? prepare = null, int silentAfter = int.MaxValue)
    {
        using var reader = new MemoryDeskReader(Desk);
        prepare?.Invoke(reader);
        return Core.Reports.Sweep.Run(new SweepSubject(Plan, "192.0.2.48:9048", simulated, At), reader,
            (answered, _) => Desk.Silent |= answered >= silentAfter);
    }

    // Lines that name a zone stand in place of the show's own.
    private static SourceText Shipped(string name, string more = "")
    {
        var text = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "profiles", name));
        return new(Path.GetFileName(name), (more.Contains("zone:", StringComparison.Ordinal) ? text.Replace("\nzone: Europe/Lisbon\n", "\n", StringComparison.Ordinal) : text) + more);
    }

    private void SetIfSeen(string path, SettingValue value)
    {
        var id = Plan.Profile.Find(path);
        if (id >= 0)
            Desk.Set(id, value);
    }
}
