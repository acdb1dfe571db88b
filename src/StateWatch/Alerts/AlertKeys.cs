namespace StateWatch.Alerts;

/// <summary>Takes keys apart: site/desk/rule:subject.</summary>
internal static class AlertKeys
{
    /// <summary>The name of the watch's own ledger among the desks.</summary>
    public const string Own = "statewatch";

    /// <summary>site/desk.</summary>
    public static string DeskOf(string key)
    {
        var first = key.IndexOf('/', StringComparison.Ordinal);
        var second = first < 0 ? -1 : key.IndexOf('/', first + 1);
        return second < 0 ? key : key[..second];
    }

    /// <summary>Site and name of a desk.</summary>
    public static (string Site, string Desk) PartsOf(string desk)
    {
        var slash = desk.IndexOf('/', StringComparison.Ordinal);
        return slash < 0 ? ("", desk) : (desk[..slash], desk[(slash + 1)..]);
    }

    /// <summary>rule:subject.</summary>
    public static string FindingOf(string key) => key.Length > DeskOf(key).Length ? key[(DeskOf(key).Length + 1)..] : "";
}
