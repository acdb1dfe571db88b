namespace StateWatch.Core.Watching;

/// <summary>Keys of desks: site/desk.</summary>
public static class DeskKey
{
    /// <summary>The name that the watch itself has among the desks of a site.</summary>
    public const string Own = "statewatch";

    /// <summary>The key of the watch itself at a site.</summary>
    public static string OwnOf(string site) => $"{site}/{Own}";

    /// <summary>What is before the slash; of a key without one, all of it.</summary>
    public static string SiteOf(string desk) => desk.IndexOf('/', StringComparison.Ordinal) is >= 0 and var slash ? desk[..slash] : desk;

    /// <summary>What is behind the slash; of a key without one, all of it.</summary>
    public static string NameOf(string desk) => desk[(desk.IndexOf('/', StringComparison.Ordinal) + 1)..];
}
