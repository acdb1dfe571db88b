namespace StateWatch.Core.Tests.Findings;

internal sealed partial class LedgerModel
{
    // B is told of warnings and what is urgent only.
    private static readonly int[] Least = [1, 2];
    private readonly bool[] _up = [true, true];
    private readonly int?[] _digestDue = [null, null];
    private int _digests;

    /// <summary>What was told since the beginning, a line each: sink, id, what.</summary>
    public List<string> Told { get; } = [];

    /// <summary>The same as waits for delivery, by sink.</summary>
    public List<(string Key, ModelLevel Level)[]>[] Waiting { get; } = [[], []];

    /// <summary>Tells what is wanted and not known, of every key.</summary>
    public void Tell()
    {
        CloseBulk();
        List<(string Key, ModelLevel Level, int Passed, int Severity)>[] digests = [[], []];
        foreach (var row in All)
        {
            if (!row.Settling && !row.Inhibited && (!row.Gathering || row.Level.Kind == "unstable"))
                Tell(row, digests);
            (row.Remind, row.Folded) = (false, false);
        }

        for (var sink = 0; sink < 2; sink++)
        {
            if (digests[sink].Count == 0 && !(_up[sink] && _digestDue[sink] <= Now))
                continue;
            _digestDue[sink] = null;
            foreach (var row in All.Where(row => row.Sinks[sink].Passed > 0 && row.Held.Length == 0))
            {
                var passed = row.Sinks[sink];
                digests[sink].Add((row.Key, new ModelLevel("none", passed.PassedSeverity, passed.PassedEpisode, 0), passed.Passed, passed.PassedSeverity));
                passed.Passed = 0;
            }

            if (digests[sink].Count == 0)
                continue;
            var lines = digests[sink].OrderBy(line => !_rows[line.Key].Guarded).ThenBy(static line => line.Key, StringComparer.Ordinal).ToList();
            _digests++;
            Told.Add($"{"AB"[sink]} hall/desk/digest#0#{_digests} {string.Join(", ", lines.Select(static line => $"{line.Key} {line.Level} passed{line.Passed} sev{line.Severity}"))}");
            Waiting[sink].Add([.. lines.Where(static line => line.Passed == 0).Select(static line => (line.Key, line.Level))]);
        }

        _anew = null;
    }

    public void SinkLost(int sink) => _up[sink] = false;

    public void SinkRecovered(int sink, bool lost)
    {
        _up[sink] = true;
        if (!lost)
            return;
        Waiting[sink].Clear();
        foreach (var row in _rows.Values)
            row.Sinks[sink].Offered = row.Sinks[sink].Told;
    }

    public void Deliver(int sink, int count)
    {
        foreach (var (key, level) in Waiting[sink].Take(count).SelectMany(static item => item))
        {
            if (_rows.TryGetValue(key, out var row) && level.Transition >= row.Sinks[sink].Told.Transition)
                row.Sinks[sink].Told = level;
        }

        Waiting[sink].RemoveRange(0, Math.Min(count, Waiting[sink].Count));
    }

    private void CloseBulk()
    {
        if (_counts && _bulk.Condition == "active" && _members.Where(static row => row.Condition != "normal").Select(static row => row.Weight).DefaultIfEmpty(0).Max() is var worst && worst > _bulk.Severity)
            Judge(_bulk, new ModelReading('!', worst));
        if (!_counts || _bulk.Condition != "active" || _bulkUntil is not null)
            return;
        var left = _members.Count(static row => row.Condition != "normal");
        if (_members.Count > 0 && left >= _members.Count / 4.0)
            return;
        Judge(_bulk, new ModelReading('='));
        foreach (var row in _members)
            (row.Inhibited, row.Folded) = (false, true);
        _members.Clear();
    }

    private static string Want(ModelRow row)
    {
        if (row.Shelf is not null || row.Expected || row.OutOfServiceUntil is not null)
            return row.IsOn || row.Latched ? "held" : "none";
        if (row.Damped)
            return "unstable";
        if (row.IsOn)
            return row.Known is null ? "raised" : "acknowledged";
        return row.Latched ? "lapsed" : "none";
    }

    private void Tell(ModelRow row, List<(string, ModelLevel, int, int)>[] digests)
    {
        var kind = Want(row);
        var before = row.Level;
        var quiet = row.Condition == "clearing" && !before.News && kind != "held";
        var goesOn = kind == "unstable" && before.Kind == "unstable";
        var wanted = quiet ? before : new ModelLevel(kind, goesOn ? Math.Max(before.Severity, row.Severity) : row.Severity, goesOn ? before.Episode : row.Episode, 0);
        if (!wanted.Same(before))
        {
            var begins = wanted.Episode != before.Episode;
            row.Level = wanted with { Transition = before.Transition + (begins && before.Open ? 2 : 1) };
            row.First = begins ? row.Level.Transition : row.First;
        }
        else if (row.Remind && wanted.Kind == "unstable" && wanted.Severity == 3 && row.Known is null)
        {
            row.Level = before with { Transition = before.Transition + 1 };
        }

        for (var sink = 0; sink < 2; sink++)
        {
            if (_up[sink])
                Offer(row, sink, digests[sink]);
        }
    }

    private void Offer(ModelRow row, int number, List<(string, ModelLevel, int, int)> digest)
    {
        var sink = row.Sinks[number];
        var level = row.Level.Open && row.Level.Severity < Least[number] ? row.Level with { Kind = "none" } : row.Level;
        if (sink.Offered.Open && sink.Offered.Episode != row.Level.Episode)
            Send(row, number, new ModelLevel("none", sink.Offered.Severity, sink.Offered.Episode, row.First - 1), digest);
        var differs = !sink.Offered.Same(level) || (level.Kind == "unstable" && sink.Offered.Transition != level.Transition);
        if (differs && (level.News || sink.Offered.Open))
            Send(row, number, level, digest);
        if (sink.Passed > 0 && row.Held.Length == 0)
            _digestDue[number] ??= Now + Minute;
    }

    private void Send(ModelRow row, int number, ModelLevel level, List<(string, ModelLevel, int, int)> digest)
    {
        row.Sinks[number].Offered = level;
        if (row.Folded)
        {
            digest.Add((row.Key, level, 0, row.Severity));
            return;
        }

        Told.Add($"{"AB"[number]} {row.Key}#{level.Episode}#{level.Transition} {level} {row.Condition}");
        Waiting[number].Add([(row.Key, level)]);
    }
}
