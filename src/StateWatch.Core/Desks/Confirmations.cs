namespace StateWatch.Core.Desks;

/// <summary>
/// Endpoints that are asked once more after they have changed and then been quiet for a moment. An older message that came late, or the
/// last of many that got lost, is found so; what changes again waits again.
/// </summary>
internal sealed class Confirmations(int endpoints, long delay)
{
    private readonly Queue<(int Endpoint, long Due)> _queue = new(endpoints);
    private readonly bool[] _queued = new bool[endpoints];
    private readonly long[] _changedAt = new long[endpoints];

    /// <summary>When the next one may be due.</summary>
    public long NextDue => _queue.TryPeek(out var next) ? next.Due : long.MaxValue;

    public void Add(int endpoint, long now)
    {
        _changedAt[endpoint] = now;
        if (_queued[endpoint])
            return;
        _queued[endpoint] = true;
        _queue.Enqueue((endpoint, now + delay));
    }

    public bool TryTake(long now, out int endpoint)
    {
        while (_queue.TryPeek(out var next) && next.Due <= now)
        {
            _ = _queue.Dequeue();
            endpoint = next.Endpoint;
            if (_changedAt[endpoint] + delay <= now)
            {
                _queued[endpoint] = false;
                return true;
            }

            // Times in the queue only rise.
            _queue.Enqueue((endpoint, now + delay));
        }

        endpoint = -1;
        return false;
    }

    public void Clear()
    {
        _queue.Clear();
        Array.Clear(_queued);
    }
}
