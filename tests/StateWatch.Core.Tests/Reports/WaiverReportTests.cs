using System.Text.Json;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

/// <summary>Waivers are printed in every report and change no verdict. The sweep's day is 2026-12-20.</summary>
public class WaiverReportTests
{
    /// <summary>One of every kind, for the demo with its incidents.</summary>
    internal const string Waivers = """

        waivers:
          - { finding: "subs-on-open-mic:input/20/send/mix/15/on", owner: A. Engineer, why: the piece wants it, until: 2026-12-20 }
          - { finding: "monitor-post-fader:input/12/send/mix/1/tap", owner: A. Engineer, why: asked for by the singer, until: 2026-12-31 }
          - { finding: "limiter-out:output/stage-9/limiter/in", owner: B. Player, why: own limiter in the pack, until: 2026-12-19 }
          - { finding: "dca-member-unplanned:input/26/dca/2", owner: B. Player, why: tried out, until: 2027-01-31 }
          - { finding: "insert-missing:input/26/insert/1", owner: B. Player, why: unit is at repair, until: 2026-01-31 }

        """;

    private static readonly string[] Keys = ["finding", "owner", "why", "until", "active", "matched"];

    [Fact]
    public void Json_tells_who_waived_what_and_whether_it_counts()
    {
        var waivers = Json(Results.Of("waived")).GetProperty("waivers").EnumerateArray().ToList();
        Assert.All(waivers, waiver => Assert.Equal(Keys, waiver.EnumerateObject().Select(property => property.Name)));
        Assert.Equal(
            [("2026-12-20", true, true), ("2026-12-31", true, true), ("2026-12-19", false, true), ("2027-01-31", true, false), ("2026-01-31", false, false)],
            waivers.Select(waiver => (waiver.GetProperty("until").GetString(), waiver.GetProperty("active").GetBoolean(), waiver.GetProperty("matched").GetBoolean())));
        Assert.Equal(("subs-on-open-mic:input/20/send/mix/15/on", "A. Engineer", "the piece wants it"),
            (waivers[0].GetProperty("finding").GetString(), waivers[0].GetProperty("owner").GetString(), waivers[0].GetProperty("why").GetString()));
    }

    /// <summary>The sweep is at 9:41 UTC; Honolulu is ten hours behind (IANA time zone database), so it is still the day before there.</summary>
    [Theory]
    [InlineData("", false)]
    [InlineData("zone: Pacific/Honolulu", true)]
    public void Last_day_is_the_one_where_the_show_is(string zone, bool active)
    {
        var result = new Midwinter(lines: $"\n{zone}\nwaivers: [{{ finding: \"low-cut-off:input/25/low-cut\", owner: A. Engineer, why: worn switch, until: 2026-12-19 }}]\n").Sweep();
        Assert.Equal(active, Assert.Single(result.Waivers).Active);
    }

    [Fact]
    public void Findings_and_exit_code_are_those_of_a_sweep_without_waivers()
    {
        var (with, without) = (Results.Of("waived"), Results.Of("incidents"));
        Assert.Equal((without.ExitCode, without.Verdict), (with.ExitCode, with.Verdict));
        Assert.Equal(without.Audit.Findings.Select(finding => (finding.Id, finding.Severity)), with.Audit.Findings.Select(finding => (finding.Id, finding.Severity)));
    }

    [Theory]
    [InlineData("low-cut-off:input/25/low-cut", "input/25/low-cut", "off", 1, "NOTHING NEW TO FIX, BUT NOT AS PLANNED: 1 known thing, listed below.")]
    [InlineData("oscillator-on:desk/oscillator", "desk/oscillator", "on", 2, "NOTHING NEW TO FIX, BUT NOT AS PLANNED: 1 known thing, 1 urgent, listed below.")]
    public void Show_whose_only_finding_is_waived_is_not_called_ready(string finding, string path, string value, int exitCode, string head)
    {
        var result = new Midwinter(lines: $"\nwaivers: [{{ finding: \"{finding}\", owner: A. Engineer, why: worn switch, until: 2026-12-31 }}]\n").With(path, value).Sweep();
        Assert.Equal(finding, Assert.Single(result.Audit.Findings).Id);
        Assert.Equal(exitCode, result.ExitCode);
        var text = VolunteerText.Write(result);
        Assert.StartsWith(head + "\n", text);
        Assert.Contains("(A. Engineer says: worn switch)", text.Replace("\n    ", " ", StringComparison.Ordinal));
    }

    [Fact]
    public void Taking_out_any_waiver_changes_every_report()
    {
        var lines = Waivers.TrimEnd().Split('\n').Skip(2).ToList();
        Assert.Equal(5, lines.Count);
        var all = Results.Of("waived");
        foreach (var line in lines)
        {
            var less = new Midwinter(lines: Waivers.Replace(line + "\n", "", StringComparison.Ordinal)).WithIncidents().Sweep();
            Assert.Equal(4, Json(less).GetProperty("waivers").GetArrayLength());
            Assert.NotEqual(EngineerText.Write(all), EngineerText.Write(less));
        }
    }

