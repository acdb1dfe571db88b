using StateWatch.Core.Profiles;

namespace StateWatch.Core.Tests.Profiles;

public class IndexTemplateTests
{
    [Theory]
    [InlineData("/lane/{n}", 7, "/lane/7")]
    [InlineData("/lane/{n:02}", 7, "/lane/07")]
    [InlineData("/lane/{n:03}", 7, "/lane/007")]
    [InlineData("/lane/{n:03}", 1234, "/lane/1234")]
    [InlineData("/lane/{n:02}", 10, "/lane/10")]
    [InlineData("/lane/{n:02}", 9, "/lane/09")]
    [InlineData("/lane/{n:09}", 1, "/lane/000000001")]
    [InlineData("{n+4}", 7, "11")]
    [InlineData("{n-1}", 7, "6")]
    [InlineData("{n-1}", 1, "0")]
    [InlineData("{4096+n}", 7, "4103")]
    [InlineData("{(n-1)/24}", 24, "0")]
    [InlineData("{(n-1)/24}", 25, "1")]
    [InlineData("{(n-1)%24}", 24, "23")]
    [InlineData("{(n-1)%24}", 25, "0")]
    [InlineData("{(n-1)/16+1:a}", 17, "b")]
    [InlineData("{(n-1)%16+1:02}", 17, "01")]
    [InlineData("{(n+7)/8-1}", 17, "2")]
    [InlineData("{(n)/2}", 5, "2")]
    [InlineData("{n:a}", 1, "a")]
    [InlineData("{n:a}", 26, "z")]
    [InlineData("{n:a}", 27, "aa")]
    [InlineData("{n:a}", 52, "az")]
    [InlineData("{n:a}", 53, "ba")]
    [InlineData("{n:a}", 702, "zz")]
    [InlineData("{n:a}", 703, "aaa")]
    [InlineData("{n-1:a}", 3, "b")]
    [InlineData("a{n}b{n:02}c", 3, "a3b03c")]
    [InlineData("none", 3, "none")]
    public void Number_form_is_written(string template, int number, string expected)
    {
        var read = IndexTemplate.TryParse(template, out var problem, out _);
        Assert.Null(problem);
        Assert.True(read!.TryExpand(read.Names, read.Names.Count == 0 ? [] : [number], out var text));
        Assert.Equal(expected, text);
    }

    [Theory]
    [InlineData("{n-2}", 1)] // negative
    [InlineData("{n-1:a}", 1)] // there is no letter for 0
    [InlineData("{(n-9)/2}", 7)]
    [InlineData("{(n-9)/2}", 8)] // a half below nought rounds down to -1
    [InlineData("{(n-9)%4}", 7)]
    public void Number_without_a_spelling_is_refused(string template, int number)
    {
        var read = IndexTemplate.TryParse(template, out _, out _)!;
        Assert.False(read.TryExpand(read.Names, [number], out _));
    }

    [Theory]
    [InlineData("/a/{n", 3)]
    [InlineData("/a/n}", 4)]
    [InlineData("/a/{}", 3)]
    [InlineData("/a/{N}", 3)]
    [InlineData("/a/{n*2}", 3)]
    [InlineData("/a/{n/2}", 3)]
    [InlineData("/a/{(n-1)/0}", 3)]
    [InlineData("/a/{(n-1)/}", 3)]
    [InlineData("/a/{(n-1}", 3)]
    [InlineData("/a/{n+}", 3)]
    [InlineData("/a/{n:3}", 3)]
    [InlineData("/a/{n:b}", 3)]
    [InlineData("/a/{n:010}", 3)]
    [InlineData("/a/{n+99999999}", 3)]
    [InlineData("/a/{n+-1}", 3)]
    [InlineData("/{n}/{m%2}", 5)]
    public void Anything_else_is_refused_at_its_character(string template, int column)
    {
        Assert.Null(IndexTemplate.TryParse(template, out var problem, out var at));
        Assert.Equal(column, at);
        Assert.NotEmpty(problem!);
    }

    [Fact]
    public void Names_are_listed_once_in_order()
    {
        var read = IndexTemplate.TryParse("/{i}/{m:a}/{(i-1)/2}", out _, out _)!;
        Assert.Equal(["i", "m"], read.Names);
        Assert.True(read.TryExpand(["m", "i"], [2, 5], out var text));
        Assert.Equal("/5/b/2", text);
    }
}
