using System.Collections;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using StateWatch.Alerts;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Hosting;
using StateWatch.Hosting.Settings;
using StateWatch.Tests.Alerts;
using StateWatch.Tests.Hosting;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Watches;

/// <summary>
/// A whole watch of both shipped desks, with everything on that a watch can have and everything happening to it that can happen: what leaves it for the desks
/// is questions, and the desks stay as hands have left them.
/// </summary>
[Collection(WholeWatches.Name)]
public sealed class OnlyQuestionsTests : IDisposable
{
    private static readonly TimeSpan WatchedFor = TimeSpan.FromSeconds(60);
    private readonly ScratchFolder _folder = new();
    private readonly CancellationTokenSource _limit = new(TimeSpan.FromMinutes(4));

    public void Dispose()
    {
        _limit.Dispose();
        _folder.Dispose();
    }

    [Theory]
    [InlineData("larch-48")]
    [InlineData("ouzel-64")]
    public void List_refuses_what_sets_and_what_it_does_not_name(string desk)
    {
        var list = new QuestionList(desk);
        var row = SheetRow.ReadAll(desk)[0];
        Assert.True(list.Allows(row.Question));
        Assert.False(list.Allows(row.Answer));
        Assert.False(list.Allows([.. row.Question, 0, 0, 0, 0]));
        Assert.False(list.Allows("/nobody\0,\0\0\0"u8));
        Assert.False(list.Allows("#bundle\0\0\0\0\0\0\0\0\u0001"u8));
        Assert.False(list.Allows(""u8));
    }

    [Fact]
    public async Task Sixty_seconds_of_a_whole_watch_send_nothing_but_questions()
    {
        using var larch = new ShownDesk(_folder, "midwinter", "larch-48");
        using var ouzel = new ShownDesk(_folder, "lantern-rock", "ouzel-64");
        ShownDesk[] desks = [larch, ouzel];
        await using var hook = new HookReceiver(static _ => "204 No Content");
        using var lamp = LoopbackDesk.Peer();
        await using var broker = Mosquitto.IsPossible ? await Mosquitto.Start() : null;
        var ear = broker is null ? null : await broker.Listen("hall/#");
        await using var log = new StringWriter();
        var settings = Settings(desks, hook.Port, ((IPEndPoint)lamp.LocalEndPoint!).Port, broker?.Port ?? 1);
        var host = await Begin(settings, log);
        var orders = new Orders(host, desks, settings, new Random(20261125), _limit.Token);
        try
        {
            var began = Stopwatch.GetTimestamp();
            for (var turn = 0; Stopwatch.GetElapsedTime(began) < WatchedFor; turn++)
            {
                await orders.Next(turn);
                await Task.Delay(60, _limit.Token);
            }

            foreach (var desk in desks)
                desk.PutRight();
            Assert.Equal([], orders.NeverDone);
            Assert.All(host.Service.Sinks, sink => Assert.True(sink.State.Delivered > 0 || broker is null, $"{sink.State.Name} was told nothing"));
        }
        finally
        {
            await host.Stop("the test");
            await host.DisposeAsync();
        }

        Assert.NotEmpty(hook.Posts);
        Assert.True(lamp.Available > 0, "no OSC was sent");
        if (ear is not null)
            await ear.Until("0 hall/");
        Assert.Contains("here/midwinter", log.ToString(), StringComparison.Ordinal);
        // Each desk was read whole more than once.
        Assert.All(desks, desk => Assert.True(desk.CheckOnlyAsked() > 2 * desk.QuestionCount, $"{desk.Show} was hardly asked"));
    }

