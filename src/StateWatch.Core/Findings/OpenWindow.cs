namespace StateWatch.Core.Findings;

/// <summary>An open window, so that a check is looked up and not looked for: a cue may move thousands.</summary>
internal sealed class OpenWindow
{
    private readonly Dictionary<string, IReadOnlyList<string>> _values = new(StringComparer.Ordinal);

    public OpenWindow(ExpectedWindow window)
    {
        Window = window;
        foreach (var change in window.Changes)
            _values[change.Key] = _values.TryGetValue(change.Key, out var before) ? [.. before, .. change.Values] : change.Values;
    }

    /// <summary>What is expected.</summary>
    public ExpectedWindow Window { get; }

    public TimeSpan Until => Window.Until;

    public bool IsSettling => Window.IsSettling;

    /// <summary>The checks of which it speaks.</summary>
    public IEnumerable<string> Keys => _values.Keys;

    public bool IsNamed(string id) => string.Equals(Window.Id, id, StringComparison.Ordinal);

    /// <summary>Whether it speaks of a check.</summary>
    public bool Names(string key) => _values.ContainsKey(key);

    /// <summary>Whether a check may have that value.</summary>
    public bool Permits(string key, string? live) => _values.TryGetValue(key, out var values) && (IsSettling || (live is not null && values.Contains(live)));
}
