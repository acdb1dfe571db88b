using StateWatch.Core.Desks;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;
using static StateWatch.Core.Tests.Routing.DemoRouting;

namespace StateWatch.Core.Tests.Routing;

public class OpeningSearchTests
{
    [Theory]
    [InlineData("input/25", "room", new[] { "group/1/on: off" }, new[] { "group/1/on: on" })]
    [InlineData("input/25", "room", new[] { "input/25/on: off", "group/1/on: off", "main/1/on: off" }, new[] { "input/25/on: on", "group/1/on: on", "main/1/on: on" })]
    [InlineData("input/25", "room", new[] { "mute-group/2/active: on" }, new[] { "mute-group/2/active: off" })]
    [InlineData("input/25", "room", new[] { "dca/1/fader: -inf dB" }, new[] { "dca/1/fader: 0 dB" })]
    // The fader that the plan puts at -5 dB is put there, not at 0 dB.
    [InlineData("input/1", "room", new[] { "group/4/on: off", "group/2/fader: -inf dB" }, new[] { "group/2/fader: -5 dB" })]
    // A pre-fader send does not care for the strip's fader.
    [InlineData("input/15", "wedges", new[] { "input/15/fader: -inf dB", "input/15/on: off" }, new[] { "input/15/on: on" })]
    // One switch that two strips of the way share is one change.
    [InlineData("input/15", "stream", new[] { "mute-group/1/active: on", "group/3/mute-group/1: on" }, new[] { "mute-group/1/active: off" })]
    public void The_smallest_change(string strip, string feed, string[] closed, string[] opening)
    {
        var state = PlannedDesk();
        foreach (var change in closed)
            Set(state, change);
        var routing = Load(state);
        var found = new OpeningSearch(Plan, routing, state).Find(Node(strip), Columns(feed));
        Assert.NotNull(found);
        Assert.True(found.Exact);
        Assert.Equal(opening.Order(), found.Changes.Select(change => $"{DemoShow.Profile.Settings[change.Setting].Path}: {DemoShow.Profile.Format(change.Value)}".Replace(".0 dB", " dB", StringComparison.Ordinal)).Order());
    }

    [Fact]
    public void A_way_that_the_plan_forbids_is_never_proposed()
    {
        var state = PlannedDesk();
        // The click belongs into ears only; every way into the room is planned off.
        Assert.Null(new OpeningSearch(Plan, Load(state), state).Find(Node("input/39"), Columns("room")));
    }

    [Fact]
    public void A_patch_is_never_proposed()
    {
        var state = PlannedDesk();
        Set(state, "output/stage-1/source: none");
        Set(state, "output/stage-2/source: none");
        Assert.Null(new OpeningSearch(Plan, Load(state), state).Find(Node("input/25"), Columns("room")));
    }

    [Fact]
    public void What_it_finds_is_what_trying_every_set_finds()
    {
        var random = new Random(TestSeed.Value);
        var pairs = new[] { ("input/25", "room"), ("input/25", "stream"), ("input/15", "wedges"), ("input/15", "stream"), ("input/35", "loop"), ("input/1", "room"), ("input/17", "ears-a"), ("input/17", "overflow") };
        int none = 0, several = 0;
        for (var round = 0; round < 40; round++)
        {
            var (strip, feed) = pairs[random.Next(pairs.Length)];
            var state = PlannedDesk();
            var switches = Switches(strip);
            var closed = new List<(int Setting, SettingValue Open)>();
            for (var i = random.Next(1, 9); i > 0; i--)
            {
                var (path, shut) = switches[random.Next(switches.Length)];
                var id = DemoShow.Profile.Find(path);
                if (id < 0 || closed.Exists(item => item.Setting == id))
                    continue;
                closed.Add((id, state[id]));
                Set(state, $"{path}: {shut}");
            }

            var routing = Load(state);
            if (Columns(feed).Any(column => routing.Graph.Total(Node(strip))[column] > 0))
                continue;
            var found = new OpeningSearch(Plan, routing, state).Find(Node(strip), Columns(feed));
            var wanted = SmallestByTrying(state, closed, strip, feed);
            Assert.Equal(wanted, found?.Changes.Count);
            none += found is null ? 1 : 0;
            several += found?.Changes.Count > 1 ? 1 : 0;
        }

        Assert.True(several > 3, $"{several} rounds needed more than one change, {none} had no solution");
    }

    // Every subset of the closed switches, by size: the first size at which one of them opens the pair.
    private static int? SmallestByTrying(DeskState state, List<(int Setting, SettingValue Open)> closed, string strip, string feed)
    {
        foreach (var subset in Enumerable.Range(0, 1 << closed.Count).OrderBy(bits => int.PopCount(bits)))
        {
            var copy = Copy(state);
            for (var i = 0; i < closed.Count; i++)
            {
                if ((subset >> i & 1) != 0)
                    copy.Apply(closed[i].Setting, closed[i].Open);
            }

            var routing = Load(copy);
            if (Columns(feed).Any(column => routing.Graph.Total(Node(strip))[column] > 0))
                return int.PopCount(subset);
        }

        return null;
    }

    private static (string Path, string Shut)[] Switches(string strip) =>
    [
        ($"{strip}/on", "off"), ($"{strip}/fader", "-inf dB"), ("main/1/on", "off"), ("main/1/fader", "-inf dB"), ("group/1/on", "off"), ("group/3/fader", "-inf dB"),
        ("group/4/on", "off"), ("group/5/on", "off"), ("group/2/on", "off"), ("dca/1/on", "off"), ("dca/3/fader", "-inf dB"), ("dca/2/on", "off"), ("dca/4/on", "off"), ("mute-group/1/active", "on"),
        ("mute-group/2/active", "on"), ("mute-group/4/active", "on"), ("mix/1/on", "off"), ("mix/5/on", "off"), ("mix/6/fader", "-inf dB"), ("matrix/2/on", "off"), ("matrix/3/on", "off"), ("matrix/4/fader", "-inf dB"), ("matrix/5/on", "off"),
        ("fx-return/1/on", "off"), ("fx-return/2/on", "off"), ($"{strip}/send/mix/13/on", "off"), ($"{strip}/send/mix/14/on", "off"),
    ];

    private static DeskState Copy(DeskState state)
    {
        var copy = new DeskState(state.Profile);
        for (var id = 0; id < state.Count; id++)
            copy.Apply(id, state[id]);
        return copy;
    }

    private static void Set(DeskState state, string change)
    {
        var parts = change.Split(": ");
        state.Set(parts[0], parts[1]);
    }
}
