namespace StateWatch.Simulator;

/// <summary>Addresses with values that nobody was told yet, each once, in the order in which they changed.</summary>
internal sealed class ChangeQueue(int endpoints)
{
    private readonly Queue<int> _queue = new(endpoints);
    private readonly bool[] _queued = new bool[endpoints];

    public bool IsEmpty => _queue.Count == 0;

    public void Add(int endpoint)
    {
        if (_queued[endpoint])
            return;
        _queued[endpoint] = true;
        _queue.Enqueue(endpoint);
    }

    public bool TryTake(out int endpoint)
    {
        if (!_queue.TryDequeue(out endpoint))
            return false;
        _queued[endpoint] = false;
        return true;
    }

    public void Clear()
    {
        _queue.Clear();
        Array.Clear(_queued);
    }
}
