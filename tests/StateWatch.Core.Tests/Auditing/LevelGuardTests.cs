using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;
using StateWatch.Core.Tests.Documents;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// Guards measure the level at a feed. Two equal levels that add by power give 3.01 dB more, ten 10 dB: 10 lg n, the handbooks' rule for
/// sources that have nothing to do with each other. Which stages act before a tap is common practice, no source.
/// </summary>
public class LevelGuardTests
{
    private const string Show = """
        tolerance: { levels: 30 dB, gain: 30 dB }
        dcas: { 1: All }
        feeds:
          room: { bus: main 1, out: stage 1-2 }
          cue: { bus: mix 1, purpose: monitor, out: stage 3, tap: pre-fader, fader: 0 dB }
          side: { bus: mix 2, purpose: monitor, out: stage 4, tap: post-fader, fader: 0 dB }
        groups: { 1: { name: Loud, to: [room], fader: 0 dB }, 2: { name: Quiet, to: [room], fader: -inf }, 3: { name: Also, to: [room], fader: 0 dB } }
        inputs: { 1: { name: A, from: stage 1, gain: 30 dB, fader: 0 dB, TO } }
        """;

    [Theory]
    [InlineData("to: [Also, Loud]", "room", "down: 3 dB", "input/1/assign/group/1 = off", "3.0 dB softer")] // one of two equal ways is gone
    [InlineData("to: [Also, Loud]", "room", "down: 3.1 dB", "input/1/assign/group/1 = off", null)]
    [InlineData("to: [Also, Loud]", "room", "up: 2.4 dB", "group/1/fader = 4 dB", "2.4 dB louder")] // 10 lg((1 + 10^0.4) / 2) = 2.44 dB
    [InlineData("to: [Also, Loud]", "room", "up: 2.5 dB", "group/1/fader = 4 dB", null)]
    // Straight to the room a strip loses 3 dB on each side at its centre, as the law of constant power has it; a group without a pan loses nothing: 10 lg(1/3) = -4.77 dB.
    [InlineData("to: [room, Loud]", "room", "down: 4 dB", "input/1/assign/group/1 = off", "4.8 dB softer")]
    // Ways that the plan does not make count as well: twice the power is 3.01 dB, three times 4.77 dB.
    [InlineData("to: [Loud]", "room", "up: 3 dB", "input/1/assign/group/3 = on", "3.0 dB louder")]
    [InlineData("to: [Loud]", "room", "up: 3.1 dB", "input/1/assign/group/3 = on", null)]
    [InlineData("to: [Loud]", "room", "up: 1.7 dB", "input/1/assign/main/1 = on", "1.8 dB louder")] // 10 lg(3/2) = 1.76 dB
    [InlineData("to: [Loud]", "room", "up: 0 dB, down: 0.1 dB", "input/1/assign/group/1 = off; input/1/assign/group/3 = on", null)] // as loud by another way
    [InlineData("to: [Loud]", "room", "up: 1 dB, down: 1 dB", "input/1/pan = 100 %", null)] // a pan is no level
    [InlineData("to: [Loud]", "room", "up: 1 dB, down: 1 dB", "output/stage-1/source = none", null)] // a patch has its own rules
    [InlineData("to: [Loud]", "room", "up: 4 dB", "group/1/fader = 4 dB", null)] // exactly what is allowed
    [InlineData("to: [Loud]", "room", "up: 4 dB", "group/1/fader = 5 dB", "5.0 dB louder")]
    [InlineData("to: [Loud]", "room", "up: 0 dB", "socket/stage-1/gain = 24 dB; input/1/fader = 6 dB", null)] // gain down, fader up
    [InlineData("to: [Loud]", "room", "down: 20 dB", "input/1/fader = -inf", "does not arrive")]
    [InlineData("to: [Loud]", "room", "down: 20 dB", "input/1/assign/group/1 = off", "does not arrive")]
    [InlineData("to: [Loud]", "room", "up: 20 dB", "input/1/fader = -inf", null)] // down is free
    [InlineData("to: [Loud, Quiet]", "room", "up: 4 dB, down: 4 dB", "group/2/fader = -60 dB", null)] // a way planned at -inf adds what it brings: a millionth
    [InlineData("to: { cue: -10 dB }", "cue", "up: 4 dB, down: 4 dB", "input/1/fader = 10 dB", null)] // before the fader
    [InlineData("to: { cue: -10 dB }", "cue", "up: 4 dB, down: 4 dB", "input/1/send/mix/1/level = -5 dB", "5.0 dB louder")]
    [InlineData("to: { cue: -10 dB }", "cue", "up: 4 dB, down: 4 dB", "socket/stage-1/gain = 24 dB", "6.0 dB softer")] // gain moves monitors too
    [InlineData("to: { cue: -10 dB }", "cue", "up: 4 dB, down: 4 dB", "mix/1/fader = 5 dB", "5.0 dB louder")]
    [InlineData("to: { side: -10 dB }", "side", "up: 4 dB, down: 4 dB", "input/1/fader = 10 dB", "10.0 dB louder")] // after the fader
    [InlineData("to: [room]", "room", "up: 4 dB, down: 4 dB", "input/1/on = off", null)] // a mute is no level
    public void Level_at_a_feed_counts(string to, string feed, string limits, string changes, string? told)
    {
        var plan = Written.Plan(Show.Replace("TO", to, StringComparison.Ordinal) + $"\nguard: [{{ level-at: {feed}, of: A, {limits} }}]");
        var finding = new Auditor(plan).Judge(Changed(plan, changes)).Findings.FirstOrDefault(item => item.Rule.Id == "level-guard");
        if (told is null)
            Assert.Null(finding);
        else
            Assert.Contains(told, finding!.Words.What);
    }

