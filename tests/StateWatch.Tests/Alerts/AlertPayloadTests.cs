using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Json.Schema;
using StateWatch.Alerts;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.Alerts;

/// <summary>Events against their schema (draft 2020-12, judged by an independent implementation) and against CloudEvents 1.0.2.</summary>
public sealed partial class AlertPayloadTests
{
    private static readonly Lazy<JsonSchema> Schema = new(() => JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "schemas", "alert-1.schema.json"))));

    private static readonly Dictionary<string, WaitingAlert> Alerts = Enum.GetValues<LevelKind>()
        .ToDictionary(kind => $"finding {kind}", kind => Some.Row(Some.Alert("phone", Some.Key(12), 3, kind)), StringComparer.Ordinal)
        .Concat(new Dictionary<string, WaitingAlert>(StringComparer.Ordinal)
        {
            ["without words"] = Some.Row(Some.Alert("phone", Some.Key(12), 1) with { Words = null }),
            ["unrecorded"] = new WaitingAlert(41, Some.Alert("phone", Some.Key(12), 1), 2) { Unrecorded = 3 },
            ["recorded at no known time"] = new WaitingAlert(41, Some.Alert("phone", Some.Key(12), 1), 0),
            ["long key"] = Some.Row(Some.Alert("phone", Some.Desk + "/tap-wrong:" + new string('x', 400), 1)),
            ["strange key"] = Some.Row(Some.Alert("phone", Some.Desk + "/tap-wrong:a\nb", 1)),
            ["strange text"] = Some.Row(Some.Alert("phone", Some.Key(12), 1) with { Words = Some.Words with { Text = "half \ud83d\u001b[31m", Live = "\ud83d" } }),
            ["silent"] = Some.Row(Some.Alert("phone", Some.Key(12), 1, severity: Severity.Silent)),
            ["of a name in the plan"] = Some.Row(Some.Alert("phone", Some.Key(12), 1) with
            {
                Show = "Cleo Trial and friends",
                Words = Some.Words with { Text = "Ada Example hears Cleo Trial post-fader", Why = "Cleo Trial is loud.", Do = "Turn Cleo Trial down.", Live = "as Cleo Trial" },
            }),
            ["held by somebody"] = Some.Row(Held()),
            ["bulk change"] = Some.Row(Bulk(250)),
            ["digest"] = Some.Row(Some.Digest("phone", 7, (Some.Key(1), 1), (Some.Key(2), 5), (Some.Key(3), 2), (Some.Key(4), 2))),
            ["digest of much"] = Some.Row(Some.Digest("phone", 8, [.. Enumerable.Range(1, 250).Select(static number => (Some.Key(number), 1))])),
            ["digest without words"] = Some.Row(Some.Digest("phone", 7, (Some.Key(1), 1)) with { DigestWords = [] }),
            ["site of other letters"] = Some.Row(Some.Alert("phone", "scheune-süd/pult 1/tap-wrong:input/1", 1)),
        }).ToDictionary(StringComparer.Ordinal);

    private static readonly Dictionary<string, DeskStatus> Desks = new(StringComparer.Ordinal)
    {
        ["desk"] = Some.Status() with { Following = FollowPhase.Following },
        ["lost desk"] = Some.Status() with { Following = FollowPhase.Lost, ReadAgo = null, Next = null, Cue = null, Standing = [], SilentFor = TimeSpan.MaxValue },
        ["desk with much"] = Some.Status() with { Standing = [.. Enumerable.Range(1, 150).Select(number => Some.Status().Standing[0] with { Words = number % 2 == 0 ? Some.Words : null })] },
    };

    public static TheoryData<string> All => [.. Alerts.Keys, .. Desks.Keys];

    [Theory]
    [MemberData(nameof(All))]
    public void Every_event_is_valid_by_the_schema(string name) => Assert.True(IsValid(Write(name).ToJsonString()), Write(name).ToJsonString());

    [Theory]
    [MemberData(nameof(All))]
    public void The_schema_refuses_unknown_and_missing_keys(string name)
    {
        foreach (var place in new[] { "", "data", "data/lines/0", "data/coverage", "data/findings", "data/standing/0", "data/next" })
        {
            if (At(Write(name), place) is not JsonObject known)
                continue;
            foreach (var key in known.Select(pair => pair.Key).Where(key => key != "recordedtime"))
            {
                var without = Write(name);
                At(without, place)!.AsObject().Remove(key);
                Assert.False(IsValid(without.ToJsonString()), $"without {place}/{key}");
            }

            var with = Write(name);
            At(with, place)!["extra"] = 1;
            Assert.False(IsValid(with.ToJsonString()), $"{place}/extra");
        }
    }

    // CloudEvents 1.0.2, "REQUIRED Attributes": id and source are non-empty, source is a URI-reference (RFC 3986), type is non-empty, specversion is 1.0.
    [Theory]
    [MemberData(nameof(All))]
    public void Required_attributes_are_as_CloudEvents_asks(string name)
    {
        var written = Write(name);
        Assert.NotEmpty(Text(written, "id"));
        Assert.Matches(Rfc3986(), Text(written, "source"));
        Assert.NotEmpty(Text(written, "type"));
        Assert.Equal("1.0", Text(written, "specversion"));
    }

    // "Naming Conventions": attribute names are lower-case letters and digits of ASCII, and should not be longer than 20 characters.
    // "Type System": strings hold no U+0000 to U+001F, U+007F to U+009F, noncharacters or lone surrogates; integers fit 32 bits.
    // "OPTIONAL Attributes": time is RFC 3339, dataschema a URI, datacontenttype a media type (RFC 2046), subject non-empty.
    // JSON format 2.4 and 3.1: data is a JSON value where datacontenttype says JSON.
    [Theory]
    [MemberData(nameof(All))]
    public void Attributes_keep_to_names_and_types_of_CloudEvents(string name)
    {
        foreach (var (key, value) in Write(name))
        {
            Assert.Matches(AttributeName(), key);
            if (key == "data")
                Assert.IsType<JsonObject>(value);
            else if (key == "severitynumber")
                Assert.InRange(value!.GetValue<int>(), 1, 24);
            else
                Assert.DoesNotMatch(Forbidden(), value!.GetValue<string>());
        }

        var written = Write(name);
        Assert.Matches(Rfc3339(), Text(written, "time"));
        Assert.True(Uri.TryCreate(Text(written, "dataschema"), UriKind.Absolute, out _));
        Assert.Equal("application/json", Text(written, "datacontenttype"));
        Assert.InRange(Text(written, "subject").Length, 1, 255);
    }

    [Fact]
    public void An_alert_says_everything_there_is_to_say()
    {
        var written = Write("held by somebody");
        Assert.Equal("barn/midwinter/tap-wrong:input/12#2#4", Text(written, "id"));
        Assert.Equal("barn/midwinter/tap-wrong:input/12#2", Text(written, "subject"));
        Assert.Equal("urn:statewatch:barn/midwinter", Text(written, "source"));
        Assert.Equal("statewatch.finding.held", Text(written, "type"));
        // 09:40:07.120 at UTC+1, four seconds later; recorded 40 ms after that.
        Assert.Equal(("2026-12-06T08:40:11.120Z", "2026-12-06T08:40:11.160Z"), (Text(written, "time"), Text(written, "recordedtime")));
        Assert.Equal("0000000000000000001", Text(written, "sequence"));
        Assert.Equal(("urgent", 17), (Text(written, "severitytext"), written["severitynumber"]!.GetValue<int>()));
        var data = written["data"]!.AsObject();
        Assert.Equal(
            ("barn", "midwinter", "Midwinter", "show", "held", "Ben Sample", "shelved: Ben Sample looks into it", "Ada Example", "post-fader"),
            (Text(data, "site"), Text(data, "desk"), Text(data, "show"), Text(data, "phase"), Text(data, "state"), Text(data, "by"), Text(data, "reason"), Text(data, "name"), Text(data, "live")));
        Assert.Equal(Some.Words.Do, Text(data, "do"));
    }

    [Fact]
    public void An_alert_that_is_not_recorded_says_so_and_has_an_id_of_its_own()
    {
        var written = Write("unrecorded");
        Assert.False(written["data"]!["recorded"]!.GetValue<bool>());
        Assert.Equal("barn/midwinter/tap-wrong:input/12#1#1#unrecorded-20261206T084008120", Text(written, "id"));
        Assert.Equal("0000000000000000041.000003", Text(written, "sequence"));
        Assert.False(written.ContainsKey("recordedtime"));
        Assert.True(string.CompareOrdinal("0000000000000000041", Text(written, "sequence")) < 0 && string.CompareOrdinal(Text(written, "sequence"), "0000000000000000042") < 0);
    }

    [Fact]
    public void A_long_subject_is_hashed_and_stays_the_same_for_one_episode()
    {
        var key = Some.Desk + "/tap-wrong:" + new string('x', 400);
        var expected = "sha256:" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(key + "#1")));
        Assert.Equal(expected, Text(Write("long key"), "subject"));
        Assert.Equal(key + "#1#1", Text(Write("long key"), "id"));
    }

    [Fact]
    public void Where_names_are_shown_those_of_the_plan_are_too() => Assert.Equal("Turn Cleo Trial down.", Text(Write("of a name in the plan")["data"]!.AsObject(), "do"));

    [Fact]
    public void A_beat_counts_what_stands()
    {
        var data = Write("desk")["data"]!;
        Assert.Equal("""{"urgent":1,"warning":0,"notice":0,"acknowledged":1,"held":1}""", data["findings"]!.ToJsonString());
        Assert.Equal("""{"planned":1834,"verified":1830,"cannotTell":2}""", data["coverage"]!.ToJsonString());
        Assert.Equal("""{"at":"2026-12-06T09:30:07.120Z","phase":"build"}""", data["next"]!.ToJsonString());
        Assert.Equal((100, 150), (Write("desk with much")["data"]!["standing"]!.AsArray().Count, Write("desk with much")["data"]!["standingCount"]!.GetValue<int>()));
    }

    [Fact]
    public void A_digest_lists_a_hundred_lines_and_says_how_many_there_are()
    {
        var data = Write("digest of much")["data"]!;
        Assert.Equal((100, 250), (data["lines"]!.AsArray().Count, data["lineCount"]!.GetValue<int>()));
        Assert.Equal(4, Write("digest")["data"]!["lineCount"]!.GetValue<int>());
    }

    // OpenTelemetry log data model, "Severity Fields": 9-12 INFO, 13-16 WARN, 17-20 ERROR; its syslog mapping has Notice as INFO2 (10). From memory.
    [Theory]
    [InlineData("urgent", 17, 20)]
    [InlineData("warning", 13, 16)]
    [InlineData("notice", 9, 12)]
    [InlineData("silent", 1, 8)]
    public void Severity_numbers_lie_in_the_ranges_of_OpenTelemetry(string word, int least, int most) =>
        Assert.InRange(SeverityNumbers.Of(Enum.GetValues<Severity>().Single(severity => severity.Word() == word)), least, most);

    [Theory]
    [MemberData(nameof(All))]
    public void No_name_is_left_where_names_are_hidden(string name)
    {
        var payload = new AlertPayload(new NameHiding(true, static () => [new PlannedName("Cleo Trial", "input/9")]));
        var written = Encoding.UTF8.GetString(Alerts.TryGetValue(name, out var alert) ? payload.Of(alert) : payload.Of(Desks[name]));
        Assert.True(IsValid(written), written);
        foreach (var hidden in new[] { "Ada", "Ben Sample", "Cleo" })
            Assert.DoesNotContain(hidden, written, StringComparison.OrdinalIgnoreCase);
    }

    private static Alert Held()
    {
        var alert = Some.Alert("phone", Some.Key(12), 4, LevelKind.Held);
        return alert with { Told = alert.Told with { By = "Ben Sample", Why = "shelved: Ben Sample looks into it" } };
    }

    private static Alert Bulk(int members)
    {
        var alert = Some.Alert("phone", Some.Desk + "/bulk-change:desk", 1);
        return alert with { Told = alert.Told with { Members = [.. Enumerable.Range(1, members).Select(number => Some.Key(number))] } };
    }

    private static JsonObject Write(string name)
    {
        var payload = new AlertPayload(NameHiding.None);
        return JsonNode.Parse(Alerts.TryGetValue(name, out var alert) ? payload.Of(alert) : payload.Of(Desks[name]))!.AsObject();
    }

    private static JsonNode? At(JsonNode root, string place)
    {
        JsonNode? at = root;
        foreach (var part in place.Split('/', StringSplitOptions.RemoveEmptyEntries))
            at = at is JsonArray items ? items.ElementAtOrDefault(int.Parse(part)) : (at as JsonObject)?[part];
        return at;
    }

    private static string Text(JsonObject written, string key) => written[key]!.GetValue<string>();

    private static bool IsValid(string json) => Schema.Value.Evaluate(JsonDocument.Parse(json).RootElement, new EvaluationOptions { RequireFormatValidation = true }).IsValid;

    // RFC 3986, 3: scheme ":" path-rootless; segments of unreserved, pct-encoded, sub-delims, ":" and "@".
    [GeneratedRegex("^[A-Za-z][A-Za-z0-9+.-]*:(?:[A-Za-z0-9._~!$&'()*+,;=:@/-]|%[0-9A-Fa-f]{2})+$", RegexOptions.None, 1000)]
    private static partial Regex Rfc3986();

    [GeneratedRegex("^[a-z0-9]{1,20}$", RegexOptions.None, 1000)]
    private static partial Regex AttributeName();

    [GeneratedRegex(@"[\u0000-\u001F\u007F-\u009F\uFDD0-\uFDEF\uFFFE\uFFFF\uD800-\uDFFF]", RegexOptions.None, 1000)]
    private static partial Regex Forbidden();

    [GeneratedRegex(@"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Rfc3339();
}
