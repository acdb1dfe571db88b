using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.Hosting;

namespace StateWatch.Tests.Hosting;

/// <summary>A watch by script: each turn waits until the test lets it go, and does what the test says.</summary>
internal sealed class FakeTurns(StoredDesk? stored, string desk = "here/house") : IWatchTurns
{
    private readonly SemaphoreSlim _turns = new(0);
    private readonly Queue<WatchOutput> _outputs = new();

    public static TimeSpan Ceiling => TimeSpan.FromSeconds(30);

    public StoredDesk? Stored { get; } = stored;

    public string Desk { get; } = desk;

    /// <summary>Done in each turn.</summary>
    public Action? Doing { get; set; }

    /// <summary>Turns need not be let go.</summary>
    public bool IsFree { get; init; }

    public List<WatchOrder> Orders { get; } = [];

    public string? EndedBy { get; private set; }

    public bool IsDisposed { get; private set; }

    public int Turned { get; private set; }

    public DeskStatus Status => new(Desk, default, "Small", Phase.Show, null, default) { Following = Core.Desks.FollowPhase.Following, Coverage = new CoverageSample(default, 40, 40, 0) };

    public static WatchOutput Output(int number, string desk = "here/house", params Alert[] alerts) =>
        new(desk, new LedgerState(desk, new Moment(TimeSpan.FromSeconds(number), DateTimeOffset.UnixEpoch)), new ShowStanding("Small", Phase.Show, null, default, $"{number}"))
        {
            Happenings = [new ShowEvent(DateTimeOffset.UnixEpoch, "Small", Phase.Show, ShowEventKind.CueBegan, $"{number}")],
            Alerts = alerts,
        };

    public void Give(WatchOutput output)
    {
        lock (_outputs)
            _outputs.Enqueue(output);
    }

    public void LetGo(int turns = 1) => _turns.Release(turns);

    public void Next(TimeSpan atMost)
    {
        if (!IsFree && !_turns.Wait(Ceiling))
            throw new TimeoutException("no turn was let go");
        Turned++;
        Doing?.Invoke();
    }

    public WatchOutput? Take()
    {
        lock (_outputs)
            return _outputs.TryDequeue(out var output) ? output : null;
    }

    public StoredDesk Export() => new(new LedgerRecord(new LedgerState(Desk, default), []), new ShowStanding("exported", Phase.Show, null, default, ""), new Dictionary<string, AlertWords>());

    public void Order(WatchOrder order) => Orders.Add(order);

    public void End(string by)
    {
        EndedBy = by;
        Give(Output(99, Desk));
    }

    public void Dispose() => IsDisposed = true;
}
