using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// What a feed must not hang on: the other feed's fader, mute, DCA and EQ together. Groups that hold its buses, ways of several buses,
/// effects and inputs fed from a bus count; a source's own controls do not. Common practice, no source.
/// </summary>
public class FeedDependsTests
{
    // A desk on which a bus can be held by groups, go to a group again, and come back on an input.
    private static readonly DeskProfile Desk = Written.Profile(Written.Desk
        .Replace("plug:  { wire: string, points: { none: \"-\",", "plug:  { wire: string, points: { none: \"-\", \"main {n} left\": \"m{n}l\", \"mix {n}\": \"x{n}\",", StringComparison.Ordinal)
        .Replace("spot:  { wire: int, choices: { pre-fader: 0, post-fader: 1 } }", "spot:  { wire: int, choices: { pre-fader: 0, post-fader: 1, input: 2 } }", StringComparison.Ordinal)
        .Replace("args: [{ on: yes }, { level: half }] }", "args: [{ on: yes }, { level: half }, { tap: spot }] }", StringComparison.Ordinal) + """

          "group/{g}/on": { at: "/g/{g}/on", args: [yes], reset: on }
          "group/{g}/dca/{d}": { at: "/d/{d}/groups", arg: "0", bit: "{g-1}" }
          "group/{g}/mute-group/{q}": { at: "/q/{q}/groups", arg: "0", bit: "{g-1}" }
          "main/{r}/on": { at: "/r/{r}/on", args: [yes], reset: on }
          "main/{r}/fader": { at: "/r/{r}/fader", args: [half] }
          "main/{r}/dca/{d}": { at: "/d/{d}/mains", arg: "0", bit: "{r-1}" }
          "main/{r}/mute-group/{q}": { at: "/q/{q}/mains", arg: "0", bit: "{r-1}" }
          "matrix/{x}/dca/{d}": { at: "/d/{d}/matrices", arg: "0", bit: "{x-1}" }
          "main/{r}/send/mix/{m}": { at: "/r/{r}/mix/{m}", args: [{ on: yes }, { level: half }, { tap: spot }] }
          "mix/{m}/send/matrix/{x}": { at: "/m/{m}/matrix/{x}", args: [{ on: yes }, { level: half }, { tap: spot }] }
          "fx-return/{f}/name": { at: "/f/{f}/name", args: [word] }
          "fx-return/{f}/send/matrix/{x}": { at: "/f/{f}/matrix/{x}", args: [{ on: yes }, { level: half }, { tap: spot }] }
          "dca/{d}/fader": { at: "/d/{d}/fader", args: [half], reset: 0 dB }
          "dca/{d}/on": { at: "/d/{d}/on", args: [yes], reset: on }
          "mute-group/{g}/active": { at: "/q/{g}/active", args: [yes] }
        """);

    private const string Show = """
        dcas: { 1: Talk, 2: All }
        mute-groups: { 1: Panic, 2: Stage }
        tolerance: { levels: 30 dB }
        feeds:
          room: { bus: main 1, out: stage 1-2, ROOM }
          tape: { bus: matrix 1, purpose: overflow, out: stage 3, independent-of: room, TAPE, from: { Voices: 0 dB } }
          side: { bus: mix 1, purpose: monitor, out: stage 4, SIDE }
        groups: { 1: { name: Voices, to: [room], GROUP }, 2: { name: Rest, to: [room] } }
        inputs: { 1: { name: A, from: stage 1, dca: Talk, to: [Voices] }, 2: { name: B, from: stage 2, INPUT, to: [Rest] } }
        """;

    private static string With(params string[] parts)
    {
        var text = Show;
        foreach (var part in parts)
            text = text.Replace(part[..part.IndexOf(' ', StringComparison.Ordinal)], part[(part.IndexOf(' ', StringComparison.Ordinal) + 1)..], StringComparison.Ordinal);
        foreach (var left in (string[])["ROOM", "TAPE", "SIDE", "GROUP", "INPUT"])
            text = text.Replace($", {left}", "", StringComparison.Ordinal);
        return text;
    }

