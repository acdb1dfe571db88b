using System.Text.Json;
using StateWatch.Core.Auditing;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public class VerdictAgreementTests
{
    [Theory]
    [InlineData("clean", "as-planned", 0, "complete")]
    [InlineData("notices", "warnings", 1, "complete")]
    [InlineData("warnings", "warnings", 1, "complete")]
    [InlineData("incidents", "urgent", 2, "complete")]
    [InlineData("waived", "urgent", 2, "complete")]
    [InlineData("partial-incidents", "urgent", 2, "partial")]
    [InlineData("partial", "incomplete", 3, "partial")]
    [InlineData("silent", "incomplete", 3, "silent")]
    [InlineData("refused", "incomplete", 3, "silent")]
    [InlineData("another-desk", "incomplete", 3, "another-desk")]
    [InlineData("fell-silent", "incomplete", 3, "fell-silent")]
    public void Object_text_and_exit_code_tell_one_verdict(string name, string verdict, int exitCode, string end)
    {
        var result = Results.Of(name);
        var json = JsonDocument.Parse(SweepJson.Write(result)).RootElement;
        Assert.Equal(exitCode, result.ExitCode);
        Assert.Equal(exitCode, json.GetProperty("exitCode").GetInt32());
        Assert.Equal(verdict, json.GetProperty("verdict").GetString());
        Assert.Equal(end, json.GetProperty("end").GetString());
        Assert.Equal(result.Complete, json.GetProperty("complete").GetBoolean());
        Assert.StartsWith($"Verdict: {verdict.Replace('-', ' ')}", EngineerText.Write(result));
    }

    [Theory]
    [InlineData("incidents")]
    [InlineData("partial")]
    [InlineData("fell-silent")]
    public void Counts_are_the_same_everywhere(string name)
    {
        var result = Results.Of(name);
        var json = JsonDocument.Parse(SweepJson.Write(result)).RootElement;
        Assert.Equal(result.Audit.Findings.Count, json.GetProperty("findings").GetArrayLength());
        var coverage = json.GetProperty("coverage");
        Assert.Equal(coverage.GetProperty("planned").GetInt32() - coverage.GetProperty("verified").GetInt32(), coverage.GetProperty("unseen").GetArrayLength());
        var counts = $"{result.Verified:N0} of {result.Planned:N0} planned settings";
        Assert.Contains(counts, EngineerText.Write(result));
        Assert.Contains(result.Verified == result.Planned ? $"all {result.Planned:N0} planned settings" : counts, VolunteerText.Write(result));
        Assert.Contains($"{result.Audit.Findings.Count(finding => finding.Severity == Severity.Urgent)} urgent", EngineerText.Write(result));
    }
}
