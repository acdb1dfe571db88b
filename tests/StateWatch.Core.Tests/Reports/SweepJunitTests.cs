using System.Globalization;
using System.Xml.Linq;
using StateWatch.Core.Auditing;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public class SweepJunitTests
{
    public static TheoryData<string> All => Results.All;

    [Theory]
    [MemberData(nameof(All))]
    public void Every_result_is_valid_by_the_schema_and_counts_what_it_holds(string name) =>
        Assert.Equal([], JunitSchema.Faults(SweepJunit.Write(Results.Of(name))));

    [Theory]
    [InlineData("<property ", "<thing ")]
    [InlineData(" package=\"statewatch\"", "")]
    [InlineData(" id=\"1\"", " id=\"7\"")]
    [InlineData(" hostname=\"192.0.2.48\"", "")]
    [InlineData("T09:41:07\"", "T09:41:07Z\"")]
    [InlineData(" type=\"oscillator-on\"", "")]
    [InlineData("<system-err />", "")]
    [InlineData("<failure ", "<skipped/><failure ")]
    [InlineData(" time=\"0\"", "")]
    [InlineData("failures=\"1\"", "failures=\"0\"")]
    [InlineData("<testcase ", "<system-out/><testcase ")]
    public void The_schema_refuses_what_the_format_does_not_have(string old, string replacement)
    {
        var text = SweepJunit.Write(Results.Of("incidents"));
        var at = text.IndexOf(old, StringComparison.Ordinal);
        Assert.True(at > 0, old);
        Assert.NotEmpty(JunitSchema.Faults(text[..at] + replacement + text[(at + old.Length)..]));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Urgent_findings_and_warnings_are_failures_and_notices_pass(string name)
    {
        var result = Results.Of(name);
        var document = Read(result);
        var told = result.Audit.Findings.Where(finding => finding.Severity >= Severity.Warning).Select(finding => (finding.Id, finding.Rule.Id));
        var failed = document.Descendants("failure").Select(failure => (failure.Parent!.Attribute("name")!.Value, failure.Attribute("type")!.Value));
        Assert.Equal(told.Order(), failed.Order());
        foreach (var notice in result.Audit.Findings.Where(finding => finding.Severity == Severity.Notice))
        {
            var passed = Case(document, notice.Id);
            Assert.Empty(passed.Elements());
            Assert.Contains(notice.Words.Why, passed.Parent!.Element("system-out")!.Value);
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Every_setting_that_was_not_seen_stands_in_one_error(string name)
    {
        var result = Results.Of(name);
        var told = Read(result).Descendants("error").Where(error => error.Attribute("type")!.Value == "unseen").SelectMany(error => error.Value.Split('\n'));
        Assert.Equal(result.Unseen.Select(item => item.Setting).Order(StringComparer.Ordinal), told.Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void There_are_errors_exactly_when_the_sweep_is_not_complete(string name)
    {
        var result = Results.Of(name);
        Assert.Equal(result.Complete, !Read(result).Descendants("error").Any());
        Assert.Equal(result.ExitCode == 0, !Read(result).Descendants("failure").Any() && !Read(result).Descendants("error").Any() && result.Audit.Findings.Count == 0);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void The_suites_of_the_classes_add_up_to_the_coverage(string name)
    {
        var result = Results.Of(name);
        var classes = Read(result).Root!.Elements("testsuite").Skip(2).ToList();
        Assert.Equal(result.Planned, classes.Sum(suite => Property(suite, "planned")));
        Assert.Equal(result.Verified, classes.Sum(suite => Property(suite, "verified")));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void No_case_stands_twice(string name)
    {
        var names = Read(Results.Of(name)).Descendants("testcase").Select(item => (item.Attribute("classname")!.Value, item.Attribute("name")!.Value)).ToList();
        Assert.Equal(names.Count, names.Distinct().Count());
    }

    [Fact]
    public void A_show_of_thousands_of_settings_is_a_few_hundred_cases_even_when_nothing_was_seen()
    {
        Assert.InRange(Results.Of("clean").Planned, 3000, 10_000);
        foreach (var name in (string[])["clean", "incidents", "silent", "another-desk"])
            Assert.InRange(Read(Results.Of(name)).Descendants("testcase").Count(), 100, 600);
    }

    [Fact]
    public void A_strip_that_is_as_planned_is_one_passed_case_with_the_same_name_in_every_run()
    {
        var clean = Read(Results.Of("clean"));
        Assert.Empty(Case(clean, "input/12 Acoustic", "statewatch.patch").Elements());
        Assert.Empty(Case(Read(Results.Of("incidents")), "input/12 Acoustic", "statewatch.patch").Elements());
        Assert.Equal("error", Assert.Single(Case(Read(Results.Of("silent")), "input/12 Acoustic", "statewatch.patch").Elements()).Name.LocalName);
    }

    [Fact]
    public void A_strip_with_a_finding_does_not_pass_beside_it()
    {
        var names = Read(Results.Of("incidents")).Descendants("testcase").Where(item => item.Attribute("classname")!.Value == "statewatch.patch").Select(item => item.Attribute("name")!.Value);
        Assert.Contains("source-wrong:input/16/source", names);
        Assert.DoesNotContain("input/16 Vocal 2", names);
    }

    [Fact]
    public void A_simulated_desk_is_named_as_such()
    {
        var reading = Read(Results.Of("simulated")).Root!.Elements("testsuite").First();
        Assert.Contains("SIMULATED", reading.Element("system-out")!.Value);
        Assert.Equal("yes", reading.Descendants("property").Single(item => item.Attribute("name")!.Value == "simulated").Attribute("value")!.Value);
    }

    [Fact]
    public void What_a_desk_sends_is_made_harmless()
    {
        var text = SweepJunit.Write(Results.Of("hostile"));
        Assert.DoesNotContain(text, letter => char.IsControl(letter) && letter != '\n' || letter is '\u202e' or '\ufffe' or '\uffff');
        Assert.Contains("\\x1B[2J", Case(XDocument.Parse(text), "name-changed:input/3/name").Value);
    }

    // Half a surrogate pair cannot stand in an attribute of this test, so the cases are made here. What is allowed: XML 1.0, section 2.2.
    [Fact]
    public void Text_that_XML_does_not_allow_is_written_out()
    {
        CheckText("\0\b\v\x1f", "\\x00\\x08\\x0B\\x1F");
        CheckText("\ufffe\uffff\ud800", "\\uFFFE\\uFFFF\ufffd");
        CheckText("<a href=\"x\">&amp;]]></a>", "<a href=\"x\">&amp;]]></a>");
    }

    private static void CheckText(string said, string expected)
    {
        var result = Results.Of("clean");
        var strange = result with { Read = result.Read with { End = Core.Desks.ReadEnd.AnotherDesk, Identity = [said] } };
        Assert.Equal($"another desk answered: '{expected}'", Case(Read(strange), "the desk answers").Element("error")!.Attribute("message")!.Value);
    }

    [Fact]
    public void The_time_is_told_in_UTC_without_a_zone()
    {
        var result = Results.Of("clean");
        var abroad = result with { Subject = result.Subject with { At = new DateTimeOffset(2026, 11, 25, 10, 41, 7, 120, TimeSpan.FromHours(1)) } };
        Assert.All(Read(abroad).Root!.Elements("testsuite"), suite => Assert.Equal("2026-11-25T09:41:07", suite.Attribute("timestamp")!.Value));
    }

    [Fact]
    public void The_same_result_gives_the_same_bytes() =>
        Assert.Equal(SweepJunit.Write(Results.Of("incidents")), SweepJunit.Write(new Midwinter().WithIncidents().Sweep()));

    [Fact]
    public void The_incidents_of_the_demo_give_the_approved_document() => Golden.Check("midwinter-incidents.junit.xml", SweepJunit.Write(Results.Of("incidents")));

    private static XDocument Read(SweepResult result) => XDocument.Parse(SweepJunit.Write(result));

    private static XElement Case(XDocument document, string name, string? className = null) => Assert.Single(document.Descendants("testcase"),
        item => item.Attribute("name")!.Value == name && (className is null || item.Attribute("classname")!.Value == className));

    private static int Property(XElement suite, string name) =>
        int.Parse(suite.Descendants("property").Single(item => item.Attribute("name")!.Value == name).Attribute("value")!.Value, CultureInfo.InvariantCulture);
}
