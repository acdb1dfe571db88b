namespace StateWatch.Core.Desks;

/// <summary>What one batch of following has brought. One object, filled anew with each batch.</summary>
public sealed class FollowBatch
{
    private readonly ChangeList _changes;
    private readonly List<FollowNotice> _notices = new(16);

    internal FollowBatch(int settings) => _changes = new ChangeList(settings);

    /// <summary>Its number, from 1; 0 before the first.</summary>
    public long Number { get; private set; }

    /// <summary>Settings that have another value, have become fresh or are no longer so, each once.</summary>
    public ReadOnlySpan<int> Changed => _changes.Items;

    /// <summary>Whether a new generation began: everything that <see cref="Changed"/> does not list is stale.</summary>
    public bool GenerationBegan { get; private set; }

    /// <summary>What else happened, in order.</summary>
    public IReadOnlyList<FollowNotice> Notices => _notices;

    internal void Begin()
    {
        Number++;
        _changes.Clear();
        _notices.Clear();
        GenerationBegan = false;
    }

    internal void Change(int setting) => _changes.Add(setting);

    internal void Tell(FollowNotice notice) => _notices.Add(notice);

    internal void BeginGeneration() => GenerationBegan = true;
}
