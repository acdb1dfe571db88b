using System.Text.RegularExpressions;
using StateWatch.Core.Documents;
using StateWatch.Core.Schemas;
using StateWatch.Core.Tests.BrokenFiles;
using StateWatch.Core.Tests.Reports;

namespace StateWatch.Core.Tests.Documents;

/// <summary>The reference is what the tables say, and its examples are files that work.</summary>
public partial class ReferencePageTests
{
    public static TheoryData<string, string> Pages => new() { { "plan", "profiles/PLAN.md" }, { "desk", "profiles/PROFILE.md" }, { "incidents", "profiles/INCIDENTS.md" }, { "scenario", "profiles/SCENARIOS.md" } };

    [Theory]
    [MemberData(nameof(Pages))]
    public void Reference_is_what_the_tables_make(string kind, string page)
    {
        var root = LanguageSchema.All.Single(one => one.Kind == kind).Root;
        Golden.CheckFile(page, ReferencePage.Fill(TextOf(page), root));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_table_has_its_place(string kind, string page) =>
        Assert.All(ReferencePage.TablesOf(LanguageSchema.All.Single(one => one.Kind == kind).Root), table =>
            Assert.Contains($"\n## {table.Name}\n\n<!-- keys: {table.Name} -->\n", TextOf(page), StringComparison.OrdinalIgnoreCase));

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_example_is_a_file_without_faults(string kind, string page)
    {
        var examples = Fence().Matches(TextOf(page)).Select(match => match.Groups["text"].Value).ToList();
        Assert.NotEmpty(examples);
        Assert.All(examples, example =>
        {
            Assert.Equal([], LanguageFiles.Read(kind, example).Where(item => item.Code.Level != DiagnosticLevel.Notice).Select(DemoShow.Say));
            Assert.Equal([], LanguageSchema.Faults(kind, System.Text.Encoding.UTF8.GetBytes(example), resolve: true));
        });
    }

    [Theory]
    [InlineData("<!-- keys: feeed -->\n<!-- end -->\n")]
    [InlineData("<!-- keys: feed -->\n")]
    public void Page_with_a_wrong_marker_is_refused(string page) =>
        Assert.Throws<ArgumentException>(() => ReferencePage.Fill(page, LanguageSchema.All[0].Root));

    private static string TextOf(string page) => File.ReadAllText(Path.Combine(AppContext.BaseDirectory, page)).ReplaceLineEndings("\n");

    [GeneratedRegex("```yaml\n(?<text>.*?)```", RegexOptions.Singleline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Fence();
}
