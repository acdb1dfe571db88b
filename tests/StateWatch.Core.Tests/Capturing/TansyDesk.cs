namespace StateWatch.Core.Tests.Capturing;

/// <summary>A small invented desk with level meters, and a plan with two microphones, a room and two wedges.</summary>
internal static class TansyDesk
{
    public const string Desk = """
        format: statewatch/desk/1
        desk: Tansy 4
        link: { osc: udp, to: 127.0.0.1:9052 }
        strips: { input: 4, group: 1, mix: 3, main: { count: 1, stereo: true }, dca: 1, mute-group: 1, socket: { stage: 4 }, output: { stage: 5 } }
        slots: { insert: 1 }
        codecs:
          lean:  { wire: float, table: [[0, -inf], [0.2, -60], [1, 10]], steps: 1751 }
          glow:  { wire: float, table: [[0, -inf], [0.1, -100], [1, 0]], steps: 2001 }
          lift:  { wire: int, table: [[0, 0], [60, 60]], unit: dB, steps: 61 }
          nudge: { wire: float, unit: dB }
          sway:  { wire: float, table: [[0, -100], [1, 100]], unit: "%", steps: 201 }
          yes:   { wire: int, switch: [0, 1] }
          spot:  { wire: int, choices: { pre-fader: 0, post-fader: 1 } }
          plug:  { wire: string, points: { none: "-", "stage {n}": "s{n}" } }
          drain: { wire: string, points: { none: "-", "main {n} left": "m{n}l", "main {n} right": "m{n}r", "mix {n}": "x{n}" } }
          unit:  { wire: string, choices: { none: "-", Hiss: hi } }
          word:  { wire: string, length: 12, pad: space }
        settings:
          "input/{i}/name": { at: "/bed/{i}/word", args: [word] }
          "input/{i}/on": { at: "/bed/{i}/awake", args: [yes], reset: on }
          "input/{i}/fader": { at: "/bed/{i}/lean", args: [lean] }
          "input/{i}/pan": { at: "/bed/{i}/sway", args: [sway] }
          "input/{i}/trim": { at: "/bed/{i}/nudge", args: [nudge] }
          "input/{i}/source": { at: "/bed/{i}/root", args: [plug] }
          "input/{i}/eq/on": { at: "/bed/{i}/curve", args: [yes] }
          "input/{i}/gate/on": { at: "/bed/{i}/hedge", args: [yes] }
          "input/{i}/comp/on": { at: "/bed/{i}/press", args: [yes] }
          "input/{i}/automix": { at: "/bed/{i}/share", args: [yes] }
          "input/{i}/insert/{s}": { at: "/bed/{i}/graft", args: [unit] }
          "input/{i}/insert/{s}/in": { at: "/bed/{i}/graft/in", args: [yes], reset: on }
          "input/{i}/signal": { at: "/bed/{i}/glow", args: [glow] }
          "input/{i}/dca/{d}": { at: "/rake/{d}/of", arg: "0", bit: "{i-1}" }
          "input/{i}/mute-group/{g}": { at: "/frost/{g}/of", arg: "0", bit: "{i-1}" }
          "input/{i}/assign/main/{r}": { at: "/bed/{i}/main", args: [yes] }
          "input/{i}/assign/group/{g}": { at: "/bed/{i}/group", args: [yes] }
          "input/{i}/send/mix/{m}": { at: "/bed/{i}/mix/{m}", args: [{ on: yes }, { level: lean }, { tap: spot }] }
          "group/{g}/name": { at: "/row/{g}/word", args: [word] }
          "group/{g}/on": { at: "/row/{g}/awake", args: [yes], reset: on }
          "group/{g}/fader": { at: "/row/{g}/lean", args: [lean], reset: 0 dB }
          "group/{g}/comp/on": { at: "/row/{g}/press", args: [yes] }
          "group/{g}/assign/main/{r}": { at: "/row/{g}/main", args: [yes] }
          "mix/{m}/on": { at: "/ditch/{m}/awake", args: [yes], reset: on }
          "mix/{m}/fader": { at: "/ditch/{m}/lean", args: [lean], reset: 0 dB }
          "main/{r}/on": { at: "/gate/{r}/awake", args: [yes], reset: on }
          "main/{r}/fader": { at: "/gate/{r}/lean", args: [lean], reset: 0 dB }
          "dca/{d}/name": { at: "/rake/{d}/word", args: [word] }
          "dca/{d}/on": { at: "/rake/{d}/awake", args: [yes], reset: on }
          "dca/{d}/fader": { at: "/rake/{d}/lean", args: [lean], reset: 0 dB }
          "mute-group/{g}/active": { at: "/frost/{g}/fallen", args: [yes] }
          "socket/stage-{k}/gain": { at: "/seed/{k}/lift", args: [lift] }
          "socket/stage-{k}/pad": { at: "/seed/{k}/pad", args: [yes] }
          "output/stage-{k}/source": { at: "/shed/{k}/from", args: [drain] }
          "output/stage-{k}/on": { at: "/shed/{k}/awake", args: [yes], reset: on }
          "output/stage-{k}/limiter/in": { at: "/shed/{k}/lid", args: [yes] }
          "output/stage-{k}/signal": { at: "/shed/{k}/glow", args: [glow] }
        """;

    public const string PlanLines = """
        feeds:
          room: { bus: main 1, out: stage 1-2, limiter: in }
          wedges: { bus: mix 1-2, purpose: monitor, out: stage 3-4, limiter: in }
          ears: { bus: mix 3, purpose: in-ears, out: stage 5 }
        groups: { 1: { name: Speech, to: [room], fader: 0 dB } }
        dcas: { 1: Talk }
        roles: { voice: { open-mic: true, dca: Talk, fader: 0 dB, gain: 30 dB, to: { room: on, wedges 1: -10 dB, ears: -20 dB } } }
        inputs:
          1: { name: Lectern, role: voice, from: stage 1 }
          2: { name: Table, role: voice, from: stage 2 }
        """;
}
