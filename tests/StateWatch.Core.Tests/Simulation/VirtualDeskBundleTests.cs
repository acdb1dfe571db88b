using System.Text;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

public class VirtualDeskBundleTests
{
    /// <summary>
    /// OSC 1.0, examples page ("Order of Invocation of OSC Methods Matched by OSC Messages in an OSC Bundle"): a bundle of three patterns
    /// reaches six methods: the first, then the two seconds, then the three thirds; the order among those of one pattern is free.
    /// </summary>
    [Fact]
    public void Patterns_of_a_bundle_reach_the_addresses_in_the_order_of_the_bundle()
    {
        var desk = new VirtualDesk(SmallDesk.OrderingProfile);
        var answers = new AnswerLog();
        desk.Handle(
            Bundle("0000000000000001",
                "2F66697273742F746869732F6F6E6500" + "2C000000", // /first/this/one
                "2F7365636F6E642F5B312D325D000000" + "2C000000", // /second/[1-2]
                "2F74686972642F2A00000000" + "2C000000"), // /third/*
            answers);
        var addresses = answers.Hex.Select(AddressOf).ToList();
        Assert.Equal("/first/this/one", addresses[0]);
        Assert.Equal(["/second/1", "/second/2"], addresses[1..3].Order());
        Assert.Equal(["/third/a", "/third/b", "/third/c"], addresses[3..].Order());
        Assert.Equal(new VirtualDeskCounters(Answered: 6, 0, 0, 0, 0), desk.Counters);
    }

    [Fact]
    public void Time_tag_in_the_future_counts_as_at_once()
    {
        var desk = new VirtualDesk(SmallDesk.OrderingProfile);
        var answers = new AnswerLog();
        desk.Handle(Bundle("ED00378040000000", "2F7468697264 2F610000 0000 2C000000"), answers);
        Assert.Equal(["2F74686972642F6100000000" + "2C690000" + "00000000"], answers.Hex);
    }

    [Fact]
    public void Pattern_with_arguments_sets_every_address_it_matches()
    {
        var desk = new VirtualDesk(SmallDesk.OrderingProfile);
        var answers = new AnswerLog();
        desk.Handle(Hex("2F74686972642F5B622D635D00000000" + "2C690000" + "00000001"), answers); // /third/[b-c] 1
        Assert.Empty(answers.Hex);
        Assert.Equal(["off", "on", "on"], Enumerable.Range(1, 3).Select(d => desk.Get($"dca/{d}/on")));
        Assert.Equal(2, desk.Counters.Sets);
    }

    [Fact]
    public void Pattern_can_ask_for_the_identity()
    {
        var desk = SmallDesk.Create();
        var answers = new AnswerLog();
        desk.Handle(Hex("2F3F3F3F 00000000 2C000000"), answers); // /???
        Assert.Equal(["/who", "/hum"], answers.Hex.Select(AddressOf));
    }

    [Fact]
    public void Message_after_a_malformed_one_still_counts()
    {
        var desk = new VirtualDesk(SmallDesk.OrderingProfile);
        var answers = new AnswerLog();
        desk.Handle(Bundle("0000000000000001", "2F616263", "2F74686972642F6100000000" + "2C000000"), answers);
        Assert.Equal(new VirtualDeskCounters(Answered: 1, 0, 0, 0, Malformed: 1), desk.Counters);
    }

    [Fact]
    public void Patterns_beyond_the_most_of_a_datagram_are_not_expanded()
    {
        var desk = new VirtualDesk(SmallDesk.OrderingProfile);
        var answers = new AnswerCount();
        desk.Handle(Bundle("0000000000000001", [.. Enumerable.Repeat("2F74686972642F2A00000000" + "2C000000", VirtualDesk.MostPatterns + 2)]), answers);
        Assert.Equal(3 * VirtualDesk.MostPatterns, answers.Answers);
        Assert.Equal(2, desk.Counters.Malformed);
    }

    private static byte[] Hex(string text) => Convert.FromHexString(text.Replace(" ", "", StringComparison.Ordinal));

    /// <summary>OSC 1.0, "OSC Bundles": "#bundle", a time tag, then each element with its size in front.</summary>
    private static byte[] Bundle(string timeTag, params string[] elements)
    {
        var bytes = new List<byte>(Hex("2362756E646C6500" + timeTag));
        foreach (var element in elements.Select(Hex))
            bytes.AddRange([0, 0, 0, (byte)element.Length, .. element]);
        return [.. bytes];
    }

    private static string AddressOf(string hex) => Encoding.ASCII.GetString(Convert.FromHexString(hex)).Split('\0')[0];
}
