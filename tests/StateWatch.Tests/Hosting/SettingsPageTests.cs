using System.Collections;
using System.Text;
using System.Text.RegularExpressions;
using StateWatch.Core.Tests.Reports;
using StateWatch.Hosting.Settings;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Hosting;

/// <summary>The page about settings is what the table of keys says, and its example works.</summary>
public sealed partial class SettingsPageTests
{
    private static string Page => File.ReadAllText(Path.Combine(ShippedFiles.Folder, "WATCH.md")).ReplaceLineEndings("\n");

    [Fact]
    public void Table_is_what_the_keys_say()
    {
        var table = new StringBuilder("<!-- keys -->\n| key | value | without it | what it is |\n| --- | --- | --- | --- |\n");
        foreach (var key in SettingsKeys.All)
            table.Append($"| `{key.Path}` | {key.Shape.Words} | {key.Default} | {key.Meaning} |\n");
        Golden.CheckFile("profiles/WATCH.md", Keys().Replace(Page, table.Append("<!-- end -->").ToString().Replace("$", "$$", StringComparison.Ordinal)));
    }

    [Fact]
    public void Example_is_read_without_a_fault()
    {
        using var folder = new ScratchFolder();
        var file = folder.Write("watch.json", Example().Match(Page).Groups["text"].Value);
        var (settings, faults) = SettingsReader.Read(file, new Hashtable(), [], []);
        Assert.Equal([], faults.Select(fault => fault.ToString()));
        Assert.Equal((2, 4), (settings!.Desks.Count, settings.Sinks.Count));
    }

    [GeneratedRegex("<!-- keys -->.*<!-- end -->", RegexOptions.Singleline, 1000)]
    private static partial Regex Keys();

    [GeneratedRegex("```json\n(?<text>.*?)```", RegexOptions.Singleline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Example();
}
