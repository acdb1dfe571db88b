using StateWatch.Alerts;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.Alerts;

/// <summary>A sink that answers by a script, and remembers what it was sent and what it took.</summary>
internal sealed class ScriptedSink(string name = "light") : IAlertSink
{
    private readonly Lock _gate = new();
    private readonly List<WaitingAlert> _sent = [];

    public string Name { get; } = name;

    public string Place => "the script";

    /// <summary>What it answers; taken when there is none.</summary>
    public Func<WaitingAlert, CancellationToken, ValueTask<Delivery>> Answer { get; set; } = static (_, _) => ValueTask.FromResult(Delivery.Taken);

    /// <summary>What it answers to beats.</summary>
    public Func<Delivery> BeatAnswer { get; set; } = static () => Delivery.Taken;

    public List<WaitingAlert> Taken { get; } = [];

    public int Beats { get; private set; }

    public int Tries
    {
        get
        {
            lock (_gate)
                return _sent.Count;
        }
    }

    public IReadOnlyList<string> TakenIds
    {
        get
        {
            lock (_gate)
                return [.. Taken.Select(alert => alert.Alert.Told.Id)];
        }
    }

    public async ValueTask<Delivery> Send(WaitingAlert alert, CancellationToken cancel)
    {
        lock (_gate)
            _sent.Add(alert);
        var delivery = await Answer(alert, cancel);
        lock (_gate)
        {
            if (delivery.Outcome == DeliveryOutcome.Taken)
                Taken.Add(alert);
        }

        return delivery;
    }

    public ValueTask<Delivery> Beat(DeskStatus status, CancellationToken cancel)
    {
        Beats++;
        return ValueTask.FromResult(BeatAnswer());
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}