    [Fact]
    public async Task Process_sends_nothing_but_questions_either()
    {
        using var larch = new ShownDesk(_folder, "midwinter", "larch-48");
        using var ouzel = new ShownDesk(_folder, "lantern-rock", "ouzel-64");
        ShownDesk[] desks = [larch, ouzel];
        await using var hook = new HookReceiver(static _ => "204 No Content");
        _folder.Write("hook.key", "MDEyMzQ1Njc4OWFiY2RlZjAxMjM0NTY3ODlhYmNkZWY=");
        var settings = _folder.Write("watch.json", JsonSerializer.Serialize(new
        {
            site = "here",
            desks = desks.ToDictionary(desk => desk.Show, desk => new { plan = Path.GetFileName(desk.PlanPath), address = desk.Desk.EndPoint.ToString() }),
            state = "state",
            control = "run/control.sock",
            sinks = new { journal = new { kind = "log" }, phone = new { kind = "webhook", url = $"http://127.0.0.1:{hook.Port}/", secretFile = "hook.key" } },
        }));
        using var watch = StatewatchProcess.Start("watch", "--settings", settings);
        var (output, errors) = (watch.StandardOutput.ReadToEndAsync(_limit.Token), watch.StandardError.ReadToEndAsync(_limit.Token));
        try
        {
            var socket = _folder.PathOf("run/control.sock");
            string[][] orders = [["status"], ["phase", "show", "--by", "Kim"], ["cue", "Kitchen", "--desk", "lantern-rock", "--by", "Kim"], ["ack", "all", "--by", "Kim"], ["phase", "doors", "--by", "Kim"], ["status"]];
            var random = new Random(7);
            while (!File.Exists(socket) && !watch.HasExited)
                await Task.Delay(20, _limit.Token);
            foreach (var order in orders)
            {
                foreach (var desk in desks)
                    desk.Incident(random);
                await StatewatchProcess.Run([.. order, "--socket", socket]);
            }

            while (!hook.Posts.Any(static post => post.Text("type").StartsWith("statewatch.finding", StringComparison.Ordinal)))
                await Task.Delay(20, _limit.Token);
        }
        finally
        {
            // SIGTERM, so that its end is looked at too.
            using var term = Process.Start("kill", ["-TERM", watch.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
            await term.WaitForExitAsync(CancellationToken.None);
            await watch.WaitForExitAsync(_limit.Token);
        }

        Assert.Equal((0, ""), (watch.ExitCode, await errors));
        Assert.NotEmpty(await output);
        // Each was read once, as far as the plan looks.
        Assert.All(desks, desk => Assert.True(desk.CheckOnlyAsked() > desk.QuestionCount / 4, $"{desk.Show} was hardly asked"));
    }

    private WatchSettings Settings(ShownDesk[] desks, int hook, int lamp, int broker)
    {
        var key = _folder.Write("hook.key", "MDEyMzQ1Njc4OWFiY2RlZjAxMjM0NTY3ODlhYmNkZWY=");
        return new WatchSettings("here", [.. desks.Select(static desk => new DeskSettings(desk.Show, desk.PlanPath) { Address = desk.Desk.EndPoint.ToString(), Phase = Phase.Doors })])
        {
            History = new HistoryOptions(_folder.PathOf("state")) { LeastFreeMegabytes = 0 },
            ControlSocket = _folder.PathOf("run/control.sock"),
            Http = new IPEndPoint(IPAddress.Loopback, 0),
            Messages = new IPEndPoint(IPAddress.Loopback, 0),
            Sinks =
            [
                new SinkSettings { Name = "journal", Kind = "log" },
                new SinkSettings { Name = "phone", Kind = "webhook", Url = $"http://127.0.0.1:{hook}/", SecretFile = key },
                new SinkSettings
                {
                    Name = "lamp", Kind = "osc", Host = "127.0.0.1", Port = $"{lamp}", Least = "notice",
                    Alert = new OscMessageSettings { Address = "/foyer/line", Arguments = ["s:{text}"] },
                    State = new OscMessageSettings { Address = "/foyer/lamp", Arguments = ["i:{severitynumber}"] },
                },
                new SinkSettings { Name = "hall", Kind = "mqtt", Host = "127.0.0.1", Port = $"{broker}", Prefix = "hall/desks" },
            ],
        };
    }

    private async Task<WatchHost> Begin(WatchSettings settings, StringWriter log)
    {
        PlanSource[] sources = [.. settings.Desks.Select(static desk => new PlanSource(desk.Plan))];
        var outside = new WatchOutside(new SqliteHistory(settings.History, TimeProvider.System), WatchLog.Open(settings.Log, new Hashtable(), TextWriter.Synchronized(log)))
        {
            Notifier = new FakeNotifier(),
            TakesSignals = false,
            IsClockSynchronised = static () => true,
        };
        var host = await WatchHost.Build(settings, [.. sources.Select(static source => (source, source.Read().Plan!))], outside);
        await host.Start(_limit.Token);
        return host;
    }

    /// <summary>Everything that can be done with a watch and its desks, again and again by chance; one kind after another at first.</summary>
    private sealed class Orders(WatchHost host, ShownDesk[] desks, WatchSettings settings, Random random, CancellationToken limit)
    {
        private readonly HashSet<string> _done = [];
        private readonly string[] _kinds = ["incident", "incident", "incident", "right", "recall", "phase", "cue", "end cue", "ack", "hold", "release", "reload", "fault", "profile", "silent", "stranger", "message", "status"];
        private int _edits;

        /// <summary>What could not once be done.</summary>
        public IEnumerable<string> NeverDone => _kinds.Except(_done).Distinct();

        public async Task Next(int turn)
        {
            var kind = _kinds[turn < _kinds.Length ? turn : random.Next(_kinds.Length)];
            var desk = desks[random.Next(desks.Length)];
            var loop = host.Service.Site.Desks.First(one => one.Settings.Name == desk.Show).Loop;
            var key = loop.Status?.Standing.Where(static finding => finding.Record.Level.IsOpen).Select(static finding => finding.Record.Key).FirstOrDefault();
            switch (kind)
            {
                case "incident":
                    desk.Incident(random);
                    break;
                case "right":
                    desk.PutRight();
                    break;
                case "recall":
                    desk.Recall(random, 30);
                    break;
                case "phase":
                    Give(new PhaseOrder((Phase)random.Next(4), "Kim"));
                    return;
                case "cue":
                    Give(new CueOrder(loop.Status is { Cues: [.., var last] } ? last : null, "Kim"));
                    return;
                case "end cue":
                    Give(new CueOrder(null, "Kim"));
                    return;
                case "ack" when key is not null:
                    Give(new AcknowledgeOrder(key, "Kim"));
                    return;
                case "hold" when key is not null:
                    Give(new HoldFindingOrder(key, "Kim", "later", TimeSpan.FromSeconds(5), IsOneShot: false));
                    return;
                case "release" when key is not null:
                    Give(new ReleaseOrder(key, "Kim"));
                    return;
                case "reload":
                    await File.WriteAllTextAsync(desk.PlanPath, $"{desk.PlanText}# {++_edits}\n");
                    await host.Service.Reload("the test");
                    break;
                case "fault":
                    await File.WriteAllTextAsync(desk.PlanPath, desk.PlanText + "nonsense: 1\n");
                    await host.Service.Reload("the test");
                    break;
                case "profile" when !_done.Contains(kind) || random.Next(8) == 0:
                    await File.AppendAllTextAsync(desk.ProfilePath, $"# {++_edits}\n");
                    await host.Service.Reload("the test");
                    break;
                case "silent" when !_done.Contains(kind) || random.Next(8) == 0:
                    await Until(FollowPhase.Following);
                    desk.ByHand(static one => one.Silent = true);
                    await Until(FollowPhase.Lost);
                    desk.ByHand(static one => one.Silent = false);
                    break;
                case "stranger" when !_done.Contains(kind) || random.Next(8) == 0:
                    var name = desk.Desk.Use(static one => one.IdentityAnswer);
                    await Until(FollowPhase.Following);
                    desk.ByHand(static one => one.IdentityAnswer = ["hazel", "7.1"]);
                    await Until(FollowPhase.Lost);
                    desk.ByHand(one => one.IdentityAnswer = name);
                    break;
                case "message":
                    using (var sender = new UdpClient(AddressFamily.InterNetwork))
                        await sender.SendAsync("/hall/show\0\0,\0\0\0"u8.ToArray(), host.Service.Messages!.EndPoint);
                    break;
                case "status":
                    var (_, output, _) = await StatewatchProcess.Run("status", "--socket", settings.ControlSocket);
                    Assert.Contains("here, ", output, StringComparison.Ordinal);
                    break;
                default:
                    return;
            }

            _done.Add(kind);

            async Task Until(FollowPhase phase)
            {
                while (loop.Status?.Following != phase)
                    await Task.Delay(20, limit);
            }

            void Give(WatchOrder order) => loop.Order(order with { Reply = result => Done(result) });

            void Done(OrderResult result)
            {
                lock (_done)
                {
                    if (result.Outcome is CommandOutcome.Done or CommandOutcome.NotHeld)
                        _done.Add(kind);
                }
            }
        }
    }
}
