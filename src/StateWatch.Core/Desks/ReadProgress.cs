namespace StateWatch.Core.Desks;

/// <summary>How much of a full read is still to come.</summary>
internal sealed class ReadProgress(int endpoints)
{
    private readonly bool[] _unread = new bool[endpoints];
    private int _left;

    /// <summary>Whether everything was answered or given up.</summary>
    public bool IsDone => _left == 0;

    /// <summary>How many were given up.</summary>
    public int GivenUp { get; private set; }

    /// <summary>Begins a read of these and no others.</summary>
    public void Begin(int[] wanted)
    {
        Array.Clear(_unread);
        foreach (var endpoint in wanted)
            _unread[endpoint] = true;
        (_left, GivenUp) = (wanted.Length, 0);
    }

    /// <summary>Adds one that is to be read too.</summary>
    public void Add(int endpoint)
    {
        if (!_unread[endpoint])
            _left++;
        _unread[endpoint] = true;
    }

    public void MarkRead(int endpoint)
    {
        if (_unread[endpoint])
            _left--;
        _unread[endpoint] = false;
    }

    public void MarkGivenUp(int endpoint)
    {
        if (_unread[endpoint])
            GivenUp++;
        MarkRead(endpoint);
    }
}
