using StateWatch.Core.Documents;

namespace StateWatch.Core.Tests.Documents;

public class NearestWordTests
{
    private static readonly string[] Words = ["fader", "feeds", "inputs", "low-cut", "low-cut/frequency", "on", "i", "matrix"];

    [Theory]
    [InlineData("fadr", "fader")] // one left out
    [InlineData("faderr", "fader")] // one too many
    [InlineData("gader", "fader")] // one for another
    [InlineData("fdaer", "fader")] // two swapped
    [InlineData("FADER", "fader")]
    [InlineData("lowcut", "low-cut")]
    [InlineData("martix", "matrix")]
    [InlineData("imputs", "inputs")]
    [InlineData("om", "on")]
    [InlineData("I", "i")]
    [InlineData("x", null)] // a whole word is never replaced
    [InlineData("no", "on")]
    [InlineData("fader", null)] // it is the word
    [InlineData("kettle", null)]
    [InlineData("", null)]
    public void Nearest_word_is_within_a_third(string word, string? near) => Assert.Equal(near, NearestWord.Among(word, Words));

    [Fact]
    public void Giant_words_are_not_compared() => Assert.Null(NearestWord.Among(new string('a', 100_000), [new string('a', 99_999)]));

    [Fact]
    public void Lines_are_found_for_excerpts()
    {
        var source = new SourceText("x", "one\r\ntwo\n\nfour");
        Assert.Equal(["one", "two", "", "four", ""], Enumerable.Range(1, 5).Select(line => source.Line(line).ToString()));
    }
}
