using System.Collections.Concurrent;

namespace StateWatch.Alerts.Mqtt;

/// <summary>
/// What a broker has to keep of findings, so that whoever connects sees exactly those that stand. What was published in this run is known and
/// is published again after each new connection, since a broker may have forgotten it. Of what is left from earlier runs the standing findings say
/// whether it still holds.
/// </summary>
internal sealed class KeptFindings
{
    // Topic -> what was published last; empty when it was cleared.
    private readonly Dictionary<string, byte[]> _published = new(StringComparer.Ordinal);
    private readonly HashSet<string> _stale = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, bool> _found = new(StringComparer.Ordinal);

    /// <summary>What was published over an earlier connection in this run and not over this one yet.</summary>
    public IReadOnlyList<(string Topic, byte[] Payload)> Stale => [.. _stale.Select(topic => (topic, _published[topic]))];

    /// <summary>Whether the broker has just this.</summary>
    public bool Has(string topic, byte[] payload) => !_stale.Contains(topic) && _published.TryGetValue(topic, out var published) && published.AsSpan().SequenceEqual(payload);

    /// <summary>Notes that something was published.</summary>
    public void Publish(string topic, byte[] payload)
    {
        _published[topic] = payload;
        _stale.Remove(topic);
    }

    /// <summary>Notes that the broker has something retained; from any thread.</summary>
    public void Find(string topic) => _found[topic] = true;

    /// <summary>A new connection begins: the broker may be another one now, or have forgotten everything.</summary>
    public void Begin()
    {
        _found.Clear();
        _stale.UnionWith(_published.Keys);
    }

    /// <summary>What to publish so that a desk's findings from before this run are right: of those that stand what the broker does not have, and nothing of what no longer stands.</summary>
    /// <param name="root">What the topics of the desk's findings begin with.</param>
    /// <param name="standing">Topics of findings that the sink knows to stand, with how to write each.</param>
    public IReadOnlyList<(string Topic, byte[] Payload)> Missing(string root, IReadOnlyDictionary<string, Func<byte[]>> standing)
    {
        var left = _found.Keys.Where(topic => topic.StartsWith(root, StringComparison.Ordinal) && !_published.ContainsKey(topic) && !standing.ContainsKey(topic)).Select(static topic => (topic, Array.Empty<byte>()));
        var lost = standing.Where(one => !_published.ContainsKey(one.Key) && !_found.ContainsKey(one.Key)).Select(static one => (one.Key, one.Value()));
        return [.. left, .. lost];
    }
}
