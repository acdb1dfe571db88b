using StateWatch.Core.Acoustics;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Reports;

public class TraceTests
{
    [Theory]
    [InlineData("as-planned", TraceAnswer.Carried, 0)]
    [InlineData("muted", TraceAnswer.Silent, 1)]
    [InlineData("two-ways", TraceAnswer.Carried, 0)]
    [InlineData("pre-fader-wedge", TraceAnswer.Carried, 0)]
    [InlineData("pre-fader-wedge-muted", TraceAnswer.Silent, 1)]
    [InlineData("never", TraceAnswer.Silent, 1)]
    [InlineData("patch", TraceAnswer.Silent, 1)]
    [InlineData("one-side", TraceAnswer.Carried, 0)]
    [InlineData("howl", TraceAnswer.Unstable, 3)]
    [InlineData("reach", TraceAnswer.Carried, 0)]
    [InlineData("feeding", TraceAnswer.Carried, 0)]
    public void The_answer_and_its_exit_code(string name, TraceAnswer answer, int exitCode)
    {
        var result = Traces.Of(name);
        Assert.Equal((answer, exitCode), (result.Answer, result.ExitCode));
    }

    [Fact]
    public void Every_pair_of_the_show_is_answered_as_the_graph_says()
    {
        var random = new Random(TestSeed.Value);
        foreach (var shut in (string[][])[[], ["mute-group/1/active: on"], ["group/4/on: off", "matrix/2/fader: -inf dB"], ["main/1/on: off", "input/15/polarity: on"]])
        {
            var state = Traces.Desk();
            foreach (var change in shut)
                state.Set(change.Split(": ")[0], change.Split(": ")[1]);
            var flow = Traces.Flow(state);
            var tracer = new Tracer(Traces.Plan, Traces.Map, state);
            int carried = 0, silent = 0;
            foreach (var source in Traces.Names.Sources)
            {
                foreach (var target in Traces.Names.Targets)
                {
                    var pair = tracer.Answer(source, target);
                    Assert.Empty(pair.Unseen);
                    for (var leg = 0; leg < target.Columns.Count; leg++)
                    {
                        var signed = flow.Graph.Signed(source.Nodes[0])[target.Columns[leg]];
                        var wanted = PairStates.Of(signed, flow.Graph.Total(source.Nodes[0])[target.Columns[leg]]);
                        Assert.Equal(wanted, pair.Legs[leg].State);
                        if (wanted == PairState.Carried)
                            Assert.Equal(Decibels.OfFactor(signed), pair.Legs[leg].Level);
                    }

                    var isCarried = pair.Legs.Any(leg => leg.State == PairState.Carried);
                    Assert.Equal(isCarried ? TraceAnswer.Carried : TraceAnswer.Silent, pair.Answer);
                    carried += isCarried ? 1 : 0;
                    silent += isCarried ? 0 : 1;
                    if (random.Next(12) == 0)
                        AssertWhole(tracer.Explain(source, target), source, flow);
                }
            }

            Assert.True(carried > 30 && silent > 30, $"{carried} carried, {silent} silent");
        }
    }

    // What a chain says adds up to what arrives, stage by stage, and a silent pair is told what stops it or that the plan makes no way.
    private static void AssertWhole(TracePair pair, TraceSource source, DeskRouting flow)
    {
        foreach (var way in pair.Ways)
            Assert.Equal(Decibels.OfFactor(way.Gain), way.Steps.Sum(step => step.Stages.Sum(stage => stage.Level)), 1e-9);
        foreach (var (column, leg) in pair.To.Columns.Zip(pair.Legs))
        {
            var sum = pair.Ways.Where(way => way.Column == column).Sum(way => way.Gain);
            Assert.Equal(flow.Graph.Signed(source.Nodes[0])[column], sum, 1e-9);
            Assert.Equal(leg.State == PairState.Closed, !pair.Ways.Any(way => way.Column == column));
        }

        if (pair.Answer == TraceAnswer.Silent)
            Assert.All(pair.ClosedWays, way => Assert.NotEmpty(way.Stops));
        Assert.Equal(pair.Answer == TraceAnswer.Carried, pair.Ways.Count > 0);
    }

