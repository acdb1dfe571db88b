using StateWatch.Core.Documents;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;
using StateWatch.Core.Watching;
using StateWatch.Hosting;

namespace StateWatch.Control;

/// <summary>Gives what people order to the desks it concerns, and waits for what becomes of it.</summary>
internal sealed class ControlOrders(WatchSite site, ILogger log)
{
    private const int LongestText = 500;

    // A loop takes orders at each turn; one that begins anew may take longer than somebody waits.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    /// <summary>Somebody knows of a finding.</summary>
    public Task<OrderAnswer> Acknowledge(OrderRequest request) =>
        OnFinding(request, "ack", static _ => true, (key, by, reply) => new AcknowledgeOrder(key, by) { Reply = reply });

    /// <summary>A finding is put aside, or told again.</summary>
    public Task<OrderAnswer> Hold(OrderRequest request)
    {
        if (request.End)
            return OnFinding(request, "hold --end", static record => record.Shelf is not null, static (key, by, reply) => new ReleaseOrder(key, by) { Reply = reply });
        if (string.IsNullOrWhiteSpace(request.Why))
            return Refuse("a finding is put aside for a reason: add --why and a few words");
        if (request.Minutes is <= 0 or > 43_200)
            return Refuse("a finding is put aside for more than nothing and for 30 days at the most");
        TimeSpan? span = request.Minutes is { } minutes ? TimeSpan.FromMinutes(minutes) : null;
        return OnFinding(request, "hold", static _ => true, (key, by, reply) => new HoldFindingOrder(key, by, Clean(request.Why), span, request.Once) { Reply = reply });
    }

    /// <summary>A phase begins.</summary>
    public async Task<OrderAnswer> BeginPhase(OrderRequest request)
    {
        if (!Phases.TryParse(request.Phase, out var phase))
        {
            var near = NearestWord.Among(request.Phase ?? "", Phases.All);
            return await Refuse($"'{Clean(request.Phase)}' is not a phase; {(near is null ? $"write one of {string.Join(", ", Phases.All)}" : $"did you mean '{near}'?")}");
        }

        var (desks, problem) = DesksOf(request);
        return problem is not null ? await Refuse(problem)
            : await OnDesks([.. desks.Select(static loop => loop.Desk)], "phase", By(request), reply => new PhaseOrder(phase, By(request)) { Reply = reply });
    }

    /// <summary>A cue begins or ends, at the desks whose plan has it or that are at one.</summary>
    public async Task<OrderAnswer> BeginCue(OrderRequest request)
    {
        var (desks, problem) = DesksOf(request);
        if (problem is not null)
            return await Refuse(problem);
        var concerned = request.End ? desks.Where(static loop => loop.Status?.Cue is not null).ToList()
            : desks.Where(loop => loop.Status?.Cues.Contains(request.Cue ?? "") ?? false).ToList();
        if (concerned.Count > 0)
            return await OnDesks([.. concerned.Select(static loop => loop.Desk)], "cue", By(request), reply => new CueOrder(request.End ? null : request.Cue, By(request)) { Reply = reply });
        if (request.End)
            return await Refuse("no desk is at a cue, so none can end");
        var known = desks.SelectMany(static loop => loop.Status?.Cues ?? []).Distinct(StringComparer.Ordinal).ToList();
        var near = NearestWord.Among(request.Cue ?? "", known);
        return await Refuse(known.Count == 0 ? "no plan here has cues" : $"no plan here has a cue '{Clean(request.Cue)}'; {(near is null ? $"its cues: {string.Join(", ", known.Take(40))}" : $"did you mean '{near}'?")}");
    }

    private async Task<OrderAnswer> OnFinding(OrderRequest request, string verb, Func<FindingRecord, bool> mayBe, Func<string, string, Action<OrderResult>, WatchOrder> make)
    {
        if (string.IsNullOrWhiteSpace(request.By))
            return await Refuse("say who does it: add --by and a name, so that others know whom to ask");
        var given = request.Finding ?? "";
        (string Desk, string Key)[] candidates = [.. site.Standing.Where(item => (request.Desk is null || IsCalled(item.Desk, request.Desk)) && mayBe(item.Finding.Record))
            .Select(static item => (item.Desk, item.Finding.Record.Key))];
        var (desk, key, problem) = FindingNames.Find(given, candidates);
        // A check that is on plan may be named in full: what becomes of that, its desk knows.
        if (problem is not null && site.Loops.FirstOrDefault(loop => given.StartsWith($"{loop.Desk}/", StringComparison.Ordinal)) is { } named)
            (desk, key, problem) = (named.Desk, given, null);
        if (problem is not null)
            return await Refuse(problem);
        return await OnDesks([desk], verb, By(request), reply => make(key, By(request), reply));
    }

    private async Task<OrderAnswer> OnDesks(IReadOnlyList<string> desks, string verb, string by, Func<Action<OrderResult>, WatchOrder> make)
    {
        var lines = new List<string>();
        var (done, unknown) = (true, false);
        // All at once: a desk that takes its time keeps none of the others waiting.
        foreach (var (desk, result) in desks.Zip(await Task.WhenAll(desks.Select(desk => Ask(desk, make)))))
        {
            done &= result.IsDone;
            unknown |= result.Outcome is CommandOutcome.UnknownKey or CommandOutcome.NoAuthor or CommandOutcome.NoReason or CommandOutcome.NoExpiry;
            lines.Add(PlainText.Clean(desks.Count > 1 ? $"{desk}: {result.Text}" : result.Text));
            log.OrderTaken(verb, desk, by, result.Text);
        }

        return new OrderAnswer(done, unknown, lines);
    }

    private async Task<OrderResult> Ask(string desk, Func<Action<OrderResult>, WatchOrder> make)
    {
        var answer = new TaskCompletionSource<OrderResult>(TaskCreationOptions.RunContinuationsAsynchronously);
        site.Order(desk, make(result => answer.TrySetResult(result)));
        try
        {
            return await answer.Task.WaitAsync(Patience);
        }
        catch (TimeoutException)
        {
            return new OrderResult(CommandOutcome.NotHeld, $"not yet: {desk} has not taken it within {Patience.TotalSeconds:0} s and takes it when its watch comes round again, look at 'statewatch status'");
        }
    }

    private (IReadOnlyList<DeskLoop> Desks, string? Problem) DesksOf(OrderRequest request)
    {
        DeskLoop[] all = [.. site.Desks.Select(static desk => desk.Loop)];
        if (request.Desk is not { } name)
            return (all, null);
        var desks = all.Where(loop => IsCalled(loop.Desk, name)).ToList();
        if (desks.Count > 0)
            return (desks, null);
        var names = site.Desks.Select(static desk => desk.Settings.Name).ToList();
        var near = NearestWord.Among(name, names);
        return ([], $"no desk here is called '{Clean(name)}'; {(near is null ? $"there are {string.Join(", ", names)}" : $"did you mean '{near}'?")}");
    }

    private static bool IsCalled(string desk, string name) => desk == name || desk.EndsWith($"/{name}", StringComparison.Ordinal);

    private static string By(OrderRequest request) => string.IsNullOrWhiteSpace(request.By) ? "somebody at this machine" : Clean(request.By);

    private static string Clean(string? text) => PlainText.Clean(text ?? "", LongestText);

    private static Task<OrderAnswer> Refuse(string line) => Task.FromResult(new OrderAnswer(false, true, [line]));
}
