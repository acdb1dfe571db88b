using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.History;

/// <summary>A history that hangs holds up nobody who asks what waits.</summary>
public sealed class PatientHistoryTests : IDisposable
{
    private readonly HangingHistory _inner = new();

    public void Dispose() => _inner.LetGo.Dispose();

    [Fact]
    public void What_does_not_come_back_is_a_fault_and_nothing_more_is_asked_until_it_does()
    {
        var patient = new PatientHistory(_inner, TimeSpan.Zero);
        Assert.Contains("The history memory does not answer", Assert.Throws<HistoryException>(() => patient.Delivered("light", [1])).Message, StringComparison.Ordinal);
        Assert.True(_inner.Began.Wait(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken));
        Assert.Throws<HistoryException>(() => patient.CountWaiting("light"));
        Assert.Equal(1, _inner.Asked);

        _inner.LetGo.Set();
        Assert.True(_inner.Done.Wait(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken));
        var calm = new PatientHistory(_inner, TimeSpan.FromSeconds(30));
        Assert.Equal(3, calm.CountWaiting("light"));
    }

    [Fact]
    public void Fault_of_the_history_is_told_in_its_own_words() =>
        Assert.Equal("the disk is full", Assert.Throws<HistoryException>(() => new PatientHistory(_inner, TimeSpan.FromSeconds(30)).Coalesce("light", 1)).Message);

    private sealed class HangingHistory : IWatchHistory
    {
        public ManualResetEventSlim LetGo { get; } = new();

        public SemaphoreSlim Began { get; } = new(0);

        public SemaphoreSlim Done { get; } = new(0);

        public int Asked { get; private set; }

        public string Place => "memory";

        public StoredDesk? Load(string desk) => null;

        public void Commit(IReadOnlyList<WatchOutput> outputs)
        {
        }

        public IReadOnlyList<WaitingAlert> Waiting(string sink, int most) => [];

        public int CountWaiting(string sink)
        {
            Asked++;
            return 3;
        }

        public void Delivered(string sink, IReadOnlyList<long> rows)
        {
            Asked++;
            Began.Release();
            LetGo.Wait();
            Done.Release();
        }

        public void Refused(string sink, IReadOnlyList<long> rows)
        {
        }

        public int Coalesce(string sink, int most) => throw new HistoryException("the disk is full");

        public string Tidy(DateTimeOffset now, bool isClockTrusted) => "";

        public void Dispose()
        {
        }
    }
}
