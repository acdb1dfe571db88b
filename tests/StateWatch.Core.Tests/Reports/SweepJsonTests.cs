using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public class SweepJsonTests
{
    // The keys of the format as they are documented, in their order.
    private static readonly string[] RootKeys =
    [
        "schema", "show", "desk", "phase", "at", "verdict", "exitCode", "complete", "coverage", "rules", "causes", "findings",
        "waivers", "margins", "ratios", "timing", "end", "identity", "link",
    ];

    private static readonly string[] FindingKeys =
    [
        "id", "rule", "subject", "kind", "class", "severity", "cause", "strip", "name", "setting", "planned", "live", "why", "do", "planAt",
    ];

    // Draft 2020-12, judged by an independent implementation.
    private static readonly Lazy<JsonSchema> Schema = new(() =>
        JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "schemas", "sweep-1.schema.json"))));

    public static TheoryData<string> All => Results.All;

    [Theory]
    [MemberData(nameof(All))]
    public void Every_result_is_valid_by_the_schema(string name)
    {
        Assert.Equal([], Faults(Read(name)));
    }

    [Theory]
    [InlineData("/extra")]
    [InlineData("/coverage/extra")]
    [InlineData("/rules/extra")]
    [InlineData("/timing/extra")]
    [InlineData("/link/extra")]
    [InlineData("/findings/0/extra")]
    [InlineData("/causes/0/extra")]
    public void The_schema_refuses_unknown_keys(string pointer)
    {
        var root = JsonNode.Parse(SweepJson.Write(Results.Of("incidents")))!;
        var place = root;
        foreach (var part in pointer.Split('/')[1..^1])
            place = place is JsonArray items ? items[int.Parse(part)]! : place[part]!;
        place["extra"] = 1;
        Assert.NotEmpty(Faults(JsonDocument.Parse(root.ToJsonString()).RootElement));
    }

    [Fact]
    public void The_schema_refuses_a_missing_key_wherever_one_is_required()
    {
        foreach (var key in RootKeys)
        {
            var root = JsonNode.Parse(SweepJson.Write(Results.Of("incidents")))!.AsObject();
            root.Remove(key);
            Assert.NotEmpty(Faults(JsonDocument.Parse(root.ToJsonString()).RootElement));
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Keys_stand_in_the_documented_order(string name)
    {
        var root = Read(name);
        Assert.Equal(name == "cue" ? [.. RootKeys[..4], "cue", .. RootKeys[4..]] : RootKeys, root.EnumerateObject().Select(property => property.Name));
        Assert.All(root.GetProperty("findings").EnumerateArray(), finding => Assert.Equal(FindingKeys, finding.EnumerateObject().Select(property => property.Name)));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Findings_and_causes_name_each_other(string name)
    {
        var root = Read(name);
        var told = root.GetProperty("causes").EnumerateArray()
            .SelectMany(cause => cause.GetProperty("findings").EnumerateArray().Select(id => (id.GetString(), cause.GetProperty("id").GetString())));
        var found = root.GetProperty("findings").EnumerateArray().Select(finding => (finding.GetProperty("id").GetString(), finding.GetProperty("cause").GetString()));
        Assert.Equal(found.Order(), told.Order());
    }

    [Fact]
    public void The_same_result_gives_the_same_bytes_by_every_way_of_writing()
    {
        var result = Results.Of("incidents");
        using var stream = new MemoryStream();
        SweepJson.Write(result, stream);
        Assert.Equal(SweepJson.Write(result), System.Text.Encoding.UTF8.GetString(stream.ToArray()));
        Assert.Equal(SweepJson.Write(result), SweepJson.Write(new Midwinter().WithIncidents().Sweep()));
    }

    [Fact]
    public void What_a_desk_sends_is_escaped_and_comes_back_whole()
    {
        var text = SweepJson.Write(Results.Of("hostile"));
        Assert.DoesNotContain(text, letter => char.IsControl(letter) && letter != '\n');
        var name = JsonDocument.Parse(text).RootElement.GetProperty("findings").EnumerateArray()
            .Single(finding => finding.GetProperty("id").GetString() == "name-changed:input/3/name");
        Assert.Equal("\x1b[2J\n\u202e\x9b", name.GetProperty("live").GetString());
    }

    [Fact]
    public void The_incidents_of_the_demo_give_the_approved_object()
    {
        Golden.Check("midwinter-incidents.json", SweepJson.Write(Results.Of("incidents")));
    }

    [Fact]
    public void The_time_is_told_in_UTC()
    {
        var result = Results.Of("clean");
        var abroad = result with { Subject = result.Subject with { At = new DateTimeOffset(2026, 11, 25, 10, 41, 7, 120, TimeSpan.FromHours(1)) } };
        Assert.Equal("2026-11-25T09:41:07.120Z", JsonDocument.Parse(SweepJson.Write(abroad)).RootElement.GetProperty("at").GetString());
    }

    private static JsonElement Read(string name) => JsonDocument.Parse(SweepJson.Write(Results.Of(name))).RootElement;

    internal static IEnumerable<string> Faults(JsonElement root)
    {
        var verdict = Schema.Value.Evaluate(root, new EvaluationOptions { OutputFormat = OutputFormat.List, RequireFormatValidation = true });
        return verdict.IsValid ? [] : (verdict.Details ?? []).Where(detail => detail.Errors is not null).Select(detail => $"{detail.InstanceLocation}: {string.Join("; ", detail.Errors!.Values)}").DefaultIfEmpty("invalid");
    }
}
