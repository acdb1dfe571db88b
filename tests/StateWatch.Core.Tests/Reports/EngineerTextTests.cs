using StateWatch.Core.Auditing;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public class EngineerTextTests
{
    public static TheoryData<string> All => Results.All;

    [Theory]
    [MemberData(nameof(All))]
    public void Every_finding_that_follows_from_no_other_stands_there_with_id_and_plan_line(string name)
    {
        var result = Results.Of(name);
        var text = EngineerText.Write(result).Replace("\n           ", "");
        foreach (var finding in result.Audit.Causes.SelectMany(cause => cause.Told))
        {
            Assert.Contains(finding.Id, text);
            if (finding.PlanAt is { } at)
                Assert.Contains(at.ToString(), text);
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void The_exit_code_stands_in_the_first_line(string name)
    {
        Assert.EndsWith($"(exit code {Results.Of(name).ExitCode})", EngineerText.Write(Results.Of(name)).Split('\n')[0]);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Lines_are_no_wider_than_a_hundred_characters(string name)
    {
        Assert.All(EngineerText.Write(Results.Of(name)).Split('\n'), line => Assert.InRange(line.Length, 0, 100));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Severity_is_a_word_and_colour_only_repeats_it(string name)
    {
        var plain = EngineerText.Write(Results.Of(name));
        var coloured = EngineerText.Write(Results.Of(name), colour: true);
        Assert.Equal(plain, System.Text.RegularExpressions.Regex.Replace(coloured, "\x1b\\[[0-9;]*m", "", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(5)));
        Assert.DoesNotContain(plain, letter => char.IsControl(letter) && letter != '\n');
        foreach (var cause in Results.Of(name).Audit.Causes)
            Assert.Contains($"\n{cause.Severity.Word().ToUpperInvariant()}: ", plain);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Every_page_says_what_a_sweep_is_not(string name)
    {
        var text = EngineerText.Write(Results.Of(name)).Replace('\n', ' ');
        Assert.Contains("sends no tone and hears nothing", text);
        Assert.Contains("Margins and ratios are advice", text);
        Assert.Contains("Ears, a sound level meter, local codes and licensed practice decide", text);
        Assert.DoesNotContain("safe", text.Replace("recall-safe", ""), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void An_unseen_setting_is_named_with_its_reason_and_the_rule_that_misses_it()
    {
        var text = EngineerText.Write(Results.Of("partial"));
        Assert.Contains("no reply: 1\n     socket/stage-#/phantom (1): socket/stage-7/phantom\n", text);
        Assert.Contains("phantom-missing (1), missing: socket/stage-7/phantom\n", text);
    }

    [Fact]
    public void Long_lists_stop_at_twenty_and_say_how_many_are_left()
    {
        var text = EngineerText.Write(Results.Of("fell-silent")).Replace("\n       ", " ");
        Assert.Contains("input/#/dca/# (344): ", text);
        Assert.Contains(" and 324 more\n", text);
    }

    [Fact]
    public void A_simulated_desk_is_called_so()
    {
        Assert.Contains("a SIMULATED desk, not the real one", EngineerText.Write(Results.Of("simulated")));
        Assert.DoesNotContain("SIMULATED", EngineerText.Write(Results.Of("clean")));
    }

    [Fact]
    public void Unusual_traffic_is_told_and_usual_traffic_is_not()
    {
        var odd = new Midwinter().Sweep(prepare: link =>
        {
            link.SendForeign("/x\0\0"u8);
            link.SendUnasked("?"u8);
            link.SendUnasked("/stranger\0\0\0,\0\0\0"u8);
        });
        var text = EngineerText.Write(odd);
        Assert.Contains("1 came from another address than the desk's and were dropped", text);
        Assert.Contains("1 packets or parts of them were not OSC", text);
        Assert.Contains("1 messages had an address the profile does not know", text);
        Assert.DoesNotContain("not OSC", EngineerText.Write(Results.Of("clean")));
    }

    [Theory]
    [InlineData("incidents")]
    [InlineData("partial")]
    [InlineData("silent")]
    public void The_demo_reads_as_approved(string name)
    {
        Golden.Check($"engineer-{name}.txt", EngineerText.Write(Results.Of(name)));
    }
}
