namespace StateWatch.History;

/// <summary>Copies of the history's files in its folder: damaged ones that were moved aside, and those from before their form was renewed. They count as part of it, and go before anything that is still in use.</summary>
/// <param name="folder">The folder.</param>
internal sealed class HistoryCopies(string folder)
{
    private readonly List<FileInfo> _files = Find(folder);

    /// <summary>How large they are together.</summary>
    public long Bytes => _files.Sum(static file => file.Length);

    /// <summary>Removes the oldest.</summary>
    /// <returns>Whether there was one.</returns>
    /// <exception cref="HistoryException">It cannot be removed.</exception>
    public bool RemoveOldest()
    {
        if (_files.Count == 0)
            return false;
        try
        {
            _files[0].Delete();
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw HistoryFault.Of(_files[0].FullName, problem);
        }

        _files.RemoveAt(0);
        return true;
    }

    private static List<FileInfo> Find(string folder)
    {
        try
        {
            return !Directory.Exists(folder) ? []
                : [.. new DirectoryInfo(folder).EnumerateFiles("*.db.*").Where(static file => IsCopy(file.Name)).OrderBy(static file => file.LastWriteTimeUtc).ThenBy(static file => file.Name, StringComparer.Ordinal)];
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw HistoryFault.Of(folder, problem);
        }
    }

    private static bool IsCopy(string name) =>
        new[] { SqliteHistory.FindingsFile, SqliteHistory.ObservationsFile }.Any(file => name.StartsWith($"{file}.damaged-", StringComparison.Ordinal) || name.StartsWith($"{file}.form-", StringComparison.Ordinal));
}
