using StateWatch.Core.Documents;
using StateWatch.Core.Reports;

namespace StateWatch.Core.Tests.Reports;

public class DiagnosticTextTests
{
    private static readonly DiagnosticCode Notice = new("shown-twice", DiagnosticLevel.Notice, "For tests.");

    private readonly DiagnosticBag _bag = new();

    [Fact]
    public void A_fault_has_its_place_its_line_a_caret_and_advice()
    {
        Add("b.plan.yaml", 2, 3, "'buss' is not a key here", "did you mean 'bus'?");
        Assert.Equal("""
            b.plan.yaml:2:3: error unknown-key: 'buss' is not a key here
                { buss: main 1 }
                  ^
                did you mean 'bus'?
            1 error, 0 warnings, 0 notices

            """, Write("first: line\n{ buss: main 1 }\n"));
    }

    [Fact]
    public void Faults_are_sorted_by_file_and_place_and_counted()
    {
        Add("b", 9, 1, "fourth");
        Add("a", 10, 1, "third");
        Add("a", 9, 2, "second");
        _bag.Add(Notice, new Origin("a", new Place(9, 1)), "first");
        var lines = Write("").Split('\n');
        Assert.Equal(["a:9:1: notice shown-twice: first", "a:9:2: error unknown-key: second", "a:10:1: error unknown-key: third", "b:9:1: error unknown-key: fourth", "3 errors, 0 warnings, 1 notice", ""], lines);
    }

    [Fact]
    public void A_fault_of_a_whole_file_has_no_excerpt()
    {
        Add("a", 0, 0, "empty");
        Assert.Equal("a: error unknown-key: empty\n1 error, 0 warnings, 0 notices\n", Write("text\n"));
    }

    [Fact]
    public void What_is_not_kept_is_counted()
    {
        for (var i = 0; i < DiagnosticBag.Capacity + 7; i++)
            Add("a", i + 1, 1, "x");
        Assert.EndsWith("500 errors, 0 warnings, 0 notices, and 7 more that are not shown\n", Write(""));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(150)]
    [InlineData(300)]
    [InlineData(301)]
    public void A_long_line_is_cut_around_the_caret(int column)
    {
        var line = string.Concat(Enumerable.Range(1, 300).Select(i => (char)('a' + i % 26)));
        Add("a", 1, column, "here");
        var lines = Write(line).Split('\n');
        Assert.All(lines, text => Assert.InRange(text.Length, 0, 102));
        var caret = lines[2].IndexOf('^', StringComparison.Ordinal);
        if (column <= line.Length)
            Assert.Equal(line[column - 1], lines[1][caret]);
        else
            Assert.Equal(lines[1].Length, caret);
    }

    [Fact]
    public void Control_characters_of_files_and_messages_never_reach_the_terminal()
    {
        Add("a\x1b[2J", 1, 4, "'\x1b]0;x\x07' is not a key\nhere\u202e", "did you mean\r\x9b'?");
        var text = Write("a\tb\x1b[31m \u202e c\x9d");
        Assert.DoesNotContain(text, letter => (char.IsControl(letter) && letter != '\n') || letter == '\u202e');
        Assert.Equal(5, text.Count(letter => letter == '\n'));
        Assert.Equal(["    a b�[31m � c�", "       ^"], text.Split('\n')[1..3]);
    }

    [Fact]
    public void A_place_behind_an_emoji_gets_its_caret_one_cell_on()
    {
        Add("a", 1, 4, "here");
        Assert.Equal(["    🎤 x", "      ^"], Write("🎤 x").Split('\n')[1..3]);
    }

    [Fact]
    public void Colour_only_repeats_the_level()
    {
        Add("a", 1, 1, "x");
        Assert.Equal("a:1:1: \x1b[1;31merror\x1b[0m unknown-key: x\n1 error, 0 warnings, 0 notices\n", DiagnosticText.Write(_bag, _ => null, colour: true));
    }

    private void Add(string file, int line, int column, string message, string? advice = null) =>
        _bag.Add(DocumentCodes.UnknownKey, new Origin(file, new Place(line, column)), message, advice);

    private string Write(string text) => DiagnosticText.Write(_bag, name => new SourceText(name, text));
}