    [Theory]
    [InlineData("muted")]
    [InlineData("pre-fader-wedge-muted")]
    [InlineData("ears-shut")]
    public void The_smallest_change_carries_the_pair_when_it_is_made(string name)
    {
        var result = Traces.Of(name);
        var pair = result.Pairs[0];
        Assert.NotNull(pair.Opening);
        foreach (var change in pair.Opening.Changes)
            result.State.Set(DemoShow.Profile.Settings[change.Setting].Path, change.Then);
        Assert.Equal(TraceAnswer.Carried, new Tracer(Traces.Plan, Traces.Map, result.State).Answer(pair.From, pair.To).Answer);
    }

    [Theory]
    [InlineData("Lectern", "room", "group/1/on", true)]
    [InlineData("Lectern", "room", "input/25/dca/1", true)]
    [InlineData("Lectern", "room", "mute-group/2/active", true)]
    [InlineData("Lectern", "room", "output/stage-1/source", false)] // the other output is seen whole
    [InlineData("Vocal 1", "room", "group/1/on", false)]
    [InlineData("Vocal 1", "wedges 2", "input/15/fader", false)]
    [InlineData("Vocal 1", "wedges 2", "input/15/send/mix/2/tap", true)]
    [InlineData("Kick", "room", "group/2/on", false)] // the other way is seen whole
    public void A_setting_that_was_not_seen_matters_where_a_way_hangs_on_it(string from, string to, string unseen, bool matters)
    {
        var result = Traces.Of(from, to, [], [unseen]);
        Assert.Equal(matters ? TraceAnswer.CannotTell : TraceAnswer.Carried, result.Answer);
        Assert.Equal(matters ? 3 : 0, result.ExitCode);
        if (matters)
            Assert.Equal([unseen], result.Pairs[0].Unseen);
    }

    [Fact]
    public void What_is_shut_for_certain_stays_silent_whatever_else_was_not_seen()
    {
        Assert.Equal(TraceAnswer.Silent, Traces.Of("Lectern", "room", ["input/25/on: off"], ["group/1/on", "main/1/fader"]).Answer);
        Assert.Equal(TraceAnswer.CannotTell, Traces.Of("Lectern", "room", ["group/1/on: off"], ["input/25/send/mix/15/on", "input/25/assign/group/3"]).Answer);
    }

    [Fact]
    public void Whatever_values_unseen_settings_have_that_are_said_not_to_matter_the_answer_stays()
    {
        var random = new Random(TestSeed.Value);
        var sources = Traces.Names.Sources.ToList();
        var targets = Traces.Names.Targets.ToList();
        var inputs = Traces.Flow(Traces.Desk()).Inputs.Where(id => DemoShow.Profile.Settings[id].Codec.Kind is ValueKind.Switch or ValueKind.Level).ToList();
        var decided = 0;
        for (var round = 0; round < 300; round++)
        {
            var (source, target) = (sources[random.Next(sources.Count)], targets[random.Next(targets.Count)]);
            var own = inputs.Where(id => DemoShow.Profile.Settings[id].Path.StartsWith(source.Path + "/", StringComparison.Ordinal)).ToList();
            var state = Traces.Desk();
            var unseen = Enumerable.Range(0, random.Next(1, 4)).Select(_ => random.Next(2) == 0 ? own[random.Next(own.Count)] : inputs[random.Next(inputs.Count)]).ToHashSet();
            foreach (var setting in unseen)
                state.MarkUnseen(setting, UnseenReason.NoReply);
            var answer = new Tracer(Traces.Plan, Traces.Map, state).Answer(source, target).Answer;
            if (answer == TraceAnswer.CannotTell)
                continue;
            decided++;
            for (var attempt = 0; attempt < 4; attempt++)
            {
                foreach (var setting in unseen)
                {
                    state.Apply(setting, DemoShow.Profile.Settings[setting].Codec.Kind == ValueKind.Switch ? SettingValue.Switch(random.Next(2) == 0)
                        : SettingValue.Level(random.Next(2) == 0 ? 0 : double.NegativeInfinity));
                }

                Assert.Equal(answer, new Tracer(Traces.Plan, Traces.Map, state).Answer(source, target).Answer);
            }
        }

        Assert.InRange(decided, 50, 299);
    }

