using System.Collections.Concurrent;
using Microsoft.Extensions.Hosting.Systemd;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;

namespace StateWatch.Tests.Hosting;

/// <summary>Remembers what was reported.</summary>
internal sealed class FakeReports : ISelfReport
{
    private readonly ConcurrentDictionary<string, AlertWords> _standing = new(StringComparer.Ordinal);

    public IReadOnlyList<string> Standing => [.. _standing.Keys.Order(StringComparer.Ordinal)];

    /// <summary>Everything that was ever reported.</summary>
    public ConcurrentQueue<string> Told { get; } = new();

    public AlertWords Words(string id) => _standing[id];

    public void Report(string id, Severity severity, AlertWords words)
    {
        Told.Enqueue(id);
        _standing[id] = words;
    }

    public void Clear(string id) => _standing.TryRemove(id, out _);
}

/// <summary>A manager that remembers what it was told.</summary>
internal sealed class FakeNotifier : ISystemdNotifier
{
    private readonly List<string> _told = [];

    public bool IsEnabled { get; init; } = true;

    public IReadOnlyList<string> Told
    {
        get
        {
            lock (_told)
                return [.. _told];
        }
    }

    public void Notify(ServiceState state)
    {
        lock (_told)
            _told.Add(state.ToString());
    }
}
