namespace StateWatch.Core.Tests.Auditing;

/// <summary>Cases of <see cref="RuleCases"/> about what arrives where: levels at feeds, ways through the desk, loops through the air.</summary>
internal static class FlowRuleCases
{
    // A gain of 34 - 10 = 24 dB from the lectern's socket to a wedge that rings at 34 dB: 10 dB are left.
    private const string LoopShow = """
        feeds: { wedges: { bus: mix 1-2, purpose: monitor, out: stage 5-6, tap: pre-fader, fader: 0 dB } }
        roles: { talker: { open-mic: true, to: { wedges 1: -10 dB } } }
        inputs: { 25: { name: Lectern, role: talker, from: stage 25, gain: 34 dB, fader: 0 dB }, 26-28: { name: "Guest {n}", role: talker, from: stage 26-28, gain: 34 dB, fader: 0 dB } }
        couplings: [{ mic: Lectern, feed: wedges 1, loss: 34 dB, measured: 2026-11-22, by: A. Engineer }]
        """;

    public static IReadOnlyList<RuleCase> All { get; } =
    [
        new("level-guard", "-NWW",
            [
                "input/25/fader = 5 dB", "socket/stage-26/gain = 36 dB -> level-guard:input/26/fader", "input/27/trim = 6 dB -> level-guard:input/27/fader",
                "dca/1/fader = 5 dB -> level-guard:input/25/fader, level-guard:input/26/fader, level-guard:input/27/fader, level-guard:input/28/fader@15s",
                "main/1/fader = -20 dB -> level-guard:input/25/fader, level-guard:input/26/fader, level-guard:input/27/fader, level-guard:input/28/fader@15s",
                "input/28/send/mix/1/level = -5 dB -> level-guard:input/28/fader@0s", "input/26/fader = -15 dB", "socket/stage-25/gain = 27 dB; input/25/fader = 8 dB -> level-guard:input/25/fader",
                "mix/1/fader = 5 dB -> level-guard:input/28/fader@0s",
            ],
            [
                "socket/stage-25/gain = 25 dB; input/25/fader = 5 dB ->", "input/25/fader = 4 dB ->", "input/26/fader = -9 dB ->", "input/25/on = off ->", "input/28/send/mix/1/level = -7 dB ->",
                "input/28/send/mix/1/level = -25 dB ->", "dca/1/fader = 3 dB; group/1/fader = 1 dB ->", "input/28/fader = 3 dB; input/28/send/mix/1/level = -10 dB ->", "mix/2/fader = 9 dB ->",
            ])
        {
            // The guards of the room ask for 15 s; the one of the wedge for none.
            Momentary = text => !text.Contains("mix/1", StringComparison.Ordinal),
            Plan = """
                baseline: build
                tolerance: { levels: 30 dB, gain: 30 dB, trim: 30 dB }
                dcas: { 1: Talkers }
                feeds:
                  room: { bus: main 1, out: stage 1-2, fader: 0 dB }
                  wedges: { bus: mix 1-2, purpose: monitor, out: stage 5-6, tap: pre-fader, fader: 0 dB }
                groups: { 1: { name: Voices, to: [room], fader: 0 dB } }
                roles: { talker: { dca: Talkers, gain: 30 dB, trim: 0 dB, fader: 0 dB, to: [Voices] } }
                inputs:
                  25-27: { name: "Talker {n}", role: talker, from: stage 25-27 }
                  28:    { name: Host, role: talker, from: stage 28, to: { wedges 1: -10 dB } }
                settings: { dca/1/fader: 0 dB }
                guard:
                  - { level-at: room, of: talker, up: 4 dB, down: 10 dB, for: 15 s }
                  - { level-at: wedges 1, of: Host, up: 3 dB, down: free }
                """,
        },
        // The room's fader behind the fills' way: at -3 dB the voices are 20 lg(1 + 10^(3/20)) = 7.65 dB over, at -2 dB 7.08 dB, at 3 dB 4.66 dB, at 4 dB 4.25 dB.
        // In the show faders alone are nobody's business.
        new("ratio-off", "-NW-",
            [
                "main/1/send/matrix/1/tap = post-fader; main/1/fader = -10 dB -> ratio-off:talker>guitars>fills>room",
                "main/1/send/matrix/1/tap = post-fader; main/1/fader = -60 dB -> ratio-off:talker>guitars>fills>room",
                "main/1/send/matrix/1/tap = post-fader; main/1/fader = -3 dB -> ratio-off:talker>guitars>fills>room",
                "main/1/send/matrix/1/tap = post-fader; main/1/fader = 4 dB -> ratio-off:talker>guitars>fills>room",
                "main/1/send/matrix/1/tap = post-fader; main/1/fader = 10 dB -> ratio-off:talker>guitars>fills>room",
            ],
            [
                "main/1/send/matrix/1/tap = post-fader; main/1/fader = -2 dB ->", "main/1/send/matrix/1/tap = post-fader; main/1/fader = 3 dB ->", "main/1/fader = -10 dB ->", "input/25/fader = -inf ->", "dca/1/fader = -20 dB ->", "input/10/fader = 10 dB ->", "matrix/1/fader = -20 dB ->",
            ]),
        new("feed-shut", "-NWU",
            ["main/1/on = off", "main/1/fader = -inf", "matrix/2/on = off", "output/stage-1/on = off", "output/local-4/on = off", "mix/15/fader = -inf", "matrix/5/on = off"],
            ["mix/1/on = off ->", "mix/1/fader = -inf ->", "main/1/fader = -55 dB ->", "output/stage-5/on = off ->", "group/4/on = off ->", "group/1/on = off -> must-carry-silent:group/1/on"])
        {
            // A fader may be in the middle of a fade; a mute is not.
            Momentary = text => text.Contains("fader", StringComparison.Ordinal),
        },
        new("feed-starved", "NWUU",
            [
                "main/1/send/matrix/5/on = off", "main/1/send/matrix/5/level = -inf", "group/1/send/matrix/1/on = off; main/1/send/matrix/1/on = off", "group/1/send/matrix/1/on = off; main/1/send/matrix/1/level = -inf",
                "group/1/send/matrix/1/level = -inf; main/1/send/matrix/1/level = -inf",
                "input/35/send/matrix/4/on = off; input/36/send/matrix/4/on = off; input/37/send/matrix/4/on = off; input/38/send/matrix/4/on = off; group/1/send/matrix/4/on = off; group/3/send/matrix/4/on = off",
            ],
            ["main/1/send/matrix/5/level = -30 dB -> drift:main/1/send/matrix/5/level", "main/1/send/matrix/1/on = off -> feed-source-off:main/1/send/matrix/1/on"]),
        new("feed-source-off", "NNWW",
            ["group/1/send/matrix/2/on = off", "group/1/send/matrix/2/level = -inf", "group/3/assign/main/1 = off", "fx-return/1/assign/main/1 = off", "input/1/send/mix/15/on = off", "input/33/send/matrix/3/level = -inf"],
            ["group/1/send/matrix/2/level = -55 dB -> drift:group/1/send/matrix/2/level", "input/1/assign/group/4 = off -> parallel-only:input/1/assign/group/4", "input/15/send/mix/1/on = off -> drift:input/15/send/mix/1/on", "group/8/assign/main/1 = off ->"]),
        new("muted-by-group", "NNWN",
            ["mute-group/1/active = on", "mute-group/2/active = on", "mute-group/3/active = on", "mute-group/4/active = on", "mute-group/5/active = on"],
            ["mute-group/6/active = on ->", "input/25/on = off ->"])
        {
            Plan = """
                mute-groups: { 1: Talk }
                roles: { talker: { mute-groups: [Talk] } }
                inputs: { 25: { name: Lectern, role: talker }, 26-29: { name: "Headset {n}", role: talker } }
                settings: { "mute-group/1-5/active": off }
                phases: { show: { settings: { "mute-group/1-5/active": off } } }
                """,
        },
        new("feedback-margin", "NWUU",
            [
                "input/25/send/mix/1/level = -2 dB -> feedback-margin:input/25>mix/1", "socket/stage-25/gain = 43 dB -> feedback-margin:input/25>mix/1", "mix/1/fader = 8 dB -> feedback-margin:input/25>mix/1",
                "input/25/send/mix/1/level = 5 dB -> feedback-margin:input/25>mix/1", "input/25/send/mix/1/level = -2 dB; input/25/fader = 0 dB -> feedback-margin:input/25>mix/1",
            ],
            ["input/25/send/mix/1/level = -6 dB -> drift:input/25/send/mix/1/level", "input/26/send/mix/1/level = -5 dB -> drift:input/26/send/mix/1/level", "input/25/send/mix/1/level = -40 dB -> drift:input/25/send/mix/1/level"])
        {
            Plan = LoopShow,
        },
        new("too-many-open", "-NWW",
            [
                "input/25/on = on; input/26/on = on; input/27/on = on -> too-many-open:mix/1", "input/25/on = on; input/26/on = on; input/28/on = on -> too-many-open:mix/1",
                "input/26/on = on; input/27/on = on; input/28/on = on -> too-many-open:mix/1", "input/25/on = on; input/26/on = on; input/27/on = on; input/28/on = on -> too-many-open:mix/1",
                "input/25/on = on; input/27/on = on; input/28/on = on -> too-many-open:mix/1",
            ],
            [
                "input/25/on = on; input/26/on = on ->", "input/28/on = on ->",
                // 1 + 1 + 0.1 + 0.1 of the loudest are 2.2 microphones.
                "input/25/on = on; input/26/on = on; input/27/on = on; input/28/on = on; input/27/send/mix/1/level = -20 dB; input/28/send/mix/1/level = -20 dB -> drift:input/27/send/mix/1/level, drift:input/28/send/mix/1/level",
            ])
        {
            Plan = """
                feeds: { wedges: { bus: mix 1-2, purpose: monitor, out: stage 5-6, tap: pre-fader, fader: 0 dB, most-open: 2 } }
                roles: { talker: { open-mic: true, on: off, to: { wedges 1: -10 dB } } }
                inputs: { 25: { name: Lectern, role: talker, from: stage 25, gain: 34 dB, fader: 0 dB }, 26-28: { name: "Guest {n}", role: talker, from: stage 26-28, gain: 34 dB, fader: 0 dB } }
                phases: { build: { free: [mutes] }, soundcheck: { free: [mutes] }, doors: { free: [mutes] }, show: { free: [mutes] } }
                """,
        },
        new("mic-too-hot", "--WW",
            ["input/28/send/mix/1/level = 0 dB", "input/15/send/mix/1/level = 3 dB", "input/15/send/mix/4/level = -2 dB", "input/29/send/mix/2/level = -5 dB", "input/16/send/mix/2/level = 10 dB"],
            ["input/28/send/mix/1/level = -11 dB -> drift:input/28/send/mix/1/level", "input/12/send/mix/1/level = 0 dB -> drift:input/12/send/mix/1/level", "input/15/send/mix/5/level = 5 dB -> drift:input/15/send/mix/5/level"]),
        new("direct-and-by-group", "NWWN",
            [
                "input/25/assign/main/1 = on", "input/15/assign/main/1 = on", "input/1/assign/main/1 = on", "input/35/assign/main/1 = on",
                "input/25/send/matrix/2/on = on; input/25/send/matrix/2/level = 0 dB", "input/26/send/matrix/4/on = on; input/26/send/matrix/4/level = -20 dB",
            ],
            ["input/25/send/matrix/2/on = on -> drift:input/25/send/matrix/2/on", "input/41/assign/main/1 = on -> talkback-public:input/41/assign/main/1", "input/33/assign/main/1 = on -> drift:input/33/assign/main/1"]),
        new("must-carry-silent", "NWUU",
            [
                "group/1/on = off", "group/3/on = off", "group/5/on = off", "group/1/fader = -inf; group/1/send/matrix/2/tap = post-fader; group/1/send/matrix/3/tap = post-fader", "input/25/assign/group/1 = off", "input/20/assign/group/3 = off",
                "group/1/on = off; group/3/on = off -> must-carry-silent:group/1/on, must-carry-silent:group/3/on",
                // A second way of opposed polarity, as late as the first: what an output adds comes after both have met, and 0.02 ms is one sample.
                "input/45/source = group 1; input/45/on = on; input/45/send/matrix/4/on = on; input/45/send/matrix/4/level = 0 dB; input/45/polarity = on -> must-carry-silent:input/45/source",
                "input/45/source = group 1; input/45/on = on; input/45/send/matrix/4/on = on; input/45/send/matrix/4/level = 0 dB; input/45/polarity = on; input/45/delay = 0.02 ms; output/local-4/delay = 5 ms -> must-carry-silent:input/45/source",
                // A group that hangs on a DCA or mute group where the plan does not want it, and dies with it.
                "group/1/dca/1 = on; dca/1/on = off -> must-carry-silent:group/1/dca/1", "group/1/dca/1 = on; dca/1/fader = -inf; group/1/send/matrix/4/tap = post-fader -> must-carry-silent:group/1/dca/1",
                "group/1/mute-group/1 = on; mute-group/1/active = on -> must-carry-silent:group/1/mute-group/1",
                // Graver than a planned way into a feed that is shut, and told in its place.
                "group/1/send/matrix/4/on = off", "group/1/send/matrix/4/level = -inf",
                "group/1/send/matrix/2/on = off; group/1/send/matrix/3/on = off -> must-carry-silent:group/1/send/matrix/2/on, must-carry-silent:group/1/send/matrix/3/on",
            ],
            [
                "input/45/source = group 1; input/45/on = on; input/45/send/matrix/4/on = on; input/45/send/matrix/4/level = 0 dB; input/45/polarity = on; input/45/delay = 0.05 ms -> parked-open:input/45/on, double-routed:input/45/source",
                // -1 dB is 0.891, so 0.109 of it is left, 19 dB below what is planned and far above -60 dB.
                "input/45/source = group 1; input/45/on = on; input/45/send/matrix/4/on = on; input/45/send/matrix/4/level = 0 dB; input/45/polarity = on; input/45/fader = -1 dB -> parked-open:input/45/on, double-routed:input/45/source",
                "input/45/source = group 1; input/45/on = on; input/45/send/matrix/4/on = on; input/45/send/matrix/4/level = 0 dB -> parked-open:input/45/on, double-routed:input/45/source", "group/1/dca/1 = on -> dca-member-unplanned:group/1/dca/1", "group/1/mute-group/1 = on -> mute-group-member-unplanned:group/1/mute-group/1",
                "group/4/on = off ->", "input/25/on = off ->", "input/25/fader = -inf ->", "dca/1/on = off ->", "group/1/fader = -inf -> drift:group/1/fader", "matrix/4/on = off -> feed-shut:matrix/4/on",
                "group/1/send/matrix/2/on = off -> feed-source-off:group/1/send/matrix/2/on", "input/1/assign/group/4 = off -> parallel-only:input/1/assign/group/4",
            ])
        {
            Momentary = text => text.StartsWith("group/1/fader", StringComparison.Ordinal),
        },
        new("parallel-only", "NWWW",
            ["input/1/assign/group/4 = off", "input/2/assign/group/4 = off", "input/3/assign/group/4 = off", "input/8/assign/group/4 = off", "input/5/assign/group/4 = off; input/5/fader = -20 dB"],
            [
                "input/1/assign/group/2 = off -> drift:input/1/assign/group/2", "input/1/assign/group/2 = off; input/1/assign/group/4 = off -> drift:input/1/assign/group/2, drift:input/1/assign/group/4",
                "input/9/assign/group/4 = off -> drift:input/9/assign/group/4", "group/4/assign/main/1 = off -> feed-source-off:group/4/assign/main/1",
            ]),
        new("carried-against-plan", "NWUU",
            [
                "input/39/assign/group/5 = on", "group/1/send/mix/15/on = on; group/1/send/mix/15/level = 0 dB -> carried-against-plan:group/1/send/mix/15/on", "input/40/assign/group/1 = on", "input/41/assign/group/3 = on", "desk/talk/1/to/group-1 = on",
                "input/33/send/matrix/4/on = on; input/33/send/matrix/4/level = 0 dB -> carried-against-plan:input/33/send/matrix/4/on",
                "input/39/send/mix/1/on = on; input/39/send/mix/1/level = 0 dB -> carried-against-plan:input/39/send/mix/1/on",
                "input/39/send/mix/13/on = on; input/39/send/mix/13/level = -20 dB; fx-return/1/on = on; fx-return/1/fader = 0 dB -> carried-against-plan:input/39/send/mix/13/on",
                "input/39/assign/group/5 = on; input/39/on = off",
            ],
            [
                "input/39/assign/group/8 = on -> drift:input/39/assign/group/8", "input/39/send/mix/1/on = on -> drift:input/39/send/mix/1/on", "input/39/assign/main/1 = on -> click-public:input/39/assign/main/1",
                "input/15/send/mix/5/on = on ->",
            ]),
        new("double-routed", "NWWN",
            [
                "input/17/assign/group/1 = on", "input/25/assign/group/3 = on", "input/15/assign/group/4 = on", "input/1/assign/group/3 = on",
                "main/1/send/matrix/4/on = on; main/1/send/matrix/4/level = 0 dB -> double-routed:main/1/send/matrix/4/on",
                "group/4/send/matrix/5/on = on; group/4/send/matrix/5/level = -10 dB -> double-routed:group/4/send/matrix/5/on",
            ],
            [
                "group/4/send/matrix/5/on = on; group/4/send/matrix/5/level = -30 dB -> drift:group/4/send/matrix/5/on", "input/17/assign/group/8 = on -> drift:input/17/assign/group/8",
                "input/25/assign/main/1 = on -> direct-and-by-group:input/25/assign/main/1",
            ]),
        // On this desk a circle can only close by way of effects, and of inputs that draw from buses.
        new("electrical-loop", "UUUU",
            [
                "fx-return/1/send/mix/14/on = on; fx-return/1/send/mix/14/level = 0 dB; fx-return/2/send/mix/13/on = on; fx-return/2/send/mix/13/level = 0 dB -> electrical-loop:fx-return/1>mix/14",
                "fx-return/1/send/mix/14/on = on; fx-return/1/send/mix/14/level = -20 dB; fx-return/2/send/mix/13/on = on; fx-return/2/send/mix/13/level = -5 dB -> electrical-loop:fx-return/1>mix/14",
                "fx-return/1/send/mix/14/on = on; fx-return/1/send/mix/14/level = 5 dB; fx-return/2/send/mix/13/on = on; fx-return/2/send/mix/13/level = 3 dB -> electrical-loop:fx-return/1>mix/14",
                "fx-return/1/send/mix/14/on = on; fx-return/1/send/mix/14/level = -60 dB; fx-return/2/send/mix/13/on = on; fx-return/2/send/mix/13/level = -60 dB -> electrical-loop:fx-return/1>mix/14",
                "fx-return/1/send/mix/14/on = on; fx-return/1/send/mix/14/level = 0 dB; fx-return/2/send/mix/13/on = on; fx-return/2/send/mix/13/level = 0 dB; fx-return/1/fader = -20 dB -> electrical-loop:fx-return/1>mix/14",
                "input/46/source = matrix 5; input/46/on = on; input/46/assign/main/1 = on -> electrical-loop:matrix/5>input/46",
                "input/47/source = group 3; input/47/on = on; input/47/assign/group/4 = on; input/48/source = group 4; input/48/on = on; input/48/assign/group/3 = on -> electrical-loop:group/3>input/47",
            ],
            ["fx-return/1/send/mix/14/on = on; fx-return/1/send/mix/14/level = 0 dB -> drift:fx-return/1/send/mix/14/on", "input/46/source = matrix 5; input/46/on = on; input/46/send/mix/9/on = on; input/46/send/mix/9/level = 0 dB -> parked-open:input/46/on"]),
        // A plain drift in the class "processing"; other classes have their own letters.
    ];
}
