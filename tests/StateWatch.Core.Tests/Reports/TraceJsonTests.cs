using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public class TraceJsonTests
{
    // The keys of the format as they are documented, in their order.
    private static readonly string[] RootKeys = ["schema", "show", "desk", "phase", "cue", "at", "origin", "address", "end", "kind", "answer", "exitCode", "pairs"];

    private static readonly string[] PairKeys =
    [
        "from", "name", "to", "purpose", "answer", "level", "preamp", "faint", "legs", "unseen", "source", "ways", "moreWays", "closedWays", "conditions", "opening",
    ];

    // Draft 2020-12, judged by an independent implementation.
    private static readonly Lazy<JsonSchema> Schema = new(() =>
        JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "schemas", "trace-1.schema.json"))));

    public static TheoryData<string> All => Traces.All;

    [Theory]
    [MemberData(nameof(All))]
    public void Every_trace_is_valid_by_the_schema(string name) => Assert.True(IsValid(TraceJson.Write(Traces.Of(name))));

    [Theory]
    [InlineData("muted", "/extra")]
    [InlineData("muted", "/pairs/0/extra")]
    [InlineData("muted", "/pairs/0/legs/0/extra")]
    [InlineData("muted", "/pairs/0/closedWays/0/extra")]
    [InlineData("muted", "/pairs/0/closedWays/0/steps/0/extra")]
    [InlineData("muted", "/pairs/0/closedWays/0/steps/0/stages/0/extra")]
    [InlineData("muted", "/pairs/0/opening/extra")]
    [InlineData("muted", "/pairs/0/opening/changes/0/extra")]
    [InlineData("two-ways", "/pairs/0/conditions/0/extra")]
    [InlineData("wrong-source", "/pairs/0/source/extra")]
    public void The_schema_refuses_unknown_keys(string name, string pointer)
    {
        var root = JsonNode.Parse(TraceJson.Write(Traces.Of(name)))!;
        var place = root;
        foreach (var part in pointer.Split('/')[1..^1])
            place = place is JsonArray items ? items[int.Parse(part)]! : place[part]!;
        place["extra"] = 1;
        Assert.False(IsValid(root.ToJsonString()));
    }

    [Fact]
    public void The_schema_refuses_a_missing_key_wherever_one_is_required()
    {
        foreach (var key in RootKeys.Concat(PairKeys))
        {
            var root = JsonNode.Parse(TraceJson.Write(Traces.Of("muted")))!.AsObject();
            Assert.True(root.Remove(key) || root["pairs"]![0]!.AsObject().Remove(key));
            Assert.False(IsValid(root.ToJsonString()), key);
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Keys_stand_in_the_documented_order(string name)
    {
        var root = JsonDocument.Parse(TraceJson.Write(Traces.Of(name))).RootElement;
        Assert.Equal(RootKeys, root.EnumerateObject().Select(property => property.Name));
        Assert.All(root.GetProperty("pairs").EnumerateArray(), pair => Assert.Equal(PairKeys, pair.EnumerateObject().Select(property => property.Name)));
    }

    [Fact]
    public void The_same_trace_gives_the_same_bytes() => Assert.Equal(TraceJson.Write(Traces.Of("muted")), TraceJson.Write(Traces.Of("muted")));

    [Fact]
    public void A_muted_talker_gives_the_approved_object() => Golden.Check("trace-muted.json", TraceJson.Write(Traces.Of("muted")));

    private static bool IsValid(string text) =>
        Schema.Value.Evaluate(JsonDocument.Parse(text).RootElement, new EvaluationOptions { RequireFormatValidation = true }).IsValid;
}
