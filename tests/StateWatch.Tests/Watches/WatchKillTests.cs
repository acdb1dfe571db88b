using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using StateWatch.Core.Settings;
using StateWatch.Tests.Alerts;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Watches;

/// <summary>
/// The whole watch as a process is killed (SIGKILL) at seeded random moments while settings change in a storm and a receiver fails half of the time. What
/// was committed stays, ids keep their order and their bodies, and in the end everybody knows what stands. <c>.ci/kills</c> does it 200 times.
/// </summary>
[Collection(WholeWatches.Name)]
public sealed class WatchKillTests : IDisposable
{
    private const string Key = "here/midwinter";
    private static readonly TimeSpan Ceiling = TimeSpan.FromSeconds(30);
    private readonly ScratchFolder _folder = new();
    private readonly CancellationTokenSource _storms = new();

    public void Dispose()
    {
        _storms.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public async Task Nothing_that_was_committed_is_lost_by_kill_9_of_the_watch_and_all_who_are_told_converge()
    {
        var (seed, kills) = (Number("STATEWATCH_SEED", 20261125), Number("STATEWATCH_KILLS", 10));
        var output = TestContext.Current.TestOutputHelper!;
        output.WriteLine($"seed {seed}, {kills} kills");
        var random = new Random(seed);
        using var desk = new ShownDesk(_folder, "midwinter", "larch-48");
        var view = new HookView(seed);
        await using var hook = new HookReceiver(view.Answer);
        await using var broker = Mosquitto.IsPossible ? await Mosquitto.Start() : null;
        var settings = Settings(desk, hook.Port, broker?.Port);
        var storm = Task.Run(() => Storm(desk, new Random(seed + 1)), TestContext.Current.CancellationToken);
        var (last, early) = (StoredView.Read(_folder.PathOf("state"), Key), 0);
        for (var kill = 1; kill <= kills; kill++)
        {
            using var watch = new WatchProcess(settings);
            // One in four dies while it starts.
            if (random.Next(4) != 0)
                await Until(() => watch.IsReady || watch.HasEnded, () => watch.Said);
            await Task.Delay(random.Next(6000), TestContext.Current.CancellationToken);
            Assert.False(watch.HasEnded, $"seed {seed}, before kill {kill} it ended by itself: {watch.Said}");
            early += watch.IsReady ? 0 : 1;
            await watch.Kill();
            var stored = StoredView.Read(_folder.PathOf("state"), Key);
            stored.CheckGoesOnFrom(last, $"seed {seed}, kill {kill}");
            Assert.True(view.Faults.Count == 0, string.Join("\n", view.Faults));
            // Sent means committed before: what the receiver has seen is a witness that does not ask the file.
            var known = stored.Announcements.Select(static one => one.Id).ToHashSet(StringComparer.Ordinal);
            Assert.Equal([], view.Ids.Where(id => id.StartsWith(Key, StringComparison.Ordinal) && !known.Contains(id)));
            last = stored;
        }

        await _storms.CancelAsync();
        await storm;
        Assert.True(last.Announcements.Count > kills, $"only {last.Announcements.Count} announcements");
        await Converge(desk, view, broker, settings, last);
        output.WriteLine($"kills: {kills} of which {early} while it started; {last.Events.Count} lines of the journal, {last.Announcements.Count} announcements, {view.Ids.Count} alerts seen, {view.Repeated} of them again after they were taken");
    }

    private static int Number(string variable, int otherwise) => Environment.GetEnvironmentVariable(variable) is { Length: > 0 } text ? int.Parse(text, CultureInfo.InvariantCulture) : otherwise;

    // Everything as planned but for three sockets; the last watch is not killed.
    private async Task Converge(ShownDesk desk, HookView view, Mosquitto? broker, string settings, StoredView last)
    {
        desk.PutRight();
        var left = Switches(desk).Where(one => desk.Plan.Profile.Settings[one.Setting].Path.EndsWith("/phantom", StringComparison.Ordinal)).Take(3).ToList();
        desk.ByHand(one => left.ForEach(fault => one.Set(fault.Setting, SettingValue.Switch(!fault.Planned))));
        view.IsCalm = true;
        using (var watch = new WatchProcess(settings))
        {
            var said = "";
            await Until(() => watch.IsReady || watch.HasEnded, () => watch.Said);
            await UntilAsync(async () =>
            {
                (_, said, _) = await StatewatchProcess.Run("status", "--format", "json", "--socket", _folder.PathOf("run/control.sock"));
                using var status = JsonDocument.Parse(said);
                return Standing(status).Count >= left.Count && !status.RootElement.GetProperty("sinks").EnumerateArray().Any(static sink => sink.GetProperty("waiting").GetInt32() > 0)
                    && Same(Standing(status), view.Open) && (broker is null || Standing(status).Keys.Where(static key => key.StartsWith($"{Key}/", StringComparison.Ordinal)).ToHashSet().SetEquals(await Retained(broker)));
            }, () => $"status: {said}\nthe receiver: {string.Join(", ", view.Open)}\n{watch.Said}");
            await watch.Kill();
        }

        Assert.True(view.Faults.Count == 0, string.Join("\n", view.Faults));
        StoredView.Read(_folder.PathOf("state"), Key).CheckGoesOnFrom(last, "at the end");
        desk.CheckOnlyAsked();
    }

    // What people are to be told: no notices for sinks that begin at warnings, nothing that is put aside or explained by a bulk change.
    private static Dictionary<string, (string State, int Episode)> Standing(JsonDocument status) => status.RootElement.GetProperty("desks").EnumerateArray()
        .SelectMany(static desk => desk.GetProperty("findings").EnumerateArray()).Concat(status.RootElement.GetProperty("own").EnumerateArray())
        .Where(static finding => finding.GetProperty("severity").GetString() != "notice" && finding.GetProperty("state").GetString() is "raised" or "unstable" or "lapsed")
        .ToDictionary(static finding => finding.GetProperty("key").GetString()!, static finding => (finding.GetProperty("state").GetString()!, finding.GetProperty("episode").GetInt32()), StringComparer.Ordinal);

    private static bool Same(Dictionary<string, (string, int)> one, IReadOnlyDictionary<string, (string, int)> other) =>
        one.Count == other.Count && one.All(pair => other.TryGetValue(pair.Key, out var value) && value == pair.Value);

    private static async Task<IEnumerable<string>> Retained(Mosquitto broker)
    {
        const string root = "hall/here/midwinter/finding/";
        var kept = await broker.Retained(root + "#");
        return kept.Where(static one => one.Value.Length > 0).Select(static one => $"{Key}/{one.Key[root.Length..]}");
    }

    // A few things a second, never one of them often, and now and then many at once.
    private async Task Storm(ShownDesk desk, Random random)
    {
        var switches = Switches(desk);
        var off = new Queue<(int Setting, bool Planned)>();
        while (!_storms.IsCancellationRequested)
        {
            var burst = random.Next(40) == 0 ? 15 : 1;
            desk.ByHand(one =>
            {
                for (; burst > 0; burst--)
                {
                    var (setting, planned) = switches[random.Next(switches.Count)];
                    one.Set(setting, SettingValue.Switch(!planned));
                    off.Enqueue((setting, planned));
                }

                while (off.Count > 5 && off.TryDequeue(out var back))
                    one.Set(back.Setting, SettingValue.Switch(back.Planned));
            });
            await Task.Delay(random.Next(30, 300), CancellationToken.None);
        }
    }

    private static List<(int Setting, bool Planned)> Switches(ShownDesk desk) => desk.Desk.Use(one =>
        desk.Plan.Expectations.Select(static expectation => expectation.Setting).Where(setting => one[setting].Kind == ValueKind.Switch).Select(setting => (setting, one[setting].IsOn)).ToList());

    private string Settings(ShownDesk desk, int hook, int? broker)
    {
        _folder.Write("hook.key", "MDEyMzQ1Njc4OWFiY2RlZjAxMjM0NTY3ODlhYmNkZWY=");
        var sinks = new Dictionary<string, object>
        {
            ["journal"] = new { kind = "log" },
            ["phone"] = new { kind = "webhook", url = $"http://127.0.0.1:{hook}/", secretFile = "hook.key" },
        };
        if (broker is { } port)
            sinks["hall"] = new { kind = "mqtt", host = "127.0.0.1", port, prefix = "hall" };
        return _folder.Write("watch.json", JsonSerializer.Serialize(new
        {
            site = "here",
            desks = new { midwinter = new { plan = Path.GetFileName(desk.PlanPath), address = desk.Desk.EndPoint.ToString(), phase = "doors" } },
            state = "state",
            control = "run/control.sock",
            history = new { freeMegabytes = 0 },
            sinks,
        }));
    }

    private static Task Until(Func<bool> holds, Func<string> told) => UntilAsync(() => Task.FromResult(holds()), told);

    private static async Task UntilAsync(Func<Task<bool>> holds, Func<string> told)
    {
        var began = Stopwatch.GetTimestamp();
        while (!await holds())
        {
            Assert.True(Stopwatch.GetElapsedTime(began) < Ceiling, $"it did not come about within {Ceiling.TotalSeconds:0} s: {told()}");
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }
}
