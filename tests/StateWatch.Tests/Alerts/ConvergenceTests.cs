using CsCheck;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using StateWatch.Alerts;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Tests.History;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Alerts;

/// <summary>
/// A real ledger, a real history on disk and a sink that is busy or refuses half of everything, while the disk fills up and the process dies at random: in the end the receiver
/// knows what the ledger wants it to know, no more and no less.
/// </summary>
public sealed class ConvergenceTests
{
    private const string Sink = "light";
    private const int Checks = 12;

    [Fact]
    public async Task Whatever_fails_the_receiver_ends_up_knowing_what_stands() =>
        await Gen.Int[1, 1_000_000].SampleAsync(async seed =>
        {
            using var folder = new ScratchFolder();
            await using var world = new World(folder.PathOf("history"), seed);
            for (var happening = 0; happening < 60; happening++)
                await world.Happen();
            await world.Calm();
            world.Check(seed);
        }, iter: 5, threads: 1);

    private sealed class World : IWatchedDesks, ISelfReport, IAsyncDisposable
    {
        private readonly Random _random;
        private readonly string _folder;
        private readonly DeskStory _story = new("barn/midwinter", Checks, Sink);
        private readonly FakeTimeProvider _clock = new(Some.Start);
        private readonly ScriptedSink _receiver = new(Sink);
        private readonly Dictionary<string, Level> _knows = new(StringComparer.Ordinal);
        private readonly List<WatchOrder> _orders = [];
        private SqliteHistory _history;
        private SinkTelling _telling;
        private bool _isFull;

        public World(string folder, int seed)
        {
            (_folder, _random) = (folder, new Random(seed));
            _receiver.Answer = (alert, _) => ValueTask.FromResult(_random.Next(4) switch
            {
                0 => new Delivery(DeliveryOutcome.Retry, "busy"),
                1 => new Delivery(DeliveryOutcome.Refused, "refused"),
                _ => Taken(alert),
            });
            (_history, _telling) = Begin();
            Store();
        }

        public IReadOnlyList<DeskStatus> Statuses => [];

        public async Task Happen()
        {
            switch (_random.Next(12))
            {
                case 0:
                    _isFull = !_isFull;
                    break;
                case 1:
                    Die();
                    break;
                case 2:
                    for (var check = 0; check < Checks; check++)
                        _story.Drift(check);
                    break;
                case < 8:
                    _story.Drift(_random.Next(Checks), (Severity)_random.Next(1, 4));
                    break;
                default:
                    _story.Match(_random.Next(Checks));
                    break;
            }

            await Pass(_random.Next(20));
        }

        // The disk has room again and the receiver takes everything.
        public async Task Calm()
        {
            _isFull = false;
            _receiver.Answer = (alert, _) => ValueTask.FromResult(Taken(alert));
            for (var minute = 0; minute < 20; minute++)
                await Pass(60);
        }

        public void Check(int seed)
        {
            Assert.Equal(0, _history.CountWaiting(Sink));
            for (var check = 0; check < Checks; check++)
            {
                var record = _story.Ledger.Find(_story.KeyOf(check))!;
                var sink = record.Sinks.Single(one => one.Sink == Sink);
                var knows = _knows.GetValueOrDefault(record.Key);
                Assert.True(Says(knows) == Says(sink.Offered) && Says(knows) == Says(sink.Told), $"seed {seed}, {record.Key}: the receiver knows {knows}, was handed {sink.Offered}, took {sink.Told}");
                if (record.Holds == Holds.None && record.Level.IsNews)
                    Assert.True(Says(knows) == Says(record.Level), $"seed {seed}, {record.Key}: the receiver knows {knows}, and {record.Level} stands");
            }
        }

        public void Order(string desk, WatchOrder order) => _orders.Add(order);

        public void OrderAll(WatchOrder order) => _orders.Add(order);

        public void Report(string id, Severity severity, AlertWords words)
        {
        }

        public void Clear(string id)
        {
        }

        public ValueTask DisposeAsync()
        {
            _history.Dispose();
            return _receiver.DisposeAsync();
        }

        private static (bool IsOpen, LevelKind Kind, int Episode) Says(Level level) => level.IsOpen ? (true, level.Kind, level.Episode) : default;

        private async Task Pass(int seconds)
        {
            for (var second = 0; second <= seconds; second++)
            {
                _story.Wait(1);
                _clock.Advance(TimeSpan.FromSeconds(1));
                Store();
                while (await _telling.Step(TestContext.Current.CancellationToken) == TimeSpan.Zero)
                {
                }

                foreach (var order in _orders)
                    Obey(order);
                _orders.Clear();
                Store();
            }
        }

        // As the writer of a watch does it: what cannot be stored with its alerts is stored without them later.
        private void Store()
        {
            var output = _story.Take();
            if (output.IsEmpty)
                return;
            if (_isFull)
            {
                foreach (var alert in output.Alerts)
                    _telling.Unrecorded.Add(alert);
                output = output with { Alerts = [] };
            }

            _history.Commit([output]);
        }

        private void Obey(WatchOrder order)
        {
            if (order is DeliveredOrder delivered)
                _story.Ledger.Delivered(delivered.Announcement, _story.Now);
            else if (order is SinkOrder { IsUp: false })
                _story.Ledger.SinkLost(Sink, _story.Now);
            else if (order is SinkOrder up)
                _story.Ledger.SinkRecovered(Sink, up.HasLostWaiting, _story.Now);
        }

        private void Die()
        {
            _history.Dispose();
            _orders.Clear();
            (_history, _telling) = Begin();
            _story.Restart(_history.Load(_story.Desk)!, _random.Next(600));
        }

        private (SqliteHistory History, SinkTelling Telling) Begin()
        {
            var history = new SqliteHistory(new HistoryOptions(_folder) { LeastFreeMegabytes = 0 }, _clock);
            return (history, new SinkTelling(_receiver, history, this, this, _clock, NullLogger.Instance, new SinkNumbers { MostWaiting = 15, MostUnrecorded = 5, MostRefusals = 2, RefusedAgainAfter = TimeSpan.FromMinutes(3) }));
        }

        private Delivery Taken(WaitingAlert alert)
        {
            var told = alert.Alert.Told;
            if (told.Digest is null)
                _knows[told.Key] = told.Level;
            foreach (var line in told.Digest ?? [])
            {
                if (line.Passed == 0)
                    _knows[line.Key] = line.Level;
            }

            return Delivery.Taken;
        }
    }
}
