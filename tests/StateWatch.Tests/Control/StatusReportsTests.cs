using System.Text.Json;
using StateWatch.Alerts;
using StateWatch.Control;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;
using StateWatch.Tests.Alerts;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Control;

/// <summary>
/// The exit code comes from what stands, by the convention of monitoring plug-ins (0 OK, 1 warning, 2 critical, 3 unknown) with the precedence 2, 3, 1, 0; the
/// text tells the same, worst first.
/// </summary>
public sealed class StatusReportsTests
{
    private const string Own = "barn/statewatch";

    private static readonly Moment At = new(TimeSpan.FromHours(1), Some.Start);

    [Theory]
    [InlineData("", true, 0, "as-planned")]
    [InlineData("notice", true, 1, "warnings")]
    [InlineData("warning", true, 1, "warnings")]
    [InlineData("warning", false, 3, "incomplete")]
    [InlineData("urgent", true, 2, "urgent")]
    [InlineData("urgent", false, 2, "urgent")]
    [InlineData("", false, 3, "incomplete")]
    public void Exit_code_is_that_of_the_worst(string severity, bool isSeen, int exitCode, string verdict)
    {
        var standing = severity.Length == 0 ? [] : new[] { Finding(1, Enum.Parse<Severity>(severity, ignoreCase: true)) };
        var report = Report(Status(standing) with { Coverage = new CoverageSample(Some.Start, 10, isSeen ? 10 : 9, 0) });
        Assert.Equal((exitCode, verdict), (report.ExitCode, report.Verdict));
    }

    [Fact]
    public void First_line_says_why_the_exit_code_is_3()
    {
        var report = Report(Status([Finding(1, Severity.Warning)]) with { Coverage = new CoverageSample(Some.Start, 10, 9, 0) });
        Assert.Equal(3, report.ExitCode);
        Assert.Contains("1 warning, 1 planned setting not seen", StatusText.Write(report).Split('\n')[0], StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_acknowledged_or_put_aside_counts_all_the_same()
    {
        var shelved = Finding(1, Severity.Urgent);
        shelved = shelved with { Record = shelved.Record with { Shelf = new HoldOrder("Kim", "later", TimeSpan.FromHours(2)) } };
        var report = Report(Status(shelved));
        Assert.Equal(2, report.ExitCode);
        var finding = report.Desks[0].Findings[0];
        Assert.Equal(("held", "Kim", "later", Some.Start.AddHours(1)), (finding.State, finding.By, finding.Reason, finding.Until!.Value));
    }

    [Fact]
    public void Check_that_went_off_plan_a_moment_ago_does_not_stand_yet()
    {
        var pending = Finding(1, Severity.Urgent);
        pending = pending with { Record = pending.Record with { Condition = Condition.Pending, Level = default } };
        Assert.Equal(0, Report(Status(pending)).ExitCode);
    }

    [Fact]
    public void Desk_that_is_not_watched_is_incomplete_and_faults_of_the_watch_count()
    {
        Assert.Equal(3, Make([("barn/midwinter", null)], []).ExitCode);
        var own = Finding(7, Severity.Urgent, Own);
        Assert.Equal(2, Make([("barn/midwinter", Status())], [own]).ExitCode);
    }

    [Fact]
    public void Text_tells_worst_first_with_ids_and_no_control_characters()
    {
        var nasty = Finding(3, Severity.Urgent);
        nasty = nasty with { Words = nasty.Words! with { Text = "Choir\u001b[2J is gone" } };
        var text = StatusText.Write(Report(Status(Finding(1, Severity.Notice), nasty, Finding(2, Severity.Warning))));
        var order = (string[])["URGENT at midwinter", "WARNING at midwinter", "NOTICE at midwinter"];
        Assert.Equal(order.Select(words => text.IndexOf(words, StringComparison.Ordinal)), order.Select(words => text.IndexOf(words, StringComparison.Ordinal)).Where(at => at > 0).Order());
        Assert.Contains("id: tap-wrong:input/3\n", text, StringComparison.Ordinal);
        Assert.Contains(@"Choir\x1B[2J is gone", text, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', text);
        Assert.Contains("1 urgent, 1 warning, 1 notice", text.Split('\n')[0], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/desks/0")]
    [InlineData("/desks/1")]
    [InlineData("/desks/0/findings/0")]
    [InlineData("/own/0")]
    [InlineData("/sinks/0")]
    [InlineData("/history")]
    public void Report_is_as_its_schema_says(string pointer)
    {
        var shelved = Finding(1, Severity.Urgent);
        shelved = shelved with { Record = shelved.Record with { Shelf = new HoldOrder("Kim", "later", TimeSpan.FromHours(2)) } };
        var report = Make([(Some.Desk, Status(shelved, Finding(2, Severity.Notice))), ("barn/balcony", null)], [Finding(7, Severity.Warning, Own)]);
        new ReportSchema("status-1").Holds(JsonSerializer.Serialize(report, ControlJson.Default.StatusReport), pointer);
    }

    private static StoredFinding Finding(int number, Severity severity, string desk = Some.Desk) =>
        new(new FindingRecord(Some.Key(number, desk)) { Check = new WatchedCheck($"tap-wrong:input/{number}", TimerClass.Immediate), Condition = Condition.Active, Level = new Level(LevelKind.Raised, severity, 1, 1), Severity = severity, Episode = 1, RaisedAt = Some.Start - TimeSpan.FromMinutes(5) }, Some.Words);

    private static DeskStatus Status(params StoredFinding[] standing) =>
        Some.Status() with { Following = FollowPhase.Following, Coverage = new CoverageSample(Some.Start, 10, 10, 0), Standing = standing };

    private static StatusReport Report(DeskStatus status) => Make([(status.Desk, status)], []);

    private static StatusReport Make((string, DeskStatus?)[] desks, StoredFinding[] own) =>
        StatusReports.Make("barn", At, desks, Own, own, [new SinkStatus("light", "the script")], new HistoryReport("memory", false));
}
