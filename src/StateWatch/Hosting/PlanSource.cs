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
    private readonly SortedDictionary<string, string> _taken = new(StringComparer.Ordinal) { [path] = "" };
    private string _profileText = "";
    private DeskProfile? _profile;
    private string _seen = "";

    /// <summary>The plan's path.</summary>
    public string Path { get; } = path;

    /// <summary>Called with each file before it is looked for.</summary>
    internal Action<string>? LooksFor { get; init; }

    /// <summary>
    /// Reads plan and profile whole, for every phase and cue. A profile that says the same is the same object, so that its links go on.
    /// </summary>
    /// <exception cref="CommandException">A file cannot be read (exit 66).</exception>
    public PlanReading Read()
    {
        _taken.Clear();
        // As each file was before it was read: what is saved meanwhile is another one. One that is missing counts when it comes.
        var files = new FileSet
        {
            LooksFor = name =>
            {
                _taken.TryAdd(name, StampOf(name));
                LooksFor?.Invoke(name);
            },
        };
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
            _seen = Whole(_taken);
        }
    }

    /// <summary>
    /// Whether the files are others than when they were last read, and have been at rest since the last look: whoever saves two files, or one in pieces,
    /// is not interrupted.
    /// </summary>
    public bool HasChanged()
    {
        var stamp = Whole(_taken.Keys.Select(static name => KeyValuePair.Create(name, StampOf(name))));
        var isAtRest = stamp == _seen;
        _seen = stamp;
        return isAtRest && stamp != Whole(_taken);
    }

    // Times and sizes only: what they are worth is decided by reading.
    private static string StampOf(string name)
    {
        var info = new FileInfo(name);
        return info.Exists ? $"{info.Length}|{info.LastWriteTimeUtc.Ticks}" : "absent";
    }

    private static string Whole(IEnumerable<KeyValuePair<string, string>> stamps) => string.Join('\n', stamps.Select(static one => $"{one.Key}|{one.Value}"));
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