    [Fact]
    public void Ways_of_opposed_polarity_cancel_each_other_and_nothing_is_proposed()
    {
        var profileText = DemoShow.ProfileText.Replace("  \"group/{g}/linked\":", "  \"group/{g}/polarity\":        { at: \"/pool/{g}/flip\", args: [yes] }\n  \"group/{g}/linked\":", StringComparison.Ordinal);
        var plan = DemoShow.CompileFor(profileText, DemoShow.PlanText, Phase.Show);
        var map = RoutingMap.Of(plan.Profile, plan);
        var names = new TraceNames(plan, map);
        var state = DemoShow.PlannedDesk(plan);
        foreach (var (setting, value) in PlannedState.Of(plan))
            state.Apply(setting, value);
        state.Set("group/2/fader", "0 dB");
        state.Set("group/2/polarity", "on");
        var pair = new Tracer(plan, map, state).Explain(names.Source("Kick", out _)!, names.Target("room", out _)!);
        Assert.Equal(TraceAnswer.Silent, pair.Answer);
        Assert.All(pair.Legs, leg => Assert.Equal(PairState.Cancelled, leg.State));
        Assert.Equal(4, pair.Ways.Count);
        Assert.Null(pair.Opening);
        var result = new TraceResult(new TraceSubject(plan, TraceOrigin.Plan, null, DateTimeOffset.UnixEpoch), map, TraceKind.Pair, [pair], null, state);
        Assert.Equal(1, result.ExitCode);
        Assert.StartsWith("AS PLANNED. SILENT: Kick (input 1) goes to room by several ways that cancel each other. Call the engineer.", TraceText.Write(result, width: 200), StringComparison.Ordinal);
    }

    [Fact]
    public void A_change_that_opens_one_side_only_says_which()
    {
        var opening = Traces.Of("ears-shut").Pairs[0].Opening!;
        Assert.Equal(["output/stage-9"], opening.Opens);
        Assert.Equal("In-ears out. Fader down first, here its send's: the way leaves Bass (input 9) before its fader, which does not act. Bring down send level of Bass (input 9) to Ears A L (mix 5), and the fader of Ears A L (mix 5).", opening.First);
    }

    [Fact]
    public void A_read_asks_for_all_that_the_answer_needs_and_for_less_than_the_desk_has()
    {
        var desk = new VirtualDesk(DemoShow.Profile);
        foreach (var (setting, value) in PlannedState.Of(Traces.Plan))
            desk.Set(setting, value);
        using var reader = new MemoryDeskReader(desk);
        var subject = new TraceSubject(Traces.Plan, TraceOrigin.VirtualDesk, "192.0.2.48:9048", DateTimeOffset.UnixEpoch);
        var result = new Trace(subject, Traces.Map, Traces.Names.Source("Lectern", out _), Traces.Names.Target("room", out _)).Read(reader, cancel: TestContext.Current.CancellationToken);
        Assert.Equal((TraceAnswer.Carried, ReadEnd.Complete), (result.Answer, result.Read!.End));
        Assert.Empty(result.Pairs[0].Unseen);
        Assert.True(result.Read.Questions < DemoShow.Profile.Endpoints.Count, $"{result.Read.Questions} of {DemoShow.Profile.Endpoints.Count}");
    }

    [Fact]
    public void A_silent_desk_and_another_desk_cannot_be_traced()
    {
        foreach (var end in (ReadEnd[])[ReadEnd.Silent, ReadEnd.AnotherDesk])
        {
            var result = new Trace(new TraceSubject(Traces.Plan, TraceOrigin.Desk, "192.0.2.48:9048", DateTimeOffset.UnixEpoch), Traces.Map, Traces.Names.Source("Lectern", out _), Traces.Names.Target("room", out _))
                .Of(Traces.Desk(), new ReadReport(end, 1, 0, 1, TimeSpan.Zero, []));
            Assert.Equal((TraceAnswer.CannotTell, 3), (result.Answer, result.ExitCode));
            Assert.StartsWith("CANNOT TELL", TraceText.Write(result), StringComparison.Ordinal);
        }
    }
}
