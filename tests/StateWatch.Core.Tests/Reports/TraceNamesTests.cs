namespace StateWatch.Core.Tests.Reports;

public class TraceNamesTests
{
    [Theory]
    [InlineData("Lectern", "input/25")]
    [InlineData("lectern", "input/25")]
    [InlineData("input/25", "input/25")]
    [InlineData("input 25", "input/25")]
    [InlineData("Voices", "group/1")]
    [InlineData("main/1", "main/1")]
    [InlineData("talk 2", "talk/2")]
    public void A_source_is_a_planned_name_or_a_path(string text, string path) => Assert.Equal(path, Traces.Names.Source(text, out _)?.Path);

    [Theory]
    [InlineData("Lecturn", "did you mean 'Lectern'?")]
    [InlineData("Keys", "Keys L, Keys R")]
    [InlineData("input/99", "no input 'input/99'")]
    [InlineData("", "no input")]
    [InlineData("\u001b[2J", "\\x1B[2J")]
    public void What_is_no_source_is_told_with_the_nearest(string text, string words)
    {
        Assert.Null(Traces.Names.Source(text, out var problem));
        Assert.Contains(words, problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("room", "room", 2)]
    [InlineData("Room", "room", 2)]
    [InlineData("wedges", "wedges", 4)]
    [InlineData("wedges 3", "wedges 3", 1)]
    [InlineData("wedges/3", "wedges 3", 1)]
    [InlineData("mix/3", "wedges 3", 1)]
    [InlineData("output/stage-7", "wedges 3", 1)]
    [InlineData("ears-a 2", "ears-a 2", 1)]
    [InlineData("main 1", "room", 2)]
    [InlineData("Voices", "Voices", 1)]
    public void A_feed_is_its_key_or_one_of_its_buses_or_outputs(string text, string key, int ends)
    {
        var target = Traces.Names.Target(text, out _);
        Assert.Equal((key, ends), (target?.Key, target?.Columns.Count));
    }

    [Theory]
    [InlineData("rom", "did you mean 'room'?")]
    [InlineData("wedges 7", "'wedges 1' to 'wedges 4'")]
    [InlineData("nowhere", "It has: room, subs")]
    public void What_is_no_feed_is_told_with_the_nearest(string text, string words)
    {
        Assert.Null(Traces.Names.Target(text, out var problem));
        Assert.Contains(words, problem, StringComparison.Ordinal);
    }
}
