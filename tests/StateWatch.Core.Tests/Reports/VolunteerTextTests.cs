using System.Text.RegularExpressions;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public partial class VolunteerTextTests
{
    public static TheoryData<string> All => Results.All;

    [Theory]
    [InlineData("clean", "READY: everything is as planned.")]
    [InlineData("simulated", "SIMULATED DESK. READY: everything is as planned.")]
    [InlineData("notices", "READY: nothing to fix; 1 thing to know below.")]
    [InlineData("warnings", "NOT READY: 2 things to fix, none urgent.")]
    [InlineData("incidents", "NOT READY: 15 things to fix, 7 urgent. The first five here, and 10 more below.")]
    [InlineData("silent", "NO ANSWER FROM THE DESK. Nothing was checked; nobody can say whether it is ready.")]
    [InlineData("another-desk", "ANOTHER DESK ANSWERED. Nothing was checked; nobody can say whether it is ready.")]
    [InlineData("partial", "NOT CERTAIN: 1 setting could not be read. Nothing wrong was found in the rest.")]
    [InlineData("partial-incidents", "NOT READY, AND NOT ALL WAS READ: 15 things to fix, 7 urgent. The first four here, and 11 more below.")]
    [InlineData("fell-silent", "THE DESK STOPPED ANSWERING: nobody can say whether it is ready. Nothing wrong was found until then.")]
    public void The_first_words_say_whether_it_is_ready(string name, string head)
    {
        Assert.StartsWith(head.Replace(' ', '\n'), VolunteerText.Write(Results.Of(name)).Replace("\n   ", "\n").Replace(' ', '\n'));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Ready_is_said_exactly_when_the_exit_code_allows(string name)
    {
        var result = Results.Of(name);
        var ready = Lines(name)[0].Contains("READY", StringComparison.Ordinal) && !Lines(name)[0].Contains("NOT READY", StringComparison.Ordinal);
        var nothingToFix = result.Audit.Causes.All(cause => cause.Severity < Core.Auditing.Severity.Warning);
        Assert.Equal(result.ExitCode == 0 || (result.ExitCode == 1 && nothingToFix), ready);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void The_first_ten_lines_tell_everything_that_matters_at_once(string name)
    {
        var top = string.Join('\n', Lines(name).Take(VolunteerText.TopLines));
        Assert.Contains("Seen: ", top);
        Assert.Matches("Feeds |Every feed", top);
        Assert.Contains("\"one two\"", top);
        Assert.Contains("Call the engineer. Do not touch gain, phantom power or patch.", top);
        Assert.Equal("", Lines(name)[Math.Min(VolunteerText.TopLines, Lines(name).IndexOf(""))]);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Lines_are_no_wider_than_a_hundred_characters(string name)
    {
        Assert.All(Lines(name), line => Assert.InRange(line.Length, 0, 100));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Nothing_is_called_safe_and_nothing_sounds_like_a_computer(string name)
    {
        var text = VolunteerText.Write(Results.Of(name));
        foreach (var word in (string[])["safe", "expectation", "socket/", "input/", "desk/", "exit code", "drift", "verdict"])
            Assert.DoesNotContain(word, text, StringComparison.OrdinalIgnoreCase);
    }

    // Sudden level can hurt: whatever opens, raises or moves something is done with the fader down; patch and phantom are the engineer's.
    [Theory]
    [MemberData(nameof(All))]
    public void Nothing_is_opened_raised_or_patched_without_the_fader_down_first(string name)
    {
        var text = Unwrapped(name);
        foreach (var sentence in Risky().Matches(text).Select(match => match.Value))
            Assert.Matches("(?i)(fader|faders|send) down first", sentence);
        Assert.DoesNotMatch("(?i)phantom power on|then patch|gain up", text);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void No_control_character_reaches_the_terminal(string name)
    {
        Assert.DoesNotContain(VolunteerText.Write(Results.Of(name)), letter => (char.IsControl(letter) && letter != '\n') || letter == '\u202e');
    }

    [Fact]
    public void A_hostile_name_is_shown_written_out()
    {
        Assert.Contains(@"'\x1B[2J\x0A\u202E\x9B'", VolunteerText.Write(Results.Of("hostile")));
    }

    [Fact]
    public void Every_cause_to_fix_has_its_number_once()
    {
        var numbers = Lines("incidents").TakeWhile(line => line != "WHICH ONES").Select(line => Number().Match(line)).Where(match => match.Success).Select(match => int.Parse(match.Groups["number"].Value));
        Assert.Equal(Enumerable.Range(1, 15), numbers);
    }

    [Fact]
    public void Only_the_first_line_is_coloured_and_its_words_stay()
    {
        var plain = VolunteerText.Write(Results.Of("clean"));
        Assert.Equal(plain, VolunteerText.Write(Results.Of("clean"), colour: true).Replace("\x1b[1;32m", "").Replace("\x1b[0m", ""));
        Assert.DoesNotContain('\x1b', plain);
    }

    [Theory]
    [InlineData("clean")]
    [InlineData("incidents")]
    [InlineData("silent")]
    [InlineData("another-desk")]
    [InlineData("partial")]
    [InlineData("fell-silent")]
    public void The_demo_reads_as_approved(string name)
    {
        Golden.Check($"volunteer-{name}.txt", VolunteerText.Write(Results.Of(name)));
    }

    private static List<string> Lines(string name) => [.. VolunteerText.Write(Results.Of(name)).TrimEnd('\n').Split('\n')];

    private static string Unwrapped(string name) => VolunteerText.Write(Results.Of(name)).Replace("\n    ", " ");

    [GeneratedRegex(@"(?i)[^.\n]*\b(unmute|bring it up|slowly up to|switch it on|take it (off|out)|link them|then move it|set it back|insert Hush)\b[^.\n]*", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Risky();

    [GeneratedRegex(@"^ ?(?<number>\d+)\. ", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Number();
}