    [Theory]
    [InlineData("main/1/send/matrix/1/on = on; main/1/send/matrix/1/level = 0 dB", "main/1/send/matrix/1/on", "Tape hangs on room: room (main 1) goes to tape (matrix 1)")]
    [InlineData("main/1/send/matrix/1/on = on; main/1/send/matrix/1/level = 0 dB; main/1/send/matrix/1/tap = pre-fader", "main/1/send/matrix/1/on", "goes to tape")] // before the fader its EQ is still in it
    [InlineData("main/1/send/matrix/1/on = on; main/1/send/matrix/1/level = 0 dB; main/1/on = off", "main/1/send/matrix/1/on", "goes to tape")] // it will be unmuted again
    [InlineData("main/1/send/matrix/1/on = on; main/1/send/matrix/1/level = -inf", null, null)]
    [InlineData("input/1/on = off; dca/1/fader = -20 dB", null, null)] // a talker's own controls move it everywhere
    [InlineData("main/1/fader = -20 dB", null, null)]
    [InlineData("main/1/dca/1 = on", "main/1/dca/1", "Tape hangs on room: DCA 1 (Talk) moves room (main 1) and A (input 1), which goes to Voices (group 1), then tape (matrix 1)")]
    [InlineData("main/1/dca/2 = on", null, null)] // it holds nothing on the way
    [InlineData("main/1/dca/2 = on; matrix/1/dca/2 = on", "main/1/dca/2", "Tape hangs on room: DCA 2 (All) moves room (main 1) and tape (matrix 1)")]
    [InlineData("main/1/mute-group/1 = on; group/1/mute-group/1 = on", "main/1/mute-group/1", "Tape hangs on room: mute group 1 (Panic) moves room (main 1) and Voices (group 1), which goes to tape (matrix 1)")]
    [InlineData("main/1/mute-group/1 = on; group/2/mute-group/1 = on", null, null)]
    [InlineData("main/1/mute-group/1 = on; group/1/mute-group/1 = on; group/1/send/matrix/1/tap = input", null, null)] // taken before every mute
    [InlineData("input/1/source = main 1 left; main/1/send/mix/1/on = off", null, null)] // told as a wrong source
    public void A_way_or_a_group_is_told_at_what_makes_it(string changes, string? at, string? what) => Judge(With(), changes, at, what);

    [Theory] // The room goes to the side by plan; nobody planned the side to go to the tape.
    [InlineData("mix/1/send/matrix/1/on = on; mix/1/send/matrix/1/level = 0 dB", "mix/1/send/matrix/1/on", "Tape hangs on room: room (main 1) goes to side (mix 1), then tape (matrix 1)")]
    [InlineData("mix/2/send/matrix/1/on = on; mix/2/send/matrix/1/level = 0 dB", null, null)]
    public void On_a_long_way_the_connection_that_is_not_planned_answers(string changes, string? at, string? what) =>
        Judge(With() + "\nsettings: { main/1/send/mix/1/on: on, main/1/send/mix/1/level: 0 dB }", changes, at, what);

    [Fact]
    public void Reverberation_of_the_room_is_a_way_too() =>
        Judge(With() + "\neffects: { 1: { name: Hall, send: mix 4, return: fx-return 1, to: { tape: 0 dB } } }", "main/1/send/mix/4/on = on; main/1/send/mix/4/level = 0 dB", "main/1/send/mix/4/on",
            "Tape hangs on room: room (main 1) goes to Hall (mix 4), then Hall (effect return 1), then tape (matrix 1)");

    [Fact]
    public void Input_that_takes_its_signal_from_the_room_is_a_way_too() =>
        Judge(With() + "\nsettings: { input/3/source: main 1 left }", "input/3/assign/group/1 = on", "input/3/assign/group/1",
            "Tape hangs on room: room (main 1) goes to input 3, then Voices (group 1), then tape (matrix 1)");

    [Fact] // Both memberships are planned; until now the group's way left before every mute.
    public void Where_a_planned_group_begins_to_act_the_tap_answers() =>
        Judge(With("ROOM mute-groups: [Panic]", "GROUP mute-groups: [Panic]", "TAPE tap: input"), "group/1/send/matrix/1/tap = post-fader", "group/1/send/matrix/1/tap",
            "Tape hangs on room: mute group 1 (Panic) moves room (main 1) and Voices (group 1), which goes to tape (matrix 1)");

