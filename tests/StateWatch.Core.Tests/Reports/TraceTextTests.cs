using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public class TraceTextTests
{
    public static TheoryData<string> All => Traces.All;

    [Theory]
    [InlineData("as-planned")]
    [InlineData("muted")]
    [InlineData("two-ways")]
    [InlineData("pre-fader-wedge")]
    [InlineData("pre-fader-wedge-muted")]
    [InlineData("never")]
    [InlineData("patch")]
    [InlineData("wrong-source")]
    [InlineData("ears-shut")]
    [InlineData("one-side")]
    [InlineData("howl")]
    [InlineData("talk")]
    [InlineData("reach")]
    [InlineData("feeding")]
    public void The_text_is_as_approved(string name) => Golden.Check($"trace-{name}.txt", TraceText.Write(Traces.Of(name)));

    [Theory]
    [MemberData(nameof(All))]
    public void Lines_fit_the_width_and_the_first_holds_the_answer(string name)
    {
        var result = Traces.Of(name);
        foreach (var width in (int[])[40, 80, 100])
        {
            var lines = TraceText.Write(result, width: width).Split('\n');
            Assert.All(lines, line => Assert.True(line.Length <= width, line));
            Assert.Matches("CARRIED|HARDLY HEARD|SILENT|CANNOT TELL|IT HOWLS|reaches|planned inputs", string.Join(' ', lines.Take(2)));
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Whatever_opens_something_comes_after_the_fader_is_down(string name)
    {
        var text = TraceText.Write(Traces.Of(name));
        Assert.DoesNotContain("safe", text, StringComparison.OrdinalIgnoreCase);
        var opens = text.IndexOf("   - ", StringComparison.Ordinal);
        if (Traces.Of(name).Pairs.Any(pair => pair.Opening is not null))
            Assert.InRange(text.IndexOf("Fader down first", StringComparison.Ordinal), 0, opens);
        else
            Assert.Equal(-1, opens);
    }

    [Theory]
    [InlineData("never", "Nothing that the plan allows opens it")]
    [InlineData("patch", "no patch is ever proposed")]
    [InlineData("too-much", "No change was found: too much is shut")]
    public void Where_nothing_is_proposed_it_says_why_and_whom_to_call(string name, string why)
    {
        var text = TraceText.Write(Traces.Of(name), width: 200);
        Assert.Contains(why, text, StringComparison.Ordinal);
        Assert.Contains("all the engineer", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Something_that_arrives_far_down_is_hardly_heard() => Assert.StartsWith("HARDLY HEARD", TraceText.Write(Traces.Of("faint")), StringComparison.Ordinal);
}
