namespace StateWatch.Core.Profiles;

/// <summary>Which sockets and outputs sit on which stage box, as far as a profile says. Immutable.</summary>
/// <param name="byStrip">Box number by strip path, such as <c>socket/stage-7</c>.</param>
public sealed class StageBoxes(IReadOnlyDictionary<string, int> byStrip)
{
    /// <summary>No box is described.</summary>
    public static StageBoxes None { get; } = new(new Dictionary<string, int>());

    /// <summary>The number of the box a socket or output sits on, or null when the profile does not say.</summary>
    public int? BoxOf(string strip) => byStrip.TryGetValue(strip, out var box) ? box : null;

    /// <summary>The sockets of a box as paths, in the order of the profile.</summary>
    public IEnumerable<string> SocketsOf(int box) => byStrip.Where(pair => pair.Value == box && pair.Key.StartsWith("socket/", StringComparison.Ordinal)).Select(pair => pair.Key);
}
