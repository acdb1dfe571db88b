namespace StateWatch.Tests.Support;

/// <summary>The shipped profiles and shows, as copied beside the tests.</summary>
internal static class ShippedFiles
{
    public static string Folder { get; } = Path.Combine(AppContext.BaseDirectory, "profiles");

    public static string Desk { get; } = Path.Combine(Folder, "desks", "larch-48.desk.yaml");

    public static string Sheet { get; } = Path.Combine(Folder, "desks", "larch-48.sheet.txt");

    public static string Questions { get; } = Path.Combine(Folder, "desks", "larch-48.questions.txt");

    public static string Plan { get; } = Path.Combine(Folder, "shows", "midwinter.plan.yaml");

    public static string Incidents { get; } = Path.Combine(Folder, "shows", "midwinter.incidents.yaml");
}
