using System.Text.Json;
using StateWatch.Tests.Alerts;

namespace StateWatch.Tests.Watches;

/// <summary>
/// A receiver that fails half of the time: it refuses, or takes what came and is cut off before it says so. It keeps what it took as whoever builds
/// on these alerts would: what has an id it knows is passed over, the rest is taken in the order in which it came.
/// </summary>
internal sealed class HookView(int seed)
{
    private readonly Lock _gate = new();
    private readonly Random _random = new(seed);
    private readonly Dictionary<string, byte[]> _bodies = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _seen = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (string State, int Episode)> _open = new(StringComparer.Ordinal);
    private readonly HashSet<string> _taken = [];
    private readonly List<string> _faults = [];
    private bool _isCalm;

    /// <summary>From now on it takes everything.</summary>
    public bool IsCalm
    {
        set
        {
            lock (_gate)
                _isCalm = value;
        }
    }

    /// <summary>What must never be: a body that changed, an order that was not kept.</summary>
    public IReadOnlyList<string> Faults => Look(() => _faults.ToArray());

    /// <summary>Ids of all alerts that came in, taken or not.</summary>
    public IReadOnlyList<string> Ids => Look(() => _bodies.Keys.ToArray());

    /// <summary>What stands as far as it was told: state and episode by key.</summary>
    public IReadOnlyDictionary<string, (string State, int Episode)> Open => Look(() => new Dictionary<string, (string, int)>(_open));

    /// <summary>How often it was sent what it had taken before.</summary>
    public int Repeated { get; private set; }

    /// <summary>Answers one post.</summary>
    public string Answer(HookPost post)
    {
        lock (_gate)
        {
            if (post.Text("type") == "statewatch.beat")
                return "204 No Content";
            var chance = _isCalm ? 1 : _random.NextDouble();
            See(post);
            if (chance < 0.35)
                return "503 Service Unavailable\r\nRetry-After: 0";
            Take(post);
            return chance < 0.5 ? throw new IOException("cut off") : "204 No Content";
        }
    }

    private void See(HookPost post)
    {
        var id = post.Text("id");
        if (!_bodies.TryAdd(id, post.Body) && !_bodies[id].AsSpan().SequenceEqual(post.Body))
            _faults.Add($"{id} came with two bodies: {System.Text.Encoding.UTF8.GetString(_bodies[id])} {System.Text.Encoding.UTF8.GetString(post.Body)}");
        if (id.Contains("#unrecorded", StringComparison.Ordinal))
            _faults.Add($"{id} was not recorded");
        foreach (var line in LinesOf(post))
        {
            if (line.Transition < _seen.GetValueOrDefault(line.Key))
                _faults.Add($"{id} comes after transition {_seen[line.Key]} of {line.Key}");
            _seen[line.Key] = line.Transition;
        }
    }

    private void Take(HookPost post)
    {
        if (!_taken.Add(post.Text("id")))
        {
            Repeated++;
            return;
        }

        foreach (var line in LinesOf(post))
        {
            if (line.State == "cleared")
                _open.Remove(line.Key);
            else
                _open[line.Key] = (line.State, line.Episode);
        }
    }

    // A line of a digest that says what came and went is no level.
    private static List<(string Key, int Episode, int Transition, string State)> LinesOf(HookPost post)
    {
        using var json = JsonDocument.Parse(post.Body);
        var data = json.RootElement.GetProperty("data");
        IEnumerable<JsonElement> lines = data.TryGetProperty("lines", out var digest) ? digest.EnumerateArray().Where(static line => line.GetProperty("passed").GetInt32() == 0) : [data];
        return [.. lines.Select(static line => (line.GetProperty("key").GetString()!, line.GetProperty("episode").GetInt32(), line.GetProperty("transition").GetInt32(), line.GetProperty("state").GetString()!))];
    }

    private T Look<T>(Func<T> look)
    {
        lock (_gate)
            return look();
    }
}
