namespace StateWatch.Core.Desks;

/// <summary>Endpoints that are asked in turn, evenly over a round.</summary>
internal sealed class Rotation
{
    private readonly int[] _endpoints;
    private readonly Pace _pace;
    private int _next;

    /// <summary>Makes a rotation.</summary>
    /// <param name="endpoints">Whom to ask.</param>
    /// <param name="round">How long a round takes, in ticks of the clock.</param>
    public Rotation(int[] endpoints, long round)
    {
        _endpoints = endpoints;
        _pace = new Pace(Math.Max(1, round / Math.Max(1, endpoints.Length)), first: long.MinValue);
    }

    /// <summary>When the next one is to be asked.</summary>
    public long NextDue => _endpoints.Length == 0 ? long.MaxValue : _pace.NextDue;

    /// <summary>Begins its spacing now, where it stands.</summary>
    public void Start(long now) => _pace.Start(now);

    /// <summary>The next one that is due; what is late is caught up with, but not for ever.</summary>
    public bool TryTake(long now, out int endpoint)
    {
        endpoint = -1;
        if (now < NextDue)
            return false;
        endpoint = _endpoints[_next];
        _next = (_next + 1) % _endpoints.Length;
        _pace.Take(now);
        return true;
    }
}
