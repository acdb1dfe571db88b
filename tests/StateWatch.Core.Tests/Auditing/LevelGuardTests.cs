using StateWatch.Core.Auditing;
using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;

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
        groups: { 1: { name: Loud, to: [room], fader: 0 dB }, 2: { name: Quiet, to: [room], fader: -inf } }
        inputs: { 1: { name: A, from: stage 1, gain: 30 dB, fader: 0 dB, TO } }
        """;

    [Theory]
    [InlineData("to: [room, Loud]", "room", "down: 3 dB", "input/1/assign/group/1 = off", "3.0 dB softer")] // one of two equal ways is gone
    [InlineData("to: [room, Loud]", "room", "down: 3.1 dB", "input/1/assign/group/1 = off", null)]
    [InlineData("to: [room, Loud]", "room", "up: 2.4 dB", "group/1/fader = 4 dB", "2.4 dB louder")] // 10 lg((1 + 10^0.4) / 2) = 2.44 dB
    [InlineData("to: [room, Loud]", "room", "up: 2.5 dB", "group/1/fader = 4 dB", null)]
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

    [Fact]
    public void Judging_a_guard_allocates_nothing()
    {
        var plan = Written.Plan(Show.Replace("TO", "to: { Loud: on, room: on, side: -10 dB }", StringComparison.Ordinal) + "\nguard: [{ level-at: room, of: A, up: 4 dB }, { level-at: side, of: A, up: 4 dB }]");
        var check = RuleCatalogue.Families.SelectMany(family => family.ChecksFor(new AuditFacts(plan))).Single(item => item.Rule.Id == "level-guard");
        var state = Changed(plan, "input/1/fader = 9 dB");
        Assert.True(check.IsViolated(state));
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (var i = 0; i < 100; i++)
                _ = check.IsViolated(state);
        }));
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
