using StateWatch.Core.Findings;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>What is stored of one desk, in memory: so a loop that failed goes on at once, and goes on when nothing can be stored at all.</summary>
internal sealed class StandingCopy
{
    private readonly Dictionary<string, FindingRecord> _findings = new(StringComparer.Ordinal);
    private readonly Dictionary<string, AlertWords> _words = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();
    private LedgerState? _ledger;
    private ShowStanding? _standing;

    public StandingCopy(StoredDesk? stored)
    {
        if (stored is not null)
            Begin(stored);
    }

    /// <summary>What is known, or null when nothing ever was.</summary>
    public StoredDesk? Stored
    {
        get
        {
            lock (_gate)
            {
                return _ledger is null || _standing is null ? null
                    : new StoredDesk(new LedgerRecord(_ledger, [.. _findings.Values.OrderBy(static finding => finding.Key, StringComparer.Ordinal)]), _standing, new Dictionary<string, AlertWords>(_words, StringComparer.Ordinal));
            }
        }
    }

    /// <summary>Forgets what it has, for this.</summary>
    public void Begin(StoredDesk stored)
    {
        lock (_gate)
        {
            (_ledger, _standing) = (stored.Ledger.Ledger, stored.Standing);
            _findings.Clear();
            _words.Clear();
            foreach (var finding in stored.Ledger.Findings)
                _findings[finding.Key] = finding;
            foreach (var (key, words) in stored.Words)
                _words[key] = words;
        }
    }

    /// <summary>Takes what came about.</summary>
    public void Take(WatchOutput output)
    {
        lock (_gate)
        {
            (_ledger, _standing) = (output.Ledger, output.Standing);
            foreach (var (record, words) in output.Findings)
            {
                if (record.IsQuiet)
                    _findings.Remove(record.Key);
                else
                    _findings[record.Key] = record;
                if (words is null)
                    _words.Remove(record.Key);
                else
                    _words[record.Key] = words;
            }
        }
    }
}
