using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Tests.Documents;

/// <summary>Reads texts of tests as the program would.</summary>
internal static class Written
{
    /// <summary>A desk of everything the language tests need. Invented, as its addresses are.</summary>
    public const string Desk = """
        format: statewatch/desk/1
        desk: Alder 8
        link: { osc: udp, to: 127.0.0.1:9051 }
        strips: { input: 8, group: 4, mix: 4, main: { count: 1, stereo: true }, matrix: 2, fx-return: 1, dca: 2, mute-group: 2, socket: { stage: 8, usb: 2 }, output: { stage: 4 } }
        slots: { insert: 2, talk: 1 }
        codecs:
          half:  { wire: float, table: [[0, -inf], [0.2, -60], [1, 10]], steps: 176 }
          lift:  { wire: int, table: [[0, 0], [60, 60]], unit: dB, steps: 21 }
          sway:  { wire: float, table: [[0, -100], [1, 100]], unit: "%", steps: 201 }
          late:  { wire: float, unit: ms }
          yes:   { wire: int, switch: [0, 1] }
          spot:  { wire: int, choices: { pre-fader: 0, post-fader: 1 } }
          word:  { wire: string, length: 6, pad: space }
          plug:  { wire: string, points: { none: "-", "stage {n}": "s{n}", "usb {n}": "u{n}" } }
          drain: { wire: string, points: { none: "-", "main {n} left": "m{n}l", "main {n} right": "m{n}r", "mix {n}": "x{n}", "matrix {n}": "y{n}", "group {n}": "g{n}" } }
          unit:  { wire: string, choices: { none: "-", Squeeze: sq, Hiss: hi } }
        settings:
          "input/{i}/name": { at: "/i/{i}/name", args: [word] }
          "input/{i}/on": { at: "/i/{i}/on", args: [yes], reset: on }
          "input/{i}/fader": { at: "/i/{i}/fader", args: [half] }
          "input/{i}/pan": { at: "/i/{i}/pan", args: [sway] }
          "input/{i}/delay": { at: "/i/{i}/delay", args: [late] }
          "input/{i}/low-cut": { at: "/i/{i}/cut", args: [yes] }
          "input/{i}/source": { at: "/i/{i}/from", args: [plug] }
          "input/{i}/linked": { at: "/i/{i}/twin", args: [yes] }
          "input/{i}/insert/{s}": { at: "/i/{i}/unit/{s}", args: [unit] }
          "input/{i}/dca/{d}": { at: "/d/{d}/of", arg: "0", bit: "{i-1}" }
          "input/{i}/mute-group/{g}": { at: "/q/{g}/of", arg: "0", bit: "{i-1}" }
          "input/{i}/assign/main/{r}": { at: "/i/{i}/main", args: [yes] }
          "input/{i}/assign/group/{g}": { at: "/i/{i}/group/{g}", args: [yes] }
          "input/{i}/send/mix/{m}": { at: "/i/{i}/mix/{m}", args: [{ on: yes }, { level: half }, { tap: spot }] }
          "group/{g}/name": { at: "/g/{g}/name", args: [word] }
          "group/{g}/fader": { at: "/g/{g}/fader", args: [half] }
          "group/{g}/assign/main/{r}": { at: "/g/{g}/main", args: [yes] }
          "group/{g}/send/matrix/{x}": { at: "/g/{g}/matrix/{x}", args: [{ on: yes }, { level: half }] }
          "main/{r}/send/matrix/{x}": { at: "/r/{r}/matrix/{x}", args: [{ on: yes }, { level: half }] }
          "mix/{m}/name": { at: "/m/{m}/name", args: [word] }
          "mix/{m}/fader": { at: "/m/{m}/fader", args: [half] }
          "fx-return/{f}/assign/main/{r}": { at: "/f/{f}/main", args: [yes] }
          "dca/{d}/name": { at: "/d/{d}/name", args: [word] }
          "mute-group/{g}/name": { at: "/q/{g}/name", args: [word] }
          "socket/stage-{k}": { at: "/s/{k}", args: [{ gain: lift }, { phantom: yes }] }
          "output/stage-{k}/source": { at: "/o/{k}/from", args: [drain] }
          "output/stage-{k}/delay": { at: "/o/{k}/delay", args: [late] }
          "desk/oscillator": { at: "/tone", args: [yes] }
          "desk/talk/{t}/to/mix-{m}": { at: "/talk/{t}", arg: "0", bit: "{m-1}" }
        """;

    public static DeskProfile Alder { get; } = Profile(Desk);

    public static DeskProfile Profile(string text)
    {
        var diagnostics = ReadProfile(text, out var profile);
        Assert.Equal([], diagnostics.Select(DemoShow.Say));
        return profile!;
    }

    public static IReadOnlyList<Diagnostic> ReadProfile(string text, out DeskProfile? profile)
    {
        var diagnostics = new DiagnosticBag();
        profile = ProfileReader.Read(new SourceText("x.desk.yaml", text), diagnostics);
        Assert.Equal(profile is null, diagnostics.HasErrors);
        return diagnostics.Items;
    }

    /// <summary>A plan for <see cref="Alder"/>; the lines after <c>desk:</c> are given.</summary>
    public static IReadOnlyList<Diagnostic> ReadPlan(string lines, out ShowPlan? plan, Phase phase = Phase.Doors, DeskProfile? desk = null)
    {
        var diagnostics = new DiagnosticBag();
        var document = PlanReader.Read(new SourceText("x.plan.yaml", $"format: statewatch/show/1\nshow: Test\ndesk: alder.desk.yaml\n{lines}\n"), diagnostics);
        plan = document is null ? null : PlanCompiler.Compile(document, desk ?? Alder, phase, diagnostics, auditPlan: true);
        if (plan is not null)
            CueCheck.All(document!, plan.Profile, diagnostics);
        CouplingCheck.Dates(document?.Couplings ?? [], new DateOnly(2026, 12, 20), diagnostics);
        if (diagnostics.HasErrors)
            plan = null;
        WaiverCheck.Dates(document?.Waivers ?? [], new DateOnly(2026, 12, 20), diagnostics);
        Assert.Equal(plan is null, diagnostics.HasErrors);
        return diagnostics.Items;
    }

    public static ShowPlan Plan(string lines, Phase phase = Phase.Doors)
    {
        var diagnostics = ReadPlan(lines, out var plan, phase);
        Assert.Equal([], diagnostics.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(DemoShow.Say));
        return plan!;
    }

    /// <summary>What a plan allows a setting to be: one text, or lowest and highest; null when it does not care.</summary>
    public static string? Allowed(this ShowPlan plan, string path)
    {
        Assert.True(plan.Profile.Find(path) >= 0, path);
        if (plan.For(plan.Profile.Find(path)) is not { } expectation)
            return null;
        var (low, high) = (plan.Profile.Format(expectation.Low), plan.Profile.Format(expectation.High));
        return low == high ? low : $"{low} to {high}";
    }
}
