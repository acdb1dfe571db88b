using StateWatch.Core.Watching;

namespace StateWatch.Core.Tests.Watching;

public sealed class DeskKeyTests
{
    [Theory]
    [InlineData("barn/midwinter", "barn", "midwinter")]
    [InlineData("barn/a/b", "barn", "a/b")]
    [InlineData("midwinter", "midwinter", "midwinter")]
    public void A_key_is_taken_apart_at_its_first_slash(string key, string site, string name) => Assert.Equal((site, name), (DeskKey.SiteOf(key), DeskKey.NameOf(key)));

    [Fact]
    public void The_watch_itself_is_a_desk_of_its_site() => Assert.Equal("barn/statewatch", DeskKey.OwnOf("barn"));
}
