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
    private readonly ConcurrentDictionary<string, bool> _found = new(StringComparer.Ordinal);

    /// <summary>Everything that was published in this run.</summary>
    public IReadOnlyCollection<KeyValuePair<string, byte[]>> Published => _published;

    /// <summary>Notes that something was published.</summary>
    public void Publish(string topic, byte[] payload) => _published[topic] = payload;

    /// <summary>Notes that the broker has something retained; from any thread.</summary>
    public void Find(string topic) => _found[topic] = true;

    /// <summary>Forgets what the broker was found to have, which may be another one now.</summary>
    public void Forget() => _found.Clear();

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
