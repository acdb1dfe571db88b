using System.Security.Cryptography;
using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Watching;

namespace StateWatch.Tests.Watches.Load;

/// <summary>
/// A desk of 20,280 settings, an address each, and a plan that looks at all of them: 240 inputs with a switch and a level to each of 40 wedges, and a switch,
/// a fader, a name and a patch of their own. It sends what changes.
/// </summary>
internal static class GeneratedShow
{
    public const int Inputs = 240;
    public const int Mixes = 40;

    private const string Desk = """
        format: statewatch/desk/1
        desk: Bracken 240
        identify: { ask: /who, expect: [bracken] }
        link: { osc: udp, to: 127.0.0.1:9054 }
        strips: { input: 240, mix: 40, socket: { stage: 240 }, output: { stage: 40 } }
        codecs:
          lean: { wire: float, table: [[0, -inf], [0.2, -60], [1, 10]], steps: 1751 }
          yes:  { wire: int, switch: [0, 1] }
          plug: { wire: string, points: { none: "-", "stage {n}": "s{n}" } }
          drain: { wire: string, points: { none: "-", "mix {n}": "x{n}" } }
          word: { wire: string, length: 12, pad: space }
        settings:
          "input/{i}/name": { at: "/bed/{i}/word", args: [word] }
          "input/{i}/on": { at: "/bed/{i}/awake", args: [yes], reset: on }
          "input/{i}/fader": { at: "/bed/{i}/lean", args: [lean] }
          "input/{i}/source": { at: "/bed/{i}/root", args: [plug] }
          "input/{i}/send/mix/{m}/on": { at: "/bed/{i}/mix/{m}/open", args: [yes] }
          "input/{i}/send/mix/{m}/level": { at: "/bed/{i}/mix/{m}/lean", args: [lean] }
          "mix/{m}/on": { at: "/ditch/{m}/awake", args: [yes], reset: on }
          "mix/{m}/fader": { at: "/ditch/{m}/lean", args: [lean], reset: 0 dB }
          "output/stage-{k}/source": { at: "/shed/{k}/from", args: [drain] }
        follow: { keep-alive: { ask: /stay, every: 3 s, lasts: 10 s }, round: 300 s, lost-after: 30 s }
        """;

    private const string Plan = """
        format: statewatch/show/1
        show: Bracken
        desk: bracken.desk.yaml
        tolerance: { levels: 1 dB }
        feeds:
          wedges: { bus: mix 1-40, purpose: monitor, out: stage 1-40, fader: 0 dB }
        roles:
          line: { fader: 0 dB, to: { wedges: -10 dB } }
        inputs:
          1-240: { name: "Line {n}", role: line, from: stage 1-240 }
        """;

    /// <summary>Compiles it anew, so that no two desks share anything.</summary>
    public static WatchedPlan Compile()
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("bracken.desk.yaml", Desk), diagnostics);
        var document = PlanReader.Read(new SourceText("bracken.plan.yaml", Plan), diagnostics);
        Assert.False(diagnostics.HasErrors, string.Join("\n", diagnostics.Items.Select(static item => $"{item.At}: {item.Message}")));
        var plan = new WatchedPlan(document!, profile!, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Desk + Plan))));
        Assert.False(plan.HasFaults(diagnostics), string.Join("\n", diagnostics.Items.Select(static item => $"{item.At}: {item.Message}")));
        return plan;
    }
}
