using StateWatch.Core.Desks;
using StateWatch.Core.Routing;
using static StateWatch.Core.Tests.Routing.DemoRouting;

namespace StateWatch.Core.Tests.Routing;

public class DependenceTests
{
    public static TheoryData<string> Feeds => [.. Plan.Feeds.Where(feed => feed.Outputs.Count > 0).Select(feed => feed.Key)];

    [Theory]
    [MemberData(nameof(Feeds))]
    public void A_feed_depends_on_exactly_what_moves_it_when_it_is_shut(string feed)
    {
        var state = PlannedDesk();
        var routing = Load(state);
        var columns = Columns(feed);
        var wanted = new List<string>();
        foreach (var setting in DemoShow.Profile.Settings)
        {
            var shut = setting.Kind.Suffix switch { "fader" => "-inf dB", "on" => "off", "active" => "on", _ => null };
            if (shut is null || !setting.Codec.TryParse(shut, out var value, out _) || state[setting.Id] == value)
                continue;
            var before = state[setting.Id];
            state.Apply(setting.Id, value);
            routing.Touch(setting.Id);
            var after = Sum(routing, columns, state);
            state.Apply(setting.Id, before);
            routing.Touch(setting.Id);
            if (after != Sum(routing, columns, state))
                wanted.Add(setting.Path);
        }

        routing.Update(state);
        var found = Dependence.Of(routing, state, columns);
        Assert.Equal(wanted.Order(StringComparer.Ordinal), found.Controls.Select(id => DemoShow.Profile.Settings[id].Path).Order(StringComparer.Ordinal));
        Assert.NotEmpty(wanted);
    }

    [Fact] // The stream of the demo is fed from groups: closing the room must not reach the people at home.
    public void The_stream_passes_no_strip_of_the_room_and_the_overflow_does()
    {
        var state = PlannedDesk();
        var routing = Load(state);
        var room = DemoShow.Profile.FindStrip("main/1")!.Id;
        Assert.False(Dependence.Of(routing, state, Columns("stream")).Passes(room));
        Assert.True(Dependence.Of(routing, state, Columns("overflow")).Passes(room));
        Assert.True(Dependence.Of(routing, state, Columns("fills")).Passes(room));
    }

    private static string Sum(DeskRouting routing, IReadOnlyList<int> columns, DeskState state)
    {
        routing.Update(state);
        // Every gain of every input, to the last bit: what any of them hears must not move.
        return string.Join(' ', Map.Strips.Where(strip => DemoShow.Profile.Strips[strip.Strip].Kind == "input")
            .SelectMany(strip => columns.Select(column => BitConverter.DoubleToInt64Bits(routing.Graph.Total(strip.Nodes[0])[column]))));
    }
}
