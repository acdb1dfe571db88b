using StateWatch.Commands;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Files;

/// <summary>Reads plans, profiles and incidents from disk (or from the embedded demo), and remembers their text for messages.</summary>
internal sealed class FileSet
{
    private readonly Dictionary<string, SourceText?> _sources = new(StringComparer.Ordinal);

    /// <summary>Called with the name of each file before it is looked for, whether or not it is there.</summary>
    public Action<string>? LooksFor { get; init; }

    /// <summary>Every fault found so far, in all files.</summary>
    public DiagnosticBag Diagnostics { get; } = new();

    /// <summary>Names of the files that were looked for, in order.</summary>
    public IEnumerable<string> Names => _sources.Keys;

    /// <summary>The text of a file that was read, or null.</summary>
    public SourceText? Source(string name) => _sources.GetValueOrDefault(name);

    /// <summary>Reads a file, once: a pipe gives its text to the first reader only, and a fault is told once.</summary>
    /// <exception cref="CommandException">It is missing or cannot be read (exit 66).</exception>
    public SourceText? Read(string path)
    {
        if (_sources.TryGetValue(path, out var known))
            return known;
        LooksFor?.Invoke(path);
        byte[] bytes;
        try
        {
            bytes = DemoFiles.IsDemo(path) ? DemoFiles.Read(path) : BoundedFile.Read(path);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException)
        {
            throw new CommandException(ExitCodes.NoInput, $"statewatch: {path}: cannot read this file: {Reason(problem)}");
        }

        return _sources[path] = SourceText.FromBytes(path, bytes, Diagnostics);
    }

    /// <summary>Reads and compiles a profile, or null after diagnostics.</summary>
    public DeskProfile? ReadProfile(string path) => Read(path) is { } source ? ProfileReader.Read(source, Diagnostics) : null;

    /// <summary>Reads a plan and the profile it names; a plan without usable profile is still read, so that its own faults are told.</summary>
    public (PlanDocument? Document, DeskProfile? Profile) ReadPlan(string path)
    {
        var document = Read(path) is { } source ? PlanReader.Read(source, Diagnostics, DemoFiles.IsDemo(path) ? null : OpenBelow) : null;
        if (document is null)
            return (null, null);
        // The desk stands beside the plan that names it, which may be one that this plan extends.
        var deskPath = DemoFiles.IsDemo(path) ? DemoFiles.Desk : Beside(document.Desk);
        if (!DemoFiles.IsDemo(path) && !IsThere(deskPath))
        {
            Diagnostics.Add(DocumentCodes.BadValue, document.Desk.At, $"there is no file '{deskPath}'", "write the path of the desk profile, relative to this plan");
            return (document, null);
        }

        return (document, ReadProfile(deskPath));
    }

    private bool IsThere(string file)
    {
        LooksFor?.Invoke(file);
        return File.Exists(file);
    }

    private static string Beside(ScalarNode path) => Path.Combine(Path.GetDirectoryName(path.At.File) ?? "", path.Text);

    private SourceText? OpenBelow(ScalarNode path)
    {
        var file = Beside(path);
        if (IsThere(file))
            return Read(file);
        Diagnostics.Add(PlanCodes.CannotExtend, path.At, $"there is no file '{file}'", "write the path of the plan below, relative to this one");
        return null;
    }

    private static string Reason(Exception problem) => problem switch
    {
        FileNotFoundException or DirectoryNotFoundException => "it is not there",
        UnauthorizedAccessException => "permission denied",
        _ => problem.Message,
    };
}
