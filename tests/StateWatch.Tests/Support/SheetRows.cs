namespace StateWatch.Tests.Support;

/// <summary>One literal row of a protocol sheet.</summary>
/// <param name="Setting">Setting path.</param>
/// <param name="Value">Its value as reports print it.</param>
/// <param name="Question">Question bytes.</param>
/// <param name="Answer">Answer bytes.</param>
internal sealed record SheetRow(string Setting, string Value, byte[] Question, byte[] Answer)
{
    public static IReadOnlyList<SheetRow> ReadAll(string desk = "larch-48")
    {
        var rows = new List<SheetRow>();
        foreach (var line in File.ReadLines(ShippedFiles.SheetOf(desk)))
        {
            if (line.Length == 0 || line[0] == '#')
                continue;
            var columns = line.Split(" | ");
            rows.Add(new SheetRow(columns[0].Trim(), columns[1], Hex(columns[2]), Hex(columns[3])));
        }

        return rows;
    }

    private static byte[] Hex(string text) => Convert.FromHexString(text.Replace(" ", "", StringComparison.Ordinal));
}
