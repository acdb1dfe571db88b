using StateWatch.Control;

namespace StateWatch.Tests.Control;

/// <summary>A finding may be named in full or by its beginning, and never by guesswork.</summary>
public sealed class FindingNamesTests
{
    private static readonly (string, string)[] Standing =
    [
        ("here/house", "here/house/drift:input/1/on"),
        ("here/house", "here/house/drift:input/12/on"),
        ("here/house", "here/house/source-missing:input/12"),
        ("here/stage", "here/stage/drift:input/1/on"),
    ];

    [Theory]
    [InlineData("here/stage/drift:input/1/on", "here/stage/drift:input/1/on")]
    [InlineData("source-missing:input/12", "here/house/source-missing:input/12")]
    [InlineData("source", "here/house/source-missing:input/12")]
    [InlineData("here/stage", "here/stage/drift:input/1/on")]
    [InlineData("drift:input/12", "here/house/drift:input/12/on")]
    [InlineData("input/12/", "here/house/drift:input/12/on")]
    public void One_that_is_meant_is_found(string given, string key)
    {
        var (desk, found, problem) = FindingNames.Find(given, Standing);
        Assert.Equal((key, null), (found, problem));
        Assert.StartsWith(desk + "/", key, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("drift:input/1/on", "may mean 2: here/house/drift:input/1/on, here/stage/drift:input/1/on; write more of it")]
    [InlineData("drift", "may mean 3")]
    [InlineData("sorce-missing:input/12", "did you mean 'source-missing:input/12'?")]
    [InlineData("nothing like it", "'statewatch status' lists them")]
    [InlineData("\u001b[2J", @"\x1B[2J")]
    public void One_that_may_mean_several_or_none_is_refused_with_what_to_type(string given, string words)
    {
        var (_, key, problem) = FindingNames.Find(given, Standing);
        Assert.Equal("", key);
        Assert.Contains(words, problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData(" ")]
    public void Nothing_means_no_finding_though_only_one_stands(string given)
    {
        var (_, key, problem) = FindingNames.Find(given, [Standing[2]]);
        Assert.Equal("", key);
        Assert.StartsWith("say which finding", problem, StringComparison.Ordinal);
    }

    [Fact]
    public void When_nothing_stands_that_is_said() => Assert.Equal("no finding stands that it could mean", FindingNames.Find("x", []).Problem);
}
