using System.Text;
using StateWatch.Commands;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Reports;
using StateWatch.Core.Watching;
using StateWatch.Files;

namespace StateWatch.Hosting;

/// <summary>The files of one plan: reads them anew, and sees when they have changed. For one thread at a time, never a desk's own.</summary>
/// <param name="path">The plan.</param>
internal sealed class PlanSource(string path)
{
    private readonly HashSet<string> _files = [path];
    private string _profileText = "";
    private DeskProfile? _profile;
    private string _seen = "";
    private string _taken = "";

    /// <summary>The plan's path.</summary>
    public string Path { get; } = path;

    /// <summary>
    /// Reads plan and profile whole, for every phase and cue. A profile that says the same is the same object, so that its links go on.
    /// </summary>
    /// <exception cref="CommandException">A file cannot be read (exit 66).</exception>
    public PlanReading Read()
    {
        _taken = Stamp();
        var files = new FileSet();
        try
        {
            var (document, profile) = files.ReadPlan(Path);
            if (document is null || profile is null || files.Diagnostics.HasErrors)
                return new PlanReading(null, files);
            var profileText = files.Source(files.Names.Last())!.Text;
            if (_profile is null || _profileText != profileText)
                (_profile, _profileText) = (profile, profileText);
            SourceText?[] sources = [.. files.Names.Select(files.Source)];
            var plan = new WatchedPlan(document, _profile, PlanFingerprint.Of(sources)) { Sources = [.. sources.OfType<SourceText>()] };
            return new PlanReading(plan.HasFaults(files.Diagnostics) ? null : plan, files);
        }
        finally
        {
            _files.UnionWith(files.Names);
            _taken = _seen = Stamp();
        }
    }

    /// <summary>
    /// Whether the files are others than when they were last read, and have been at rest since the last look: whoever saves two files, or one in pieces,
    /// is not interrupted.
    /// </summary>
    public bool HasChanged()
    {
        var stamp = Stamp();
        var isAtRest = stamp == _seen;
        _seen = stamp;
        return isAtRest && stamp != _taken;
    }

    // Times and sizes only: what they are worth is decided by reading.
    private string Stamp()
    {
        var stamp = new StringBuilder();
        foreach (var name in _files.Order(StringComparer.Ordinal))
        {
            var info = new FileInfo(name);
            stamp.Append(name).Append('|').Append(info.Exists ? $"{info.Length}|{info.LastWriteTimeUtc.Ticks}" : "absent").Append('\n');
        }

        return stamp.ToString();
    }
}

/// <summary>What came of reading a plan.</summary>
/// <param name="Plan">The plan, or null when it has a fault.</param>
/// <param name="Files">What was read, with every fault.</param>
internal sealed record PlanReading(WatchedPlan? Plan, FileSet Files)
{
    /// <summary>The first fault with its place, and how many there are; null when there is none.</summary>
    public string? Fault
    {
        get
        {
            var faults = Files.Diagnostics.Items.Where(static item => item.Code.Level == DiagnosticLevel.Error).ToList();
            if (faults.Count == 0)
                return null;
            var more = faults.Count - 1 + Files.Diagnostics.Dropped;
            return PlainText.Clean($"{faults[0].At}: {faults[0].Message}{(more > 0 ? $" (and {more} more)" : "")}", 600);
        }
    }
}
