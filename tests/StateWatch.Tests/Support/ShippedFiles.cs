namespace StateWatch.Tests.Support;

/// <summary>The shipped profiles and shows, as copied beside the tests.</summary>
internal static class ShippedFiles
{
    public static string Folder { get; } = Path.Combine(AppContext.BaseDirectory, "profiles");

    public static string Desk { get; } = Path.Combine(Folder, "desks", "larch-48.desk.yaml");

    public static string Questions { get; } = Path.Combine(Folder, "desks", "larch-48.questions.txt");

    public static string Plan { get; } = Path.Combine(Folder, "shows", "midwinter.plan.yaml");

    public static string Incidents { get; } = Path.Combine(Folder, "shows", "midwinter.incidents.yaml");

    /// <summary>The names of all shipped desks, without the ending of their files.</summary>
    public static IReadOnlyList<string> Desks { get; } =
        [.. Directory.GetFiles(Path.Combine(Folder, "desks"), "*.desk.yaml").Select(file => Path.GetFileName(file)[..^".desk.yaml".Length]).Order(StringComparer.Ordinal)];

    public static string DeskOf(string desk) => Path.Combine(Folder, "desks", $"{desk}.desk.yaml");

    public static string SheetOf(string desk) => Path.Combine(Folder, "desks", $"{desk}.sheet.txt");

    public static string QuestionsOf(string desk) => Path.Combine(Folder, "desks", $"{desk}.questions.txt");
}
