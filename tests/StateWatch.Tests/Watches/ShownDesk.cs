using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;
using StateWatch.Links;
using StateWatch.Simulator;
using StateWatch.Simulator.Incidents;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Watches;

/// <summary>
/// A shipped show in a folder of its own and its virtual desk on loopback, with hands on it. After each act the desk's fingerprint is noted, so that anything
/// that changes it and is none of our hands shows.
/// </summary>
internal sealed class ShownDesk : IDisposable
{
    private readonly List<(int Setting, SettingValue Value)> _planned;
    private readonly List<Incident> _incidents = [];
    private ulong _fingerprint;

    /// <summary>Starts it, exactly as planned.</summary>
    /// <param name="folder">Where its files are copied to.</param>
    /// <param name="show">Name of the show, such as <c>midwinter</c>.</param>
    /// <param name="desk">Name of its desk, such as <c>larch-48</c>.</param>
    public ShownDesk(ScratchFolder folder, string show, string desk)
    {
        Show = show;
        ProfilePath = folder.Write($"{desk}.desk.yaml", File.ReadAllText(ShippedFiles.DeskOf(desk)));
        PlanText = File.ReadAllText(Path.Combine(ShippedFiles.Folder, "shows", $"{show}.plan.yaml")).Replace("../desks/", "", StringComparison.Ordinal)
            .Replace("  show:       { guarded:", "  show:       { message: /hall/show, guarded:", StringComparison.Ordinal);
        PlanPath = folder.Write($"{show}.plan.yaml", PlanText);
        var diagnostics = new DiagnosticBag();
        var profile = Core.Profiles.ProfileReader.Read(new SourceText(ProfilePath, File.ReadAllText(ProfilePath)), diagnostics)!;
        Plan = PlanCompiler.Compile(PlanReader.Read(new SourceText(PlanPath, PlanText), diagnostics)!, profile, Phase.Doors, diagnostics)!;
        Assert.False(diagnostics.HasErrors);
        _planned = [.. PlannedState.Of(Plan)];
        Questions = new QuestionList(desk);
        ReadIncidents(diagnostics);
        var virtualDesk = new VirtualDesk(profile);
        foreach (var (setting, value) in _planned)
            virtualDesk.Set(setting, value);
        Desk = UdpVirtualDesk.Start(virtualDesk, capture: true);
        _fingerprint = Desk.Use(static one => one.Fingerprint);
    }

    public string Show { get; }

    public string PlanPath { get; }

    public string PlanText { get; }

    public string ProfilePath { get; }

    public ShowPlan Plan { get; }

    public UdpVirtualDesk Desk { get; }

    public QuestionList Questions { get; }

    /// <summary>How many questions the profile has for settings.</summary>
    public int QuestionCount => Plan.Profile.Endpoints.Count;

    /// <summary>Somebody does one of the shipped incidents.</summary>
    public void Incident(Random random)
    {
        var incident = _incidents[random.Next(_incidents.Count)];
        ByHand(desk => desk.Apply(incident));
    }

    /// <summary>Somebody puts everything as planned.</summary>
    public void PutRight() => ByHand(desk =>
    {
        foreach (var (setting, value) in _planned)
            desk.Set(setting, value);
    });

    /// <summary>Somebody recalls a memory that holds other words for some settings.</summary>
    public void Recall(Random random, int count) => ByHand(desk => desk.Recall([.. Enumerable.Range(0, count).Select(_ => Another(random))]));

    /// <summary>Does something with the desk; nobody else must have changed it since the last time.</summary>
    public void ByHand(Action<VirtualDesk> act) => Desk.Use(desk =>
    {
        Assert.Equal(_fingerprint, desk.Fingerprint);
        act(desk);
        _fingerprint = desk.Fingerprint;
        return true;
    });

    /// <summary>Everything that was ever sent to it is a question of the list, and none of it changed anything.</summary>
    /// <returns>How many datagrams that were.</returns>
    public int CheckOnlyAsked()
    {
        ByHand(static _ => { });
        return Desk.Use(desk =>
        {
            Assert.Equal((0L, 0L, 0L), (desk.Counters.Sets, desk.Counters.Unknown, desk.Counters.Malformed));
            var log = Desk.Log!;
            Assert.Equal(0, log.Missed);
            var wrong = new List<string>();
            for (var i = 0; i < log.Count; i++)
            {
                if (!Questions.Allows(log[i].Span))
                    wrong.Add(Convert.ToHexString(log[i].Span));
            }

            Assert.Empty(wrong);
            return log.Count;
        });
    }

    public void Dispose() => Desk.Dispose();

    private (int Setting, SettingValue Value) Another(Random random)
    {
        while (true)
        {
            var setting = Plan.Profile.Settings[_planned[random.Next(_planned.Count)].Setting];
            var words = setting.Codec.Words.ToList();
            if (words.Count > 0 && setting.Codec.TryParse(words[random.Next(words.Count)], out var value, out _))
                return (setting.Id, value);
        }
    }

    private void ReadIncidents(DiagnosticBag diagnostics)
    {
        var shows = Path.Combine(ShippedFiles.Folder, "shows");
        string[] files = [Path.Combine(shows, $"{Show}.incidents.yaml"), .. Directory.GetFiles(Path.Combine(shows, "incidents")).Where(_ => Show == "midwinter").Order(StringComparer.Ordinal)];
        foreach (var file in files)
            _incidents.AddRange(IncidentReader.Read(new SourceText(file, File.ReadAllText(file)), Plan.Profile, diagnostics)!.Incidents);
        Assert.NotEmpty(_incidents);
    }
}
