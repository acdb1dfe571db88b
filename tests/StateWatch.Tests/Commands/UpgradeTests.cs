using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Tests.Support;
using StateWatch.Upgrades;

namespace StateWatch.Tests.Commands;

/// <summary>Files of an older format, which is invented here, are brought to the current one; nothing else in them changes.</summary>
public sealed class UpgradeTests
{
    private const string Old = "# Ünicode first\r\nformat: \"tale/1\"   # old\r\nold-word: a\r\nlist:\r\n  - { old-word: old-word, 'old-word ': x }\r\n";

    private static readonly string[] Current = ["tale/3"];

    // Version 1 to 2 renames a key at the root and in lists; 2 to 3 only counts on.
    private static readonly FormatStep[] Steps =
    [
        new("tale/1", "tale/2", root => Keys(root).Where(key => key.Text == "old-word").Select(key => (key, "a-longer-word"))),
        new("tale/2", "tale/3", _ => []),
    ];

    [Fact]
    public void Only_what_the_steps_name_changes()
    {
        var diagnostics = new DiagnosticBag();
        var text = FormatUpgrade.Apply(new SourceText("x", Old), Steps, Current, diagnostics);
        Assert.Empty(diagnostics.Items);
        Assert.Equal("# Ünicode first\r\nformat: \"tale/3\"   # old\r\na-longer-word: a\r\nlist:\r\n  - { a-longer-word: old-word, 'old-word ': x }\r\n", text);
    }

    [Theory]
    [InlineData("format: tale/4\n", "wrong-format")]
    [InlineData("format: story/1\n", "wrong-format")]
    [InlineData("a: b\n", "missing-key")]
    [InlineData("format: [\n", "not-yaml")]
    public void File_that_no_step_leads_on_is_refused(string text, string code)
    {
        var diagnostics = new DiagnosticBag();
        Assert.Null(FormatUpgrade.Apply(new SourceText("x", text), Steps, Current, diagnostics));
        Assert.Equal(code, Assert.Single(diagnostics.Items).Code.Id);
    }

    [Fact]
    public void File_that_changed_meanwhile_is_left_alone()
    {
        using var folder = new ScratchFolder();
        var path = folder.Write("a.yaml", "format: tale/1\n# somebody was here\n");
        Assert.False(FormatUpgrade.Replace(path, Encoding.UTF8.GetBytes("format: tale/1\n"), "format: tale/3\n"));
        Assert.Equal("format: tale/1\n# somebody was here\n", File.ReadAllText(path));
        Assert.Single(Directory.GetFiles(Path.GetDirectoryName(path)!));
    }

    [Fact]
    public void New_text_takes_the_files_place_and_keeps_its_byte_order_mark()
    {
        using var folder = new ScratchFolder();
        var path = folder.Write("a.yaml", "");
        byte[] before = [.. Encoding.UTF8.Preamble, .. "format: tale/1\n"u8];
        File.WriteAllBytes(path, before);
        Assert.True(FormatUpgrade.Replace(path, before, "format: tale/3\n"));
        Assert.Equal([.. Encoding.UTF8.Preamble, .. "format: tale/3\n"u8], File.ReadAllBytes(path));
        Assert.Single(Directory.GetFiles(Path.GetDirectoryName(path)!));
    }

    [Fact]
    public async Task Shipped_plan_is_in_the_current_format_already()
    {
        var before = await File.ReadAllBytesAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken);
        var (exitCode, output, errors) = await StatewatchProcess.Run("check", "--upgrade", ShippedFiles.Plan);
        Assert.Equal((0, $"{ShippedFiles.Plan}: already written in the current format.\n", ""), (exitCode, output, errors));
        Assert.Equal(before, await File.ReadAllBytesAsync(ShippedFiles.Plan, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Newer_format_is_refused_with_its_place()
    {
        using var folder = new ScratchFolder();
        var path = folder.Write("a.plan.yaml", "format: statewatch/show/2\n");
        var (exitCode, _, errors) = await StatewatchProcess.Run("check", "--upgrade", path);
        Assert.Equal(65, exitCode);
        Assert.Contains("a.plan.yaml:1:9: error wrong-format", errors, StringComparison.Ordinal);
        Assert.Contains("a newer file needs a newer program", errors, StringComparison.Ordinal);
    }

    private static IEnumerable<ScalarNode> Keys(Node node) => node switch
    {
        MapNode map => map.Entries.SelectMany(entry => Keys(entry.Value).Prepend(entry.Key)),
        ListNode list => list.Items.SelectMany(Keys),
        _ => [],
    };
}
