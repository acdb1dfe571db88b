using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests.BrokenFiles;

/// <summary>Mistakes as people make them, a file each: told at their place, and gone once put right as suggested.</summary>
public class BrokenFileTests
{
    public static TheoryData<string> All => [.. BrokenFile.All];

    public static TheoryData<string> Suggested => [.. BrokenFile.All.Where(name => BrokenFile.Of(name).Suggestion is not null)];

    public static TheoryData<string> Replaced => [.. BrokenFile.All.Where(name => BrokenFile.Of(name).Replacement is not null)];

    public static TheoryData<string> Valid => [.. BrokenFile.Valid];

    [Theory]
    [MemberData(nameof(All))]
    public void Mistake_is_told_at_its_place_and_nothing_else(string name)
    {
        var file = BrokenFile.Of(name);
        Assert.Equal(file.Folder, file.Code);
        var found = file.Read().Select(Short).ToList();
        Assert.Equal([$"{file.Code} {file.Place}", .. file.Also], found.OrderByDescending(item => item == $"{file.Code} {file.Place}"));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Only_the_sidecars_that_say_so_get_a_suggestion(string name)
    {
        var file = BrokenFile.Of(name);
        var item = file.Read().First(one => Short(one) == $"{file.Code} {file.Place}");
        Assert.Equal(file.Suggestion?.New, item.Suggestion);
    }

    /// <summary>A suggestion stands for the whole value or key at the place, so that a program can put it there.</summary>
    [Theory]
    [MemberData(nameof(Suggested))]
    public void Suggestion_in_place_of_the_value_removes_the_mistake_and_adds_none(string name)
    {
        var file = BrokenFile.Of(name);
        var item = file.Read().First(one => Short(one) == $"{file.Code} {file.Place}");
        var root = YamlText.Read(SourceText.FromBytes("x", file.Bytes, new DiagnosticBag())!, new DiagnosticBag())!;
        var scalar = Assert.Single(Scalars(root), node => node.At.Place == file.Place);
        Assert.Equal(file.Suggestion!.Value.Old, scalar.Text);
        Assert.Equal([], file.Read(file.With(scalar.Text, item.Suggestion!)).Select(DemoShow.Say));
    }

    [Theory]
    [MemberData(nameof(Replaced))]
    public void What_a_person_would_write_there_removes_the_mistake_and_adds_none(string name)
    {
        var file = BrokenFile.Of(name);
        var (old, replacement) = file.Replacement!.Value;
        Assert.Empty(file.Read(file.With(old, replacement)).Select(Short).Except(file.Also.Where(IsNotice)));
    }

    [Theory]
    [MemberData(nameof(Valid))]
    public void Files_they_were_made_from_are_valid(string name) => Assert.Equal([], BrokenFile.ReadValid(name).Select(DemoShow.Say));

    [Fact]
    public void Every_code_has_a_file_and_every_file_a_code() => Assert.Equal(
        DocumentCodes.All.Concat(ProfileCodes.All).Concat(PlanCodes.All).Concat(IncidentCodes.All).Select(code => code.Id).Order(StringComparer.Ordinal),
        BrokenFile.All.Select(name => BrokenFile.Of(name).Folder).Distinct().Order(StringComparer.Ordinal));

    [Fact]
    public void Every_file_has_a_sidecar() => Assert.Empty(BrokenFile.WithoutSidecar);

    [Fact]
    public void Most_mistakes_can_be_put_right_at_their_place()
    {
        var files = BrokenFile.All.Select(BrokenFile.Of).ToList();
        Assert.True(files.Count >= 60, $"{files.Count}");
        Assert.All(files, file => Assert.False(file.Suggestion is not null && file.Replacement is not null, file.Name));
        Assert.True(files.Count(file => file.Suggestion is not null || file.Replacement is not null) >= 5 * files.Count / 6);
    }

    // Of another line, and no fault: that line keeps it.
    private static bool IsNotice(string also) => PlanCodes.All.Any(code => code.Level == DiagnosticLevel.Notice && also.StartsWith(code.Id + " ", StringComparison.Ordinal));

    private static string Short(Diagnostic item) => $"{item.Code.Id} {item.At.Place}";

    private static IEnumerable<ScalarNode> Scalars(Node node) => node switch
    {
        ScalarNode scalar => [scalar],
        ListNode list => list.Items.SelectMany(Scalars),
        MapNode map => map.Entries.SelectMany(entry => Scalars(entry.Value).Prepend(entry.Key)),
        _ => [],
    };
}
