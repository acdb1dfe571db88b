using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using CsCheck;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.History;

namespace StateWatch.Tests.History;

/// <summary>Every record comes back from its JSON as it was, whatever is in it.</summary>
public sealed class StoredJsonTests
{
    [Fact]
    public void Any_finding_comes_back_as_it_was() => RoundTrips(StoredJson.Default.FindingRecord);

    [Fact]
    public void Any_ledger_state_comes_back_as_it_was() => RoundTrips(StoredJson.Default.LedgerState);

    [Fact]
    public void Any_standing_comes_back_as_it_was() => RoundTrips(StoredJson.Default.ShowStanding);

    [Fact]
    public void Any_alert_comes_back_as_it_was() => RoundTrips(StoredJson.Default.Alert);

    [Fact]
    public void Any_words_come_back_as_they_were() => RoundTrips(StoredJson.Default.AlertWords);

    [Fact]
    public void Enums_are_words_and_infinities_are_told()
    {
        var record = new FindingRecord("hall/desk/x:y")
        {
            Check = new WatchedCheck("x:y", TimerClass.Structural),
            Condition = Condition.Clearing,
            Holds = Holds.Shelved | Holds.Damped,
            Severity = Severity.Urgent,
            Restlessness = double.PositiveInfinity,
        };
        var text = JsonSerializer.Serialize(record, StoredJson.Default.FindingRecord);
        foreach (var part in (string[])["\"timers\":\"Structural\"", "\"condition\":\"Clearing\"", "\"holds\":\"Shelved, Damped\"", "\"severity\":\"Urgent\"", "\"restlessness\":\"Infinity\""])
            Assert.Contains(part, text, StringComparison.Ordinal);
        Assert.DoesNotContain("isQuiet", text, StringComparison.Ordinal);
        var standing = new ShowStanding("Midwinter", Phase.Show, null, default, "") { Baseline = [new BaselineLevel("room", "input/1", double.NegativeInfinity)] };
        Assert.Contains("\"level\":\"-Infinity\"", JsonSerializer.Serialize(standing, StoredJson.Default.ShowStanding), StringComparison.Ordinal);
    }

    private static void RoundTrips<T>(JsonTypeInfo<T> type) => Gen.Int.Sample(
        seed =>
        {
            var record = new AnyRecord(new Random(seed)).Of<T>();
            SameRecords.Assert(record, JsonSerializer.Deserialize(JsonSerializer.Serialize(record, type), type));
        },
        iter: 2000);
}
