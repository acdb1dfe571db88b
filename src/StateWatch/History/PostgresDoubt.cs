using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>
/// When the connection breaks while the server commits, nobody knows whether it has. Each commit leaves its own mark, so that the next one can look, and
/// what turns out to be stored is not stored again when it is handed in again, with other things or without. Only journals and alerts need that: the rest
/// has natural keys and is overwritten.
/// </summary>
internal sealed class PostgresDoubt
{
    private readonly HashSet<object> _doubtful = new(ReferenceEqualityComparer.Instance);
    private readonly HashSet<object> _stored = new(ReferenceEqualityComparer.Instance);
    private string _mark = "";
    private string _writer = "";

    /// <summary>These outputs without what is already stored of them.</summary>
    public IReadOnlyList<WatchOutput> Resolve(ISqlSession session, IReadOnlyList<WatchOutput> outputs)
    {
        if (_doubtful.Count > 0)
        {
            if (session.Ask("SELECT 1 FROM last_commit WHERE writer = $1 AND mark = $2", static _ => true, _writer, _mark).Count > 0)
                _stored.UnionWith(_doubtful);
            _doubtful.Clear();
        }

        // Remembered until a commit goes through: the next one may break too, before or after it was stored.
        return _stored.Count == 0 ? outputs : [.. outputs.Select(Fresh)];
    }

    public void Mark(ISqlSession session, string writer)
    {
        (_writer, _mark) = (writer, Guid.NewGuid().ToString("N"));
        session.Run("INSERT INTO last_commit (writer, mark) VALUES ($1, $2) ON CONFLICT (writer) DO UPDATE SET mark = excluded.mark", _writer, _mark);
    }

    /// <summary>The server is about to be asked to commit these.</summary>
    public void Begin(IReadOnlyList<WatchOutput> outputs)
    {
        foreach (var output in outputs)
        {
            _doubtful.UnionWith(output.Events);
            _doubtful.UnionWith(output.Happenings);
            _doubtful.UnionWith(output.Alerts);
        }
    }

    /// <summary>It has said that it did.</summary>
    public void End()
    {
        _doubtful.Clear();
        _stored.Clear();
    }

    private WatchOutput Fresh(WatchOutput output) => output with
    {
        Events = [.. output.Events.Where(line => !_stored.Contains(line))],
        Happenings = [.. output.Happenings.Where(line => !_stored.Contains(line))],
        Alerts = [.. output.Alerts.Where(alert => !_stored.Contains(alert))],
    };
}