    [Fact]
    public void Gone_is_said_in_words() =>
        Assert.Equal("A (input 1) does not arrive at room any more; 20 dB less is allowed", Found("to: [Loud]", "{ level-at: room, of: A, down: 20 dB }", "input/1/fader = -inf").Single().Words.What);

    [Theory]
    [InlineData("", Phase.Build, false)]
    [InlineData("", Phase.Soundcheck, false)]
    [InlineData("", Phase.Doors, true)]
    [InlineData("baseline: build", Phase.Soundcheck, true)]
    [InlineData("baseline: doors", Phase.Doors, false)]
    [InlineData("baseline: doors", Phase.Show, true)]
    public void Guards_are_judged_after_their_baseline(string baseline, Phase phase, bool judged)
    {
        var plan = Written.Plan(Show.Replace("TO", "to: [Loud]", StringComparison.Ordinal) + $"\n{baseline}\nguard: [{{ level-at: room, of: A, up: 4 dB }}]", phase);
        Assert.Equal(judged, new Auditor(plan).Judge(Changed(plan, "group/1/fader = 8 dB")).Findings.Any(item => item.Rule.Id == "level-guard"));
    }

    [Fact]
    public void Two_guards_of_one_input_are_one_finding_that_names_what_moved_furthest()
    {
        var finding = Assert.Single(Found("to: { Loud: on, side: -10 dB }", "{ level-at: room, of: A, up: 4 dB }, { level-at: side, of: A, up: 4 dB }", "group/1/fader = 5 dB; input/1/send/mix/2/level = 0 dB"));
        Assert.Equal(("level-guard:input/1/fader", "A (input 1) is 10.0 dB louder at side than planned; 4 dB more is allowed"), (finding.Id, finding.Words.What));
    }

