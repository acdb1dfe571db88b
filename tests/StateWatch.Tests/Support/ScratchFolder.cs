namespace StateWatch.Tests.Support;

/// <summary>A folder of its own for one test, removed afterwards.</summary>
internal sealed class ScratchFolder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("statewatch-");

    public string PathOf(string name) => Path.Combine(_folder.FullName, name);

    public string Write(string name, string text)
    {
        var path = Path.Combine(_folder.FullName, name);
        File.WriteAllText(path, text);
        return path;
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
