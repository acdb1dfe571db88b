using StateWatch.Core.Auditing;
using StateWatch.Core.Documents;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Desks.Following;
using StateWatch.Core.Watching;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Watching;

/// <summary>The watch of a virtual desk in virtual time. Outputs are taken after each batch, as a writer that never tires would.</summary>
internal sealed class WatchedShow : IDisposable
{
    public const string Key = "chapel/midwinter";

    public WatchedShow(VirtualDesk desk, WatchedPlan plan, Phase phase, StoredDesk? stored = null, MemoryDeskReader? link = null, IReadOnlyList<LedgerSink>? sinks = null, IReadOnlyList<IAuditRule>? rules = null)
    {
        Desk = desk;
        Link = link ?? new MemoryDeskReader(desk);
        Watch = new DeskWatch(Key, plan, Link, sinks ?? ["light"], stored, stored is null ? phase : null, rules);
    }

    public VirtualDesk Desk { get; }

    public MemoryDeskReader Link { get; }

    public DeskWatch Watch { get; }

    public List<WatchOutput> Outputs { get; } = [];

    public IEnumerable<Alert> Alerts => Outputs.SelectMany(static output => output.Alerts);

    public IEnumerable<ShowEvent> Happenings => Outputs.SelectMany(static output => output.Happenings);

    public IEnumerable<SettingChange> Changes => Outputs.SelectMany(static output => output.Changes);

    public double Seconds => Link.Clock.GetTimestamp() / (double)TimeSpan.TicksPerSecond;

    /// <summary>Alerts as <c>id kind</c>, without the desk.</summary>
    public IEnumerable<string> Told => Alerts.Select(static alert => $"{alert.Told.Key[(Key.Length + 1)..]} {alert.Told.Level.Kind}");

    public static WatchedPlan PlanOf(string text)
    {
        var diagnostics = new DiagnosticBag();
        var document = PlanReader.Read(new SourceText("midwinter.plan.yaml", text), diagnostics);
        var plan = new WatchedPlan(document!, DemoShow.Profile, Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(text))));
        Assert.False(plan.HasFaults(diagnostics), string.Join('\n', diagnostics.Items.Select(static item => item.Message)));
        return plan;
    }

    /// <summary>The midwinter show, followed from a desk that is as planned, of which nothing was told so far.</summary>
    public static WatchedShow Midwinter(Phase phase = Phase.Show)
    {
        var show = new WatchedShow(FollowedDesk.SetAs(DemoShow.PlannedDesk(DemoShow.Plan(phase))), PlanOf(DemoShow.PlanText), phase);
        show.Run(5);
        Assert.Empty(show.Told);
        Assert.Equal(Core.Desks.FollowPhase.Following, show.Watch.Status.Following);
        return show;
    }

    /// <summary>The play, followed at a cue from a desk that is as planned there.</summary>
    public static WatchedShow Play(string cue)
    {
        var play = ShippedShow.Of("lantern-rock");
        var diagnostics = new DiagnosticBag();
        var plan = new WatchedPlan(play.Document(play.PlanText)!, play.Profile, "0123456789abcdef");
        Assert.False(plan.HasFaults(diagnostics));
        var show = new WatchedShow(FollowedDesk.SetAs(play.DeskAt(cue)), plan, Core.Plans.Phase.Show);
        Assert.True(show.Cue(cue).IsDone);
        show.Run(30);
        Assert.Empty(show.Told);
        return show;
    }

    /// <summary>The desk recalls what it is to be at a cue of the play.</summary>
    public void Recall(string cue)
    {
        var state = ShippedShow.Of("lantern-rock").DeskAt(cue);
        foreach (var setting in Desk.Profile.Settings)
            Desk.Set(setting.Id, state[setting.Id]);
    }

    public void Run(double seconds)
    {
        var until = Link.Clock.GetTimestamp() + (long)(seconds * TimeSpan.TicksPerSecond);
        while (Link.Clock.GetTimestamp() < until)
        {
            Watch.Next(TimeSpan.FromTicks(Math.Min(TimeSpan.TicksPerSecond / 10, until - Link.Clock.GetTimestamp())));
            Take();
        }
    }

    public OrderResult Order(Func<Action<OrderResult>, WatchOrder> make)
    {
        OrderResult? result = null;
        Watch.Order(make(answer => result = answer));
        Watch.Next(TimeSpan.Zero);
        Take();
        return result ?? throw new InvalidOperationException("nobody answered");
    }

    public OrderResult Begin(Phase phase) => Order(reply => new PhaseOrder(phase, "Ada") { Reply = reply });

    public OrderResult Cue(string? cue) => Order(reply => new CueOrder(cue, "Ada") { Reply = reply });

    public void Set(string path, string text)
    {
        var id = Desk.Profile.Find(path);
        Assert.True(id >= 0, path);
        Assert.True(Desk.Profile.Settings[id].Codec.TryParse(text, out var value, out var problem), problem);
        Desk.Set(id, value);
    }

    public string Get(string path) => Desk.Profile.Format(Desk[Desk.Profile.Find(path)]);

    public void Dispose() => Watch.Dispose();

    private void Take()
    {
        if (Watch.Take() is { } output)
            Outputs.Add(output);
    }
}