    [Theory]
    [InlineData("to: [Loud]", "Loud, to: [room], fader: 0 dB", "Loud, to: [room]", "A cannot be guarded at 'room': the plan says nothing of group/1/fader")]
    [InlineData("to: { side: on }", ", tap: post-fader", "", "A cannot be guarded at 'side': the plan says nothing of input/1/send/mix/2/level, input/1/send/mix/2/tap")]
    [InlineData("to: [Loud], dca: All", "x", "x", null)]
    [InlineData("to: [Quiet]", "x", "x", "A cannot be guarded at 'room': the plan says nothing of a level above -inf")]
    [InlineData("to: [cue]", "x", "x", "A cannot be guarded at 'room': the plan says nothing of a way there")]
    public void Gain_without_a_planned_value_is_named_once_and_the_guard_is_not_judged(string to, string old, string replacement, string? message)
    {
        var feed = message?.Split('\'')[1] ?? "room";
        var items = Written.ReadPlan(Show.Replace("TO", to, StringComparison.Ordinal).Replace(old, replacement, StringComparison.Ordinal) + $"\nguard: [{{ level-at: {feed}, of: A, up: 4 dB }}]", out var plan);
        Assert.Equal(message is null ? [] : [message], items.Where(item => item.Code.Id == "guard-not-judged").Select(item => item.Message));
        Assert.Equal(message is not null, new Auditor(plan!).Judge(Changed(plan!, "desk/oscillator = off")).NotApplicable.Any(rule => rule.Id == "level-guard"));
    }

    // A record of the soundcheck, 3 dB above the plan: what then is at the plan's level is 3 dB softer. The watch counts the 15 s.
    [Fact]
    public void In_a_watch_guards_measure_from_the_record_of_their_baseline()
    {
        const string Guard = "\nguard: [{ level-at: room, of: A, up: 4 dB, down: 4 dB, for: 15 s }]";
        var text = Show.Replace("TO", "to: [Loud]", StringComparison.Ordinal) + Guard;
        var soundcheck = new LiveAudit(Written.Plan(text, Phase.Soundcheck), []);
        soundcheck.Judge(Changed(soundcheck.Plan, "group/1/fader = 3 dB"));
        var baseline = soundcheck.TakeBaseline();
        // Socket gain 30 dB, strip 0 dB, group 3 dB, on both outputs: 10 lg 2 more.
        Assert.Equal(("room", "input/1", 36.01), (Assert.Single(baseline).Feed, baseline[0].Source, Math.Round(baseline[0].Level, 2)));

        var plan = Written.Plan(text, Phase.Show);
        var show = new LiveAudit(plan, baseline);
        Assert.Null(Told(show, "group/1/fader = 7 dB"));
        var louder = Told(show, "group/1/fader = 8 dB");
        Assert.Equal(("A (input 1) is 5.0 dB louder at room than at the end of soundcheck; 4 dB more is allowed", Severity.Warning), (louder!.Words.What, louder.Severity));
        Assert.EndsWith("This is measured from the end of soundcheck.", louder.Words.Why);
        Assert.Equal("A (input 1) is 5.0 dB softer at room than at the end of soundcheck; 4 dB less is allowed", Told(show, "group/1/fader = -2 dB")!.Words.What);
        Assert.Equal(TimeSpan.FromSeconds(15), Assert.Single(AuditReadings.ChecksOf(show, new DeskState(plan.Profile)), check => check.Id == "level-guard:input/1/fader").OnDelay);

        // Without a record, or of a source that did not arrive then, it measures from the plan, and says so.
        foreach (var record in (BaselineLevel[][])[[], [new("room", "input/1", double.NegativeInfinity)], [new("room", "input/1", double.NaN)], [new("side", "input/1", 3)]])
        {
            var finding = Told(new LiveAudit(plan, record), "group/1/fader = 5 dB");
            Assert.Equal("A (input 1) is 5.0 dB louder at room than planned; 4 dB more is allowed", finding!.Words.What);
            Assert.EndsWith("There is no record of the end of soundcheck, so this is measured from the plan.", finding.Words.Why);
        }

        // A sweep sees a moment.
        Assert.Equal(Severity.Notice, Told(new LiveAudit(plan), "group/1/fader = 5 dB")!.Severity);
    }

    [Fact]
    public void What_the_plan_does_not_say_is_judged_where_there_is_a_record()
    {
        var text = Show.Replace("TO", "to: [Loud]", StringComparison.Ordinal).Replace("Loud, to: [room], fader: 0 dB", "Loud, to: [room]", StringComparison.Ordinal) + "\nguard: [{ level-at: room, of: A, up: 4 dB }]";
        var plan = Written.Plan(text, Phase.Show);
        Assert.Null(Told(new LiveAudit(plan, []), "group/1/fader = 9 dB"));
        Assert.NotNull(Told(new LiveAudit(plan, [new("room", "input/1", 33.01)]), "group/1/fader = 5 dB"));
    }

