using System.Text.Json;
using Json.Schema;

namespace StateWatch.Core.Tests.BrokenFiles;

/// <summary>The schema of incidents and their reader judge alike, as far as a schema without a desk profile can; judged by an independent implementation.</summary>
public class SchemaAgreementTests
{
    private static readonly string[] WithoutProfile = ["unknown-key", "wrong-shape", "missing-key", "wrong-format", "bad-finding-id", "finding-expected-twice", "incident-sets-nothing"];

    private static readonly Lazy<JsonSchema> Incidents = new(() =>
        JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "schemas", "incidents-1.schema.json"))));

    public static TheoryData<string> Broken => [.. BrokenFile.All.Where(name => BrokenFile.Of(name) is { Kind: "incidents" } file && WithoutProfile.Contains(file.Code))];

    [Theory]
    [InlineData("profiles/shows/midwinter.incidents.yaml")]
    [InlineData("BrokenFiles/_valid/supper.incidents.yaml")]
    public void Valid_files_are_valid_by_the_schema(string path) => Assert.True(IsValid(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, path))));

    [Theory]
    [MemberData(nameof(Broken))]
    public void What_the_reader_refuses_the_schema_refuses_too_until_it_is_put_right(string name)
    {
        var file = BrokenFile.Of(name);
        Assert.False(IsValid(file.Bytes));
        var (old, replacement) = (file.Suggestion ?? file.Replacement)!.Value;
        Assert.True(IsValid(file.With(old, replacement)));
    }

    [Fact]
    public void Every_code_that_needs_no_profile_is_compared() =>
        Assert.Equal(WithoutProfile.Order(StringComparer.Ordinal), Broken.Select(row => BrokenFile.Of(row.Data).Code).Distinct().Order(StringComparer.Ordinal));

    private static bool IsValid(byte[] bytes) => Incidents.Value.Evaluate(JsonDocument.Parse(YamlAsJson.Of(bytes)!.ToJsonString()).RootElement).IsValid;
}
