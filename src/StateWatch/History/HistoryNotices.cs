namespace StateWatch.History;

/// <summary>What people should know of the history and nobody asked for, until somebody takes it; from any thread.</summary>
internal sealed class HistoryNotices
{
    private const int Most = 100;
    private readonly Lock _gate = new();
    private readonly List<string> _texts = [];

    /// <summary>Adds one; what is already there is not said twice.</summary>
    public void Add(string text)
    {
        lock (_gate)
        {
            if (_texts.Count < Most && !_texts.Contains(text))
                _texts.Add(text);
        }
    }

    public IReadOnlyList<string> Take()
    {
        lock (_gate)
        {
            string[] taken = [.. _texts];
            _texts.Clear();
            return taken;
        }
    }
}
