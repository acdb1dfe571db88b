using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Tests.Documents;

/// <summary>The tables are what the readers read: every row is taken, its example is good, and nothing else is known.</summary>
public class KeyTableTests
{
    public static TheoryData<string, string> Tables => new(LanguageFiles.Roots.SelectMany(root => LanguageFiles.Tables(root.Root).Select(one => (root.Kind, one.Table.Name)).Distinct()));

    [Theory]
    [MemberData(nameof(Tables))]
    public void Every_row_is_read_and_its_example_is_good(string kind, string name)
    {
        foreach (var (table, also, around) in Named(kind, name))
        {
            foreach (var row in table.Rows)
            {
                var text = around(LanguageFiles.Mapping(table, also, row.Key, row.Example));
                Assert.Equal([], LanguageFiles.Read(kind, text).Where(item => DocumentCodes.All.Contains(item.Code)).Select(item => $"{DemoShow.Say(item)} ({item.Advice}) in {text}"));
            }
        }
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public void Key_without_a_row_is_unknown_wherever_it_stands(string kind, string name)
    {
        foreach (var (table, also, around) in Named(kind, name))
        {
            var text = around(LanguageFiles.Mapping(table, also, "zyzzyva", "1"));
            Assert.Contains(LanguageFiles.Read(kind, text), item => item.Code == DocumentCodes.UnknownKey && item.Message == "'zyzzyva' is not a key here");
        }
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public void Rows_have_words_and_stand_once(string kind, string name)
    {
        foreach (var (table, also, _) in Named(kind, name))
        {
            Assert.Equal(table.Keys.Distinct(), table.Keys);
            Assert.Empty(also.Except(table.Keys));
            Assert.All([table.Words, .. table.Rows.ToArray().Select(row => row.Words)], words => Assert.True(words.Length > 3 && words.EndsWith('.') && words.TrimStart() == words, words));
            Assert.All(table.Rows.ToArray(), row => Assert.False(row.Required && row.Default is not null, row.Key));
        }
    }

    [Fact]
    public void Reader_cannot_take_a_key_that_its_table_does_not_have()
    {
        var reader = new MapReader(new MapNode(default, []), PlanKeys.Root, new DiagnosticBag());
        Assert.Throws<ArgumentException>(() => reader.Take("zyzzyva"));
    }

    [Fact]
    public void Tables_over_words_of_the_core_have_all_of_them()
    {
        Assert.Equal(SettingCatalogue.StripKinds.Order(StringComparer.Ordinal), ProfileKeys.Strips.Keys.Order(StringComparer.Ordinal));
        Assert.Empty(SettingClasses.All.Except(PlanKeys.Tolerance.Keys));
        Assert.Equal(["group"], Purposes.All.Except(Purposes.OfFeeds));
    }

    private static IEnumerable<(KeyTable Table, IReadOnlyList<string> Also, Func<string, string> Around)> Named(string kind, string name) =>
        LanguageFiles.Tables(LanguageFiles.Roots.Single(root => root.Kind == kind).Root).Where(one => one.Table.Name == name);
}
