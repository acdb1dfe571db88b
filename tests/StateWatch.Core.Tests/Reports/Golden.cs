namespace StateWatch.Core.Tests.Reports;

/// <summary>Compares text with a file that was read and approved by a person.</summary>
internal static class Golden
{
    private const string Switch = "STATEWATCH_UPDATE_GOLDEN";

    /// <summary>Checks a text against <c>Reports/Golden/NAME</c>; with STATEWATCH_UPDATE_GOLDEN=1 writes it there instead.</summary>
    public static void Check(string name, string actual)
    {
        if (Environment.GetEnvironmentVariable(Switch) == "1")
        {
            var source = Path.Combine(SourceFolder(), name);
            File.WriteAllText(source, actual);
            Assert.Fail($"{source} was written. Read the difference (git diff), then build and run again without {Switch}.");
        }

        var path = Path.Combine(AppContext.BaseDirectory, "Reports", "Golden", name);
        var expected = File.Exists(path) ? File.ReadAllText(path).ReplaceLineEndings("\n") : "";
        if (expected != actual)
        {
            Assert.Fail($"{name} is not as approved, first at line {FirstDifference(expected, actual)}. "
                + $"If the change is meant: {Switch}=1 dotnet test tests/StateWatch.Core.Tests, read git diff, build and run again.\n{actual}");
        }
    }

    /// <summary>Checks a text against a file of the repository; with STATEWATCH_UPDATE_GOLDEN=1 writes it there instead.</summary>
    public static void CheckFile(string path, string actual)
    {
        var file = Path.Combine(Repository(), path);
        var expected = File.Exists(file) ? File.ReadAllText(file).ReplaceLineEndings("\n") : "";
        if (expected == actual)
            return;
        if (Environment.GetEnvironmentVariable(Switch) == "1")
        {
            File.WriteAllText(file, actual);
            Assert.Fail($"{file} was written. Read the difference (git diff), then build and run again without {Switch}.");
        }

        Assert.Fail($"{path} is not what the program makes, first at line {FirstDifference(expected, actual)}. Run with {Switch}=1, read git diff, build and run again.");
    }

    private static int FirstDifference(string expected, string actual)
    {
        var same = 0;
        while (same < expected.Length && same < actual.Length && expected[same] == actual[same])
            same++;
        return 1 + actual[..same].Count(letter => letter == '\n');
    }

    private static string SourceFolder() => Path.Combine(Repository(), "tests", "StateWatch.Core.Tests", "Reports", "Golden");

    private static string Repository()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "StateWatch.sln")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new DirectoryNotFoundException("StateWatch.sln is in no folder above the tests");
    }
}
