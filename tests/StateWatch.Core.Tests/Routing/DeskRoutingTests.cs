using System.Runtime.InteropServices;
using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;
using static StateWatch.Core.Tests.Routing.DemoRouting;

namespace StateWatch.Core.Tests.Routing;

public class DeskRoutingTests
{
    private static readonly Dictionary<string, string> Effects = new(StringComparer.Ordinal) { ["mix/13"] = "fx-return/1", ["mix/14"] = "fx-return/2" };

    [Fact]
    public void The_demo_show_flows_as_a_finger_would_follow_it()
    {
        var state = PlannedDesk();
        var routing = Load(state);
        Assert.True(Compare(state, routing) > 300);
    }

    [Fact]
    public void After_many_changes_it_still_does_and_a_fresh_computation_agrees_to_the_last_bit()
    {
        var random = new Random(TestSeed.Value);
        var state = PlannedDesk();
        var routing = Load(state);
        for (var round = 0; round < 150; round++)
        {
            for (var change = random.Next(1, 4); change > 0; change--)
                ChangeOne(random, state, routing);
            routing.Update(state);
            var fresh = Load(state);
            for (var node = 0; node < Map.Nodes.Count; node++)
            {
                Assert.True(MemoryMarshal.AsBytes(fresh.Graph.Signed(node)).SequenceEqual(MemoryMarshal.AsBytes(routing.Graph.Signed(node))), $"round {round}, node {node}");
                Assert.True(MemoryMarshal.AsBytes(fresh.Graph.Total(node)).SequenceEqual(MemoryMarshal.AsBytes(routing.Graph.Total(node))), $"round {round}, node {node}");
            }

            if (round % 15 == 0 && routing.Graph.Circles == 0)
                Compare(state, routing);
        }
    }

    [Fact] // Common practice, no source: musicians keep their mix when the room fader moves; what is taken after a fader follows it.
    public void A_pre_fader_feed_does_not_move_with_the_room_and_a_post_fader_one_does()
    {
        var state = PlannedDesk();
        var routing = Load(state);
        var (wedge, room) = (Gain(routing, "input/15", "wedges"), Gain(routing, "input/15", "room"));
        Move(state, routing, "input/15/fader", "-20 dB");
        Assert.Equal(wedge, Gain(routing, "input/15", "wedges"));
        Assert.Equal(room / 10, Gain(routing, "input/15", "room"), 1e-12);
        Move(state, routing, "main/1/fader", "-20 dB");
        Assert.Equal(room / 100, Gain(routing, "input/15", "room"), 1e-12);
        Assert.Equal(wedge, Gain(routing, "input/15", "wedges"));
    }

    [Fact]
    public void Everything_that_silences_is_followed()
    {
        foreach (var (setting, value) in new[] { ("input/25/on", "off"), ("mute-group/2/active", "on"), ("dca/1/on", "off"), ("dca/1/fader", "-inf dB"), ("group/1/on", "off"),
            ("group/1/fader", "-inf dB"), ("main/1/on", "off"), ("output/stage-1/on", "off"), ("input/25/assign/group/1", "off") })
        {
            var state = PlannedDesk();
            var routing = Load(state);
            var column = Columns("room")[0];
            Assert.NotEqual(0, routing.Graph.Total(Node("input/25"))[column]);
            Move(state, routing, setting, value);
            Assert.Equal(0, routing.Graph.Total(Node("input/25"))[column]);
        }
    }

    [Fact]
    public void A_desk_whose_mutes_leave_pre_fader_sends_alone_is_believed()
    {
        var state = PlannedDesk();
        var routing = new DeskRouting(Map, DeskBehaviour.Usual with { MuteStopsPreFader = false });
        routing.Load(state);
        var wedge = Gain(routing, "input/15", "wedges");
        Move(state, routing, "input/15/on", "off");
        Assert.Equal(wedge, Gain(routing, "input/15", "wedges"));
        Assert.Equal(0, Gain(routing, "input/15", "room"));
    }

    [Fact]
    public void Updates_allocate_nothing()
    {
        var state = PlannedDesk();
        var routing = Load(state);
        var changes = new[] { "input/15/fader", "main/1/fader", "dca/3/fader", "input/15/send/mix/3/level", "group/3/fader" }.Select(path => DemoShow.Profile.Find(path)).ToArray();
        Turn(1);
        Turn(2);
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (var step = 3; step < 60; step++)
                Turn(step);
        }));

        void Turn(int step)
        {
            foreach (var id in changes)
            {
                state.Apply(id, SettingValue.Level(-step * 0.5));
                routing.Touch(id);
            }

            routing.Update(state);
        }
    }

    private static void ChangeOne(Random random, DeskState state, DeskRouting routing)
    {
        var id = routing.Inputs[random.Next(routing.Inputs.Count)];
        var codec = DemoShow.Profile.Settings[id].Codec;
        var words = codec.Words.ToArray();
        var text = codec.Kind switch
        {
            ValueKind.Switch => random.Next(2) == 0 ? "on" : "off",
            ValueKind.Level => random.Next(5) == 0 ? "-inf dB" : $"{-random.Next(60)} dB",
            ValueKind.Choice or ValueKind.Point => words[random.Next(words.Length)],
            _ => null,
        };
        if (text is null || !codec.TryParse(text, out var value, out _))
            return;
        state.Apply(id, value);
        routing.Touch(id);
    }

    private static int Compare(DeskState state, DeskRouting routing)
    {
        var flow = new NaiveFlow(state, Effects);
        var carried = 0;
        foreach (var stages in Map.Strips)
        {
            var strip = DemoShow.Profile.Strips[stages.Strip];
            if (strip.Kind != "input")
                continue;
            for (var column = 0; column < Map.Terminals.Count; column++)
            {
                var output = DemoShow.Profile.Strips[Map.Nodes[Map.Terminals[column]].Strip].Path;
                if (!output.StartsWith("output/", StringComparison.Ordinal))
                    continue;
                var ways = flow.Ways(strip.Path, output);
                var total = ways.Sum(Math.Abs);
                Assert.Equal(total, routing.Graph.Total(stages.Nodes[0])[column], 1e-12 * Math.Max(1, total));
                Assert.Equal(ways.Sum(), routing.Graph.Signed(stages.Nodes[0])[column], 1e-12 * Math.Max(1, total));
                carried += total > 0 ? 1 : 0;
            }
        }

        return carried;
    }

    private static void Move(DeskState state, DeskRouting routing, string path, string text)
    {
        state.Set(path, text);
        routing.Touch(DemoShow.Profile.Find(path));
        routing.Update(state);
    }

    private static double Gain(DeskRouting routing, string strip, string feed) => routing.Graph.Total(Node(strip))[Columns(feed)[0]];
}
