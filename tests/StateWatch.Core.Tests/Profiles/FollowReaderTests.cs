using System.Text;
using StateWatch.Core.Profiles;
using StateWatch.Core.Tests.Simulation;

namespace StateWatch.Core.Tests.Profiles;

/// <summary>How a profile says what keeps a desk sending and what must be read again.</summary>
public class FollowReaderTests
{
    [Fact]
    public void Profile_that_says_nothing_is_asked_in_rounds_of_a_second()
    {
        var follow = SmallDesk.FernProfile.Follow;
        Assert.Null(follow.KeepAlive);
        Assert.Equal((TimeSpan.FromSeconds(3), TimeSpan.FromSeconds(1)), (follow.LostAfter, follow.Round));
        Assert.Empty(follow.Often);
        Assert.Empty(follow.Invalidations);
    }

    /// <summary>The bytes: OSC 1.0, an address of eleven characters and one null, a comma and three nulls.</summary>
    [Fact]
    public void Keep_alive_is_a_bare_question()
    {
        var keepAlive = Read("follow: { keep-alive: { ask: /bench/stay } }").Follow.KeepAlive!;
        Assert.Equal("2F62656E63682F73746179002C000000", Convert.ToHexString(keepAlive.Question));
        Assert.Equal((TimeSpan.FromSeconds(3), TimeSpan.FromSeconds(10), true), (keepAlive.Every, keepAlive.Lasts, keepAlive.Answered));
        Assert.Equal(TimeSpan.FromSeconds(30), Read("follow: { keep-alive: { ask: /bench/stay } }").Follow.Round);
    }

    [Theory]
    [InlineData("/a/1/live")] // a setting's own question
    [InlineData("/a/1")] // above the settings' addresses
    [InlineData("/a/1/live2")] // beside one
    public void Keep_alive_that_could_not_set_is_taken(string address) =>
        Assert.Equal(address, Encoding.ASCII.GetString(Read($"follow: {{ keep-alive: {{ ask: {address} }} }}").Follow.KeepAlive!.Address));

    [Theory]
    [InlineData("input/*/on", 4)]
    [InlineData("input/3/*", 2)]
    [InlineData("input/*", 8)]
    [InlineData("*/*/name", 4)]
    [InlineData("in*/2/on", 1)]
    [InlineData("input/2/on", 1)]
    public void Stars_stand_for_parts_of_a_path(string pattern, int endpoints)
    {
        var profile = Read($"follow: {{ often: {{ settings: \"{pattern}\", every: 1 s }} }}\ninvalidate: [{{ on: /turned, reread: \"{pattern}\" }}, {{ on: /other }}]");
        Assert.Equal(endpoints, profile.Follow.Often.Count);
        Assert.Equal(profile.Follow.Often, profile.Follow.Invalidations[0].Endpoints);
        Assert.Null(profile.Follow.Invalidations[1].Endpoints);
    }

    private static DeskProfile Read(string more) => SmallDesk.Read($$"""
        format: statewatch/desk/1
        desk: Rush 4
        link: { osc: udp, to: 127.0.0.1:9052 }
        strips: { input: 4 }
        codecs:
          flag:  { wire: int, switch: [0, 1] }
          words: { wire: string, length: 8 }
        settings:
          "input/{i}/on":   { at: "/a/{i}/live", args: [flag] }
          "input/{i}/name": { at: "/a/{i}/words", args: [words] }

        """ + more);
}