    [Fact]
    public void Waiver_of_what_was_not_read_is_not_called_idle()
    {
        const string Lines = "\nwaivers: [{ finding: \"phantom-missing:socket/stage-7/phantom\", owner: A. Engineer, why: worn switch, until: 2026-12-31 }]\n";
        Assert.Contains("waiver without a finding: phantom-missing:socket/stage-7/phantom", EngineerText.Write(new Midwinter(lines: Lines).Sweep()));
        foreach (var desk in (Midwinter[])[new Midwinter(lines: Lines).Unanswered("socket/stage-7/phantom"), new Midwinter(lines: Lines).Silent()])
        {
            var text = EngineerText.Write(desk.Sweep());
            Assert.DoesNotContain("without a finding", text);
            Assert.Contains("could not be judged", text);
        }
    }

    [Fact]
    public void Idle_waiver_is_no_finding()
    {
        var result = new Midwinter(lines: "\nwaivers: [{ finding: \"low-cut-off:input/25/low-cut\", owner: A. Engineer, why: worn switch, until: 2026-12-01 }]\n").Sweep();
        Assert.Equal((0, 0), (result.ExitCode, result.Audit.Findings.Count));
        Assert.StartsWith("READY", VolunteerText.Write(result));
        Assert.Contains("expired waiver without a finding", EngineerText.Write(result));
    }

    [Fact]
    public void Junit_keeps_a_waived_finding_as_a_failure_and_says_who_waived_it()
    {
        var failure = System.Xml.Linq.XDocument.Parse(SweepJunit.Write(Results.Of("waived"))).Descendants("failure")
            .Single(item => item.Parent!.Attribute("name")!.Value == "subs-on-open-mic:input/20/send/mix/15/on");
        Assert.Contains("known: waived by A. Engineer until 2026-12-20: the piece wants it", failure.Value);
    }

    [Fact]
    public void Hostile_owner_reaches_no_terminal()
    {
        var lines = "\nwaivers: [{ finding: \"low-cut-off:input/25/low-cut\", owner: \"A\\u202eB\", why: \"" + new string('x', 1000) + "\", until: 2026-12-31 }]\n";
        var result = new Midwinter(lines: lines).With("input/25/low-cut", "off").Sweep();
        foreach (var text in (string[])[EngineerText.Write(result), VolunteerText.Write(result)])
            Assert.DoesNotMatch("\u202e", text);
        Assert.InRange(VolunteerText.Write(result).Length, 100, 3000);
    }

    [Fact]
    public void Engineer_reads_the_waiver_beside_its_finding_and_the_others_in_a_list()
    {
        var text = EngineerText.Write(Results.Of("waived"));
        Assert.Contains("; 2 waived, which changes no verdict\n", text.Replace("\n          ", " ", StringComparison.Ordinal));
        Assert.Matches("""id    subs-on-open-mic:input/20/send/mix/15/on\n.*\n     known waived by A. Engineer until 2026-12-20: the piece wants it\n""", text);
        Assert.Matches("""id    limiter-out:output/stage-9/limiter/in\n.*\n     known the waiver of B. Player ended on 2026-12-19: own limiter in the pack\n""", text);
        var list = text[text.IndexOf("Waivers to look at\n", StringComparison.Ordinal)..];
        Assert.Contains("   - expired waiver, the finding is still there: limiter-out:output/stage-9/limiter/in\n     the waiver of B. Player ended on 2026-12-19: own limiter in the pack;\n     midwinter.plan.yaml:", list);
        Assert.Contains("   - waiver without a finding: dca-member-unplanned:input/26/dca/2\n     waived by B. Player until 2027-01-31: tried out; midwinter.plan.yaml:", list);
        Assert.Contains("   - expired waiver without a finding: insert-missing:input/26/insert/1\n     the waiver of B. Player ended on 2026-01-31: unit is at repair; midwinter.plan.yaml:", list);
        Assert.DoesNotContain("A. Engineer", list);
    }

    [Fact]
    public void Volunteer_reads_what_is_known_after_what_is_to_fix()
    {
        var text = VolunteerText.Write(Results.Of("waived"));
        Assert.StartsWith("NOT READY: 14 things to fix, 6 urgent. The first four here, and 10 more below. Also 2 known things, 1 urgent, listed below.",
            text.Replace("\n   1 urgent", " 1 urgent", StringComparison.Ordinal));
        const string Known = """

            KNOWN, STILL NOT AS PLANNED
              - known: Choir 4 (input 20) is in subs (mix 15), urgent (A. Engineer says: the piece wants it)
              - known: Acoustic (input 12) to wedges 1 (mix 1) is post-fader (A. Engineer says: asked for by the
                singer)

            """;
        Assert.Contains(Known.ReplaceLineEndings("\n"), text);
        Assert.True(text.IndexOf("KNOWN", StringComparison.Ordinal) > text.IndexOf("WHICH ONES", StringComparison.Ordinal));
        Assert.DoesNotContain("Choir 4", text[..text.IndexOf("KNOWN", StringComparison.Ordinal)]);
        Assert.Contains("Wedges 1 (mix 1), 8 sends post-fader", text);
    }

    private static JsonElement Json(SweepResult result) => JsonDocument.Parse(SweepJson.Write(result)).RootElement;
}
