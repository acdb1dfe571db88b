using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using StateWatch.Core.Records;
using StateWatch.Core.Tests.Reports;

namespace StateWatch.Core.Tests.Records;

/// <summary>What is told of a recorded show, in text, JSON and CSV.</summary>
public sealed class HistoryReportTests
{
    // Draft 2020-12, judged by an independent implementation.
    private static readonly Lazy<JsonSchema> Schema = new(() =>
        JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "schemas", "history-1.schema.json"))));

    // One hour east of UTC, so that times that were not moved are seen.
    private static readonly TimeZoneInfo Zone = TimeZoneInfo.CreateCustomTimeZone("test", TimeSpan.FromHours(1), "test", "test");

    public static TheoryData<string> Parts => [.. Enum.GetNames<HistoryParts>().Where(static name => name != "None")];

    [Theory]
    [MemberData(nameof(Parts))]
    public void Every_report_is_valid_by_the_schema(string parts) => Assert.True(IsValid(HistoryJson.Write(RecordedShow.Report(Enum.Parse<HistoryParts>(parts)))));

    [Fact]
    public void An_empty_report_is_valid_too()
    {
        var question = new HistoryQuestion(RecordedShow.Evening, "x", null, new TimeStretch(RecordedShow.Evening, RecordedShow.Evening.AddHours(1)), HistoryParts.All);
        Assert.True(IsValid(HistoryJson.Write(HistoryReport.Of(question, new HistoryLines([], [], [], [], [], [])))));
    }

    [Theory]
    [InlineData("/extra")]
    [InlineData("/shows/0/extra")]
    [InlineData("/happenings/0/extra")]
    [InlineData("/changes/0/extra")]
    [InlineData("/changes/0/settings/0/extra")]
    [InlineData("/findings/0/extra")]
    [InlineData("/coverage/0/extra")]
    [InlineData("/coverage/0/parts/0/extra")]
    [InlineData("/load/extra")]
    [InlineData("/load/figures/0/extra")]
    [InlineData("/load/top/0/extra")]
    public void The_schema_refuses_unknown_keys_and_missing_ones(string pointer)
    {
        var text = HistoryJson.Write(RecordedShow.Report(HistoryParts.All));
        var (root, place) = At(text, pointer);
        place["extra"] = 1;
        Assert.False(IsValid(root.ToJsonString()));
        foreach (var key in At(text, pointer).Place.Select(static pair => pair.Key).ToList())
        {
            (root, place) = At(text, pointer);
            Assert.True(place.Remove(key));
            Assert.False(IsValid(root.ToJsonString()), $"{pointer}: {key}");
        }
    }

    [Fact]
    public void Only_what_was_asked_for_is_told()
    {
        foreach (var part in Enum.GetValues<HistoryParts>().Where(static part => part is not (HistoryParts.None or HistoryParts.All)))
        {
            using var json = JsonDocument.Parse(HistoryJson.Write(RecordedShow.Report(part)));
            foreach (var key in (string[])["shows", "changes", "findings", "coverage", "load"])
                Assert.Equal(string.Equals(key, part.ToString(), StringComparison.OrdinalIgnoreCase), json.RootElement.GetProperty(key).ValueKind != JsonValueKind.Null);
        }
    }

    // Worked out by hand from the story of RecordedShow.
    [Fact]
    public void The_recorded_show_is_told_as_it_was()
    {
        var report = RecordedShow.Report(HistoryParts.All);
        var (from, to) = report.Question.Time;
        Assert.Equal((80.0, 9.5), ((to - from).TotalMinutes, from.TimeOfDay.TotalHours));
        Assert.Equal([("hall/desk/drift:input/1/on", 0, "Ada"), ("hall/desk/drift:input/3/on", 1, null), ("hall/desk/drift:input/2/on", 0, null)],
            report.Findings.Select(static episode => (episode.Key, episode.Relapses, episode.AcknowledgedBy)));
        Assert.Equal(["desk", "input/1", "input/2", "input/3", "input/12"], report.Changes.Select(static strip => strip.Strip));
        Assert.Equal((0.1, 80), (report.Coverage[0].Whole.Worst, report.Coverage[0].Whole.Samples));
        Assert.Empty(report.Coverage[0].Gaps);
        // 1 raised once, and known before it could be told again; 3 raised, cleared, raised again; 2 raised once.
        Assert.Equal((4, (1, 2, 1)), (report.Load.Alarms, report.Load.Mix));
    }

    [Fact]
    public void Json_of_the_recorded_show_is_as_approved() => Golden.Check("history.json", HistoryJson.Write(RecordedShow.Report(HistoryParts.All)));

    [Fact]
    public void Text_of_the_recorded_show_is_as_approved() =>
        Golden.Check("history.txt", string.Join("----\n", Enum.GetValues<HistoryParts>().Where(static part => part != HistoryParts.None).Select(static part => HistoryText.Write(RecordedShow.Report(part, part == HistoryParts.Changes ? null : "hall/desk"), Zone, 110))));

    [Fact]
    public void Over_midnight_every_time_has_its_day()
    {
        var report = RecordedShow.Report(HistoryParts.Changes | HistoryParts.Shows | HistoryParts.Findings | HistoryParts.Coverage);
        // Where ten minutes after the show began it is midnight.
        var offset = TimeSpan.FromMinutes(Math.Round((TimeSpan.FromMinutes(24 * 60 - 10) - report.Question.Time.From.TimeOfDay).TotalMinutes));
        var zone = TimeZoneInfo.CreateCustomTimeZone("there", offset > TimeSpan.FromHours(12) ? offset - TimeSpan.FromHours(24) : offset, null, null);
        var text = HistoryText.Write(report, zone);
        Assert.Matches(@"(?m)^  \d{4}-\d\d-\d\d 00:", text);
        Assert.DoesNotMatch(@"(?m)(^ *|from |to |at )\d\d:\d\d:\d\d", text);
    }

    [Fact]
    public void Tables_of_the_recorded_show_are_as_approved() =>
        Golden.Check("history.csv", string.Join("----\n", Enum.GetValues<HistoryParts>().Where(static part => part is not (HistoryParts.None or HistoryParts.All)).Select(static part => HistoryCsv.Write(RecordedShow.Report(part)).ReplaceLineEndings("\n"))));

    [Fact]
    public void Lines_of_tables_end_as_the_standard_says()
    {
        var text = HistoryCsv.Write(RecordedShow.Report(HistoryParts.Changes)); // RFC 4180, 2.1: CRLF
        Assert.Equal(text.Count(static character => character == '\n'), text.Split("\r\n").Length - 1);
    }

    [Fact]
    public void Text_sends_no_escape_sequence() => Assert.DoesNotContain('\u001B', HistoryText.Write(RecordedShow.Report(HistoryParts.Changes), Zone));

    private static (JsonNode Root, JsonObject Place) At(string text, string pointer)
    {
        var root = JsonNode.Parse(text)!;
        var place = root;
        foreach (var part in pointer.Split('/')[1..^1])
            place = place is JsonArray items ? items[int.Parse(part)]! : place[part]!;
        return (root, place.AsObject());
    }

    private static bool IsValid(string json)
    {
        using var document = JsonDocument.Parse(json);
        return Schema.Value.Evaluate(document.RootElement, new EvaluationOptions { RequireFormatValidation = true }).IsValid;
    }
}
