using StateWatch.Core.Documents;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>Finds the profiles and shows beside the solution.</summary>
internal static class RepositoryFiles
{
    private static readonly string Root = FindRoot();

    public static SourceText Read(string path) => new(Path.GetFileName(path), File.ReadAllText(Path.Combine(Root, path)));

    public static string[] ReadLines(string path) => File.ReadAllLines(Path.Combine(Root, path));

    private static string FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "StateWatch.sln")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("These tests run inside the repository.");
    }
}