    [Fact]
    public void A_record_leaves_out_what_was_not_seen()
    {
        var plan = Written.Plan(Show.Replace("TO", "to: { Loud: on, side: -10 dB }", StringComparison.Ordinal) + "\nguard: [{ level-at: room, of: A, up: 4 dB }, { level-at: side, of: A, up: 4 dB }]", Phase.Soundcheck);
        var state = Changed(plan, "input/1/fader = 0 dB");
        state.MarkUnseen(plan.Profile.Find("group/1/fader"), UnseenReason.NoReply);
        var audit = new LiveAudit(plan, []);
        Assert.Throws<InvalidOperationException>(() => audit.TakeBaseline());
        audit.Judge(state);
        Assert.Equal("side", Assert.Single(audit.TakeBaseline()).Feed);
        Assert.Contains(plan.Profile.Find("group/1/fader"), audit.Inputs);
    }

    [Fact]
    public void A_guarded_level_near_its_limit_is_not_yet_back_and_one_far_beyond_is_in_another_band()
    {
        var plan = Written.Plan(Show.Replace("TO", "to: [Loud]", StringComparison.Ordinal) + "\nguard: [{ level-at: room, of: A, up: 4 dB }]");
        var audit = new LiveAudit(plan);
        var check = Enumerable.Range(0, audit.Count).Single(number => audit.RuleOf(number).Id == "level-guard");
        Assert.Equal(new EdgeDistance(false, 0), Distance("3 dB"));
        Assert.Equal(new EdgeDistance(true, 0), Distance("3.5 dB")); // 80 % are 3.2 dB
        Assert.Equal(new EdgeDistance(false, 0), Distance("5 dB"));
        Assert.Equal(new EdgeDistance(false, 1), Distance("8 dB")); // twice as far as allowed

        EdgeDistance Distance(string fader)
        {
            audit.AllChanged();
            audit.Judge(Changed(plan, $"group/1/fader = {fader}"));
            return audit.DistanceOf(check);
        }
    }

    [Fact]
    public void Judging_a_guard_allocates_nothing()
    {
        var plan = Written.Plan(Show.Replace("TO", "to: { Loud: on, room: on, side: -10 dB }", StringComparison.Ordinal) + "\nguard: [{ level-at: room, of: A, up: 4 dB }, { level-at: side, of: A, up: 4 dB }]");
        var desk = new Live.LiveDesk(plan);
        var fader = plan.Profile.Find("input/1/fader");
        SettingValue[] values = [.. new[] { "9 dB", "0 dB" }.Select(text => plan.Profile.Settings[fader].Codec.TryParse(text, out var value, out _) ? value : default)];
        var told = 0;
        Move();
        Move();
        Assert.Equal(4, told);
        Assert.Equal(0, Allocations.Least(Move));

        void Move()
        {
            foreach (var value in values)
            {
                desk.State.Apply(fader, value);
                desk.Live.Changed(fader);
                desk.Live.Judge(desk.State);
                foreach (var check in desk.Live.Reports)
                    told += desk.Live.RuleOf(check).Id == "level-guard" ? 1 : 0;
            }
        }
    }

    private static Finding? Told(LiveAudit audit, string changes)
    {
        audit.Judge(Changed(audit.Plan, changes));
        return audit.Result().Findings.FirstOrDefault(static item => item.Rule.Id == "level-guard");
    }

    private static IEnumerable<Finding> Found(string to, string guards, string changes)
    {
        var plan = Written.Plan(Show.Replace("TO", to, StringComparison.Ordinal) + $"\nguard: [{guards}]");
        return new Auditor(plan).Judge(Changed(plan, changes)).Findings.Where(item => item.Rule.Id == "level-guard");
    }

    private static DeskState Changed(ShowPlan plan, string changes)
    {
        var state = DemoShow.PlannedDesk(plan);
        foreach (var (path, value) in RuleCase.Changes(changes))
            state.Set(path, value);
        return state;
    }
}