    [Fact]
    public void Where_a_planned_group_gets_a_way_the_connection_answers() =>
        Judge(With("ROOM mute-groups: [Panic]", "INPUT mute-groups: [Panic]"), "input/2/assign/group/1 = on", "input/2/assign/group/1",
            "Tape hangs on room: mute group 1 (Panic) moves room (main 1) and B (input 2), which goes to Voices (group 1), then tape (matrix 1)");

    [Theory]
    [InlineData("room (main 1) goes to matrix 1, but 'independent-of: room' stands at 9:75 (feed 'tape')", "from: { Voices: 0 dB }", "from: { Voices: 0 dB, room: 0 dB }")]
    [InlineData("room (main 1) goes to mix 1, then matrix 1, but", "inputs:", "settings: { main/1/send/mix/1/on: on, mix/1/send/matrix/1/on: on }\ninputs:")]
    [InlineData("room (main 1) goes to input 3, then group 1, then matrix 1, but", "inputs: {", "settings: { input/3/source: main 1 left, input/3/assign/group/1: on }\ninputs: {")]
    [InlineData("room (main 1) goes to mix 4, then fx-return 1, then matrix 1, but", "inputs:", "effects: { 1: { name: Hall, send: mix 4, return: fx-return 1, to: { tape: 0 dB } } }\nsettings: { main/1/send/mix/4/on: on }\ninputs:")]
    [InlineData("group 1 and main 1 (8:54) are both in mute group 1 (Panic), which moves 'tape' with 'room', but 'independent-of: room'", "ROOM", "mute-groups: [Panic]", "GROUP", "mute-groups: [Panic]")]
    [InlineData("input 1 and main 1 (8:45) are both on DCA 1 (Talk), which", "ROOM", "dca: Talk")]
    [InlineData("matrix 1 and main 1", "ROOM", "dca: All", "TAPE", "dca: All")]
    [InlineData(null, "ROOM", "dca: All")]
    [InlineData(null, "ROOM", "mute-groups: [Panic]", "GROUP", "mute-groups: [Panic]", "TAPE", "tap: input")]
    [InlineData(null, "ROOM", "mute-groups: [Panic]", "INPUT", "mute-groups: [Panic]")]
    public void Plan_that_breaks_its_own_word_is_refused_with_both_lines(string? message, params string[] changes)
    {
        var text = Show;
        for (var i = 0; i < changes.Length; i += 2)
            text = text.Replace(changes[i], changes[i + 1], StringComparison.Ordinal);
        foreach (var left in (string[])["ROOM", "TAPE", "SIDE", "GROUP", "INPUT"])
            text = text.Replace($", {left}", "", StringComparison.Ordinal);
        var errors = Written.ReadPlan(text, out var plan, desk: Desk).Where(item => item.Code.Level == Core.Documents.DiagnosticLevel.Error).ToList();
        Assert.Equal(message is null, plan is not null);
        if (message is not null)
            Assert.StartsWith(message, Assert.Single(errors, item => item.Code.Id == "constraint-broken").Message);
    }

    [Fact]
    public void Unplanned_membership_that_was_not_seen_cannot_be_told()
    {
        var plan = Plan(With());
        var state = DemoShow.PlannedDesk(plan);
        state.MarkUnseen(plan.Profile.Find("main/1/dca/1"), UnseenReason.NoReply);
        Assert.Contains(new Auditor(plan).Judge(state).CannotTell, item => (item.Rule, item.Subject) == ("feed-depends", "main/1/dca/1"));
    }

    private static void Judge(string lines, string changes, string? at, string? what)
    {
        var plan = Plan(lines);
        var state = DemoShow.PlannedDesk(plan);
        Assert.DoesNotContain(new Auditor(plan).Judge(state).Findings, finding => finding.Rule.Id == "feed-depends");
        foreach (var (path, value) in RuleCase.Changes(changes))
            state.Set(path, value);
        var findings = new Auditor(plan).Judge(state).Findings.Where(finding => finding.Rule.Id == "feed-depends").ToList();
        Assert.Equal(at is null ? [] : [at], findings.Select(finding => finding.Setting));
        if (what is not null)
            Assert.Contains(what, findings[0].Words.What);
    }

    private static ShowPlan Plan(string lines)
    {
        var items = Written.ReadPlan(lines, out var plan, desk: Desk);
        Assert.True(plan is not null, string.Join('\n', items.Select(DemoShow.Say)));
        return plan;
    }
}
