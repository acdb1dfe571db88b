using System.Collections.Concurrent;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>
/// Takes what goes wrong in the watch itself, from any thread, and hands it to the watch's own ledger; whoever reports logs it too. What comes before there is one
/// is handed over then.
/// </summary>
internal sealed class SelfReports(ILogger log) : ISelfReport
{
    private readonly ConcurrentDictionary<string, (Severity Severity, AlertWords Words)> _standing = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();
    private ISelfReport? _ledger;
    private Action? _wake;

    /// <summary>Hands everything to a ledger from now on, and what stands at once.</summary>
    /// <param name="ledger">The ledger.</param>
    /// <param name="wake">Called when it was handed something.</param>
    public void HandTo(ISelfReport ledger, Action wake)
    {
        lock (_gate)
        {
            (_ledger, _wake) = (ledger, wake);
            foreach (var (id, (severity, words)) in _standing)
                ledger.Report(id, severity, words);
        }
    }

    public void Report(string id, Severity severity, AlertWords words)
    {
        lock (_gate)
        {
            var isNews = !_standing.TryGetValue(id, out var before) || before.Severity != severity || before.Words.Text != words.Text;
            _standing[id] = (severity, words);
            if (isNews)
                log.SelfReport(id, words.Text, words.Do);
            _ledger?.Report(id, severity, words);
            _wake?.Invoke();
        }
    }

    public void Clear(string id)
    {
        lock (_gate)
        {
            if (_standing.TryRemove(id, out _))
                log.SelfCleared(id);
            _ledger?.Clear(id);
            _wake?.Invoke();
        }
    }
}
