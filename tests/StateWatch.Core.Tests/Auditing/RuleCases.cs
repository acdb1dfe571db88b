namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// What fires each rule on the clean demo desk, and what must not. A case is "setting = value; … -> ids"; the ids are all that may be
/// found. Letters are the severities of build, soundcheck, doors and show that common practice gives each fault (no source).
/// </summary>
internal static class RuleCases
{
    public static IReadOnlyList<RuleCase> All { get; } =
    [
        new("wrong-show-file", "WUUU",
            ["desk/show-file = Midsummer", "desk/show-file = midwinter", "desk/show-file = ", "desk/show-file = Midwinter 2", "desk/show-file = Midwinte; desk/scene = Finale"],
            ["desk/scene = Midwinter ->", "desk/edited = on ->"]),
        new("playback-as-inputs", "NNUU",
            [
                "desk/input-bank = recorder", "desk/input-bank = recorder; desk/edited = on", "desk/input-bank = recorder; desk/scene = Tape",
                "desk/input-bank = recorder; input/47/source = usb 1", "desk/input-bank = recorder; input/1/comp/on = on",
            ],
            ["input/47/source = usb 1 ->"]),
        new("oscillator-on", "UNUU",
            [
                "desk/oscillator = on", "desk/oscillator = on; desk/edited = on", "desk/oscillator = on; group/8/on = off", "desk/oscillator = on; mix/16/on = off",
                "desk/oscillator = on; desk/scene = Noise",
            ],
            ["desk/scene = Oscillator ->"]),
        new("solo-in-place-armed", "-NUU",
            [
                "desk/solo-in-place = on", "desk/solo-in-place = on; desk/edited = on", "desk/solo-in-place = on; group/8/on = off",
                "desk/solo-in-place = on; input/1/on = off", "desk/solo-in-place = on; desk/scene = Solo",
            ],
            ["input/1/on = off ->"]),
        new("external-mute-on", "NWUU",
            [
                "desk/external-mute = on", "desk/external-mute = on; desk/edited = on", "desk/external-mute = on; group/8/on = off",
                "desk/external-mute = on; mute-group/1/active = on", "desk/external-mute = on; desk/scene = Fire",
            ],
            ["mute-group/1/active = on ->", "group/8/on = off ->"]),
        new("clock-unlocked", "WUUU",
            [
                "desk/clock-locked = off", "desk/clock-locked = off; desk/edited = on", "desk/clock-locked = off; group/8/on = off", "desk/clock-locked = off; input/1/on = off",
                "desk/clock-locked = off; desk/scene = Word",
            ],
            ["desk/sample-rate = 96 kHz -> drift:desk/sample-rate"]),
        new("talkback-public", "WWUU",
            [
                "desk/talk/1/to/main-1 = on", "desk/talk/2/to/main-1 = on", "desk/talk/2/to/mix-15 = on", "desk/talk/1/to/matrix-5 = on", "input/41/assign/main/1 = on",
                "input/42/send/matrix/2/on = on; input/42/send/matrix/2/level = -20 dB -> talkback-public:input/42/send/matrix/2/on",
                "input/41/send/mix/15/on = on; input/41/send/mix/15/level = -60 dB -> talkback-public:input/41/send/mix/15/on",
            ],
            [
                "desk/talk/2/to/mix-1 = on -> drift:desk/talk/2/to/mix-1", "input/42/send/matrix/2/on = on -> drift:input/42/send/matrix/2/on",
                "input/41/send/matrix/2/level = 0 dB ->", "input/41/send/mix/9/on = on -> drift:input/41/send/mix/9/on",
            ]),
        new("cue-not-open", "NWUU",
            [
                "input/25/on = off", "input/25/fader = -inf -> cue-not-open:input/25/on", "mute-group/2/active = on -> cue-not-open:input/25/on, cue-not-open:input/28/on, muted-by-group:mute-group/2/active",
                "dca/1/on = off -> cue-not-open:input/25/on, cue-not-open:input/28/on", "dca/1/fader = -inf -> cue-not-open:input/25/on, cue-not-open:input/28/on",
                "input/25/mute-group/1 = on; mute-group/1/active = on -> cue-not-open:input/25/on", "input/25/on = off; input/25/fader = -inf; mute-group/2/active = on; dca/1/on = off; input/28/on = off -> cue-not-open:input/25/on, cue-not-open:input/28/on, muted-by-group:mute-group/2/active",
                "input/28/on = off; input/29/on = off; input/30/on = off; input/31/on = off",
            ],
            [
                "input/28/on = off ->", "input/28/on = off; input/29/on = off; input/31/fader = -inf ->", "input/25/fader = -60 dB ->", "mute-group/1/active = on ->", "dca/8/on = off ->",
                "input/25/mute-group/1 = on -> mute-group-member-unplanned:input/25/mute-group/1", "input/26/on = off ->",
            ])
        {
            AtCue = true,
        },
        new("cue-not-closed", "NWUU",
            [
                "input/20/on = on", "input/15/on = on", "group/3/on = on", "fx-return/1/on = on", "input/20/on = on; input/20/fader = -60 dB",
                "input/20/on = on; input/20/mute-group/1 = off; mute-group/1/active = on -> cue-not-closed:input/20/on",
                "input/20/on = on; input/20/dca/2 = off; dca/2/fader = -inf -> cue-not-closed:input/20/on",
            ],
            [
                "input/20/on = on; mute-group/1/active = on ->", "input/20/on = on; input/20/fader = -inf ->", "input/20/on = on; dca/2/on = off ->", "input/20/on = on; dca/2/fader = -inf ->",
                "input/12/on = on ->", "input/20/fader = 0 dB ->", "input/20/mute-group/1 = off -> mute-group-member-missing:input/20/mute-group/1",
            ])
        {
            AtCue = true,
        },
        new("parked-open", "WUUU",
            [
                "input/45/on = on; input/45/assign/main/1 = on -> parked-open:input/45/on", "input/46/on = on; input/46/assign/group/3 = on -> parked-open:input/46/on",
                "input/47/on = on; input/47/send/mix/5/on = on -> parked-open:input/47/on", "input/48/on = on; input/48/send/matrix/4/on = on -> parked-open:input/48/on",
                "input/32/on = on; input/32/assign/main/1 = on; input/32/send/mix/1/on = on -> parked-open:input/32/on",
            ],
            ["input/45/on = on -> drift:input/45/on", "input/45/assign/main/1 = on -> drift:input/45/assign/main/1", "input/45/fader = 0 dB ->", "input/45/source = stage 40 ->"]),
        new("click-public", "WWUU",
            [
                "input/39/assign/main/1 = on", "input/40/assign/main/1 = on",
                "input/39/send/matrix/4/on = on; input/39/send/matrix/4/level = 0 dB -> click-public:input/39/send/matrix/4/on",
                "input/40/send/matrix/5/on = on; input/40/send/matrix/5/level = -55 dB -> click-public:input/40/send/matrix/5/on",
                "input/39/send/mix/15/on = on; input/39/send/mix/15/level = 3 dB -> click-public:input/39/send/mix/15/on",
            ],
            [
                "input/39/assign/group/5 = on -> carried-against-plan:input/39/assign/group/5", "input/39/send/mix/1/on = on; input/39/send/mix/1/level = 0 dB -> carried-against-plan:input/39/send/mix/1/on",
                "input/39/send/matrix/4/on = on -> drift:input/39/send/matrix/4/on",
            ]),
        new("subs-on-open-mic", "WWUU",
            [
                "input/15/send/mix/15/on = on; input/15/send/mix/15/level = 0 dB -> subs-on-open-mic:input/15/send/mix/15/on",
                "input/20/send/mix/15/on = on; input/20/send/mix/15/level = -5 dB -> subs-on-open-mic:input/20/send/mix/15/on",
                "input/25/send/mix/15/on = on; input/25/send/mix/15/level = -60 dB -> subs-on-open-mic:input/25/send/mix/15/on",
                "input/31/send/mix/15/on = on; input/31/send/mix/15/level = 10 dB -> subs-on-open-mic:input/31/send/mix/15/on",
                "input/34/send/mix/15/on = on; input/34/send/mix/15/level = -20 dB -> subs-on-open-mic:input/34/send/mix/15/on",
            ],
            [
                "input/20/send/mix/15/on = on -> drift:input/20/send/mix/15/on", "input/20/send/mix/15/level = 0 dB ->",
                "input/10/send/mix/15/on = on; input/10/send/mix/15/level = 0 dB -> drift:input/10/send/mix/15/on",
                "input/20/send/mix/16/on = on; input/20/send/mix/16/level = 0 dB -> drift:input/20/send/mix/16/on",
            ]),
        new("monitor-post-fader", "NWWW",
            [
                "input/12/send/mix/1/tap = post-fader", "input/13/send/mix/3/tap = post-fader", "input/15/send/mix/4/tap = post-fader", "input/39/send/mix/5/tap = post-fader",
                "input/42/send/mix/8/tap = post-fader",
            ],
            ["input/12/send/mix/1/tap = pre-eq -> drift:input/12/send/mix/1/tap", "input/1/send/mix/1/tap = post-fader -> drift:input/1/send/mix/1/tap", "input/12/send/mix/9/tap = post-fader ->"]),
        new("effects-pre-fader", "NNWW",
            [
                "input/15/send/mix/13/tap = pre-fader", "input/16/send/mix/14/tap = pre-fader", "input/17/send/mix/13/tap = pre-eq", "input/24/send/mix/13/tap = pre-fader",
                "input/2/send/mix/14/tap = pre-eq",
            ],
            ["input/1/send/mix/13/tap = pre-fader -> drift:input/1/send/mix/13/tap", "input/1/send/mix/15/tap = pre-fader -> drift:input/1/send/mix/15/tap"]),
        new("insert-on-neighbour", "NWWW",
            [
                "input/25/insert/1 = none; input/24/insert/1 = Hush A -> insert-on-neighbour:input/25/insert/1",
                "input/28/insert/1 = none; input/29/insert/1 = Hush D -> insert-on-neighbour:input/28/insert/1",
                "group/2/insert/1 = none; group/1/insert/1 = Squash -> insert-on-neighbour:group/2/insert/1",
                "group/2/insert/1 = Glue; group/3/insert/1 = Squash -> insert-on-neighbour:group/2/insert/1",
                "input/25/insert/1 = none; input/24/insert/1 = Hush A; input/26/insert/1 = Glue -> insert-on-neighbour:input/25/insert/1, insert-missing:input/26/insert/1",
                "input/26/insert/1 = Hush C; input/27/insert/1 = Hush B -> insert-on-neighbour:input/26/insert/1, insert-on-neighbour:input/27/insert/1",
            ],
            [
                "input/25/insert/1 = none; input/23/insert/1 = Hush A -> insert-without-unit:input/25/insert/1",
                "input/25/insert/1 = Polish; input/24/insert/1 = Hush B -> insert-missing:input/25/insert/1, insert-twice:input/24/insert/1", "input/24/insert/1 = Hush A -> insert-twice:input/24/insert/1",
            ]),
        new("insert-missing", "NWWW",
            [
                "input/25/insert/1 = Polish", "input/26/insert/1 = Glue", "input/27/insert/1 = Polish", "input/28/insert/1 = none; input/28/insert/1/in = off -> drift:input/28/insert/1/in, insert-missing:input/28/insert/1",
                "group/2/insert/1 = Glue",
            ],
            ["input/25/insert/1/in = off -> drift:input/25/insert/1/in", "input/1/insert/1 = Polish ->", "input/25/insert/2 = Glue ->"]),
        new("mute-group-member-missing", "NWUU",
            ["input/19/mute-group/1 = off", "input/1/mute-group/1 = off", "input/25/mute-group/2 = off", "input/24/mute-group/1 = off", "input/35/mute-group/4 = off"],
            ["mute-group/1/active = on ->", "input/48/mute-group/1 = on ->"]),
        new("mute-group-member-unplanned", "NWUU",
            ["input/19/mute-group/2 = on", "input/39/mute-group/1 = on", "group/1/mute-group/1 = on", "fx-return/2/mute-group/1 = on", "input/33/mute-group/6 = on"],
            ["input/48/mute-group/1 = on ->", "fx-return/3/mute-group/1 = on ->"]),
        new("dca-member-missing", "NWWW",
            ["input/1/dca/4 = off", "input/9/dca/5 = off", "input/35/dca/6 = off", "fx-return/2/dca/7 = off", "input/15/dca/3 = off; input/15/dca/2 = on -> dca-member-missing:input/15/dca/3, dca-member-unplanned:input/15/dca/2"],
            ["dca/1/fader = -20 dB ->", "dca/1/on = off ->"]),
        new("dca-member-unplanned", "NWWW",
            ["input/25/dca/2 = on", "input/1/dca/1 = on", "group/5/dca/6 = on", "fx-return/1/dca/1 = on", "input/39/dca/8 = on"],
            ["input/45/dca/1 = on ->", "group/8/dca/1 = on ->"]),
        new("source-missing", "WUUU",
            ["input/1/source = none", "input/16/source = none", "input/26/source = none", "input/35/source = none", "input/43/source = none"],
            ["input/25/source/alternate = none -> drift:input/25/source/alternate", "input/45/source = none ->"]),
        new("source-wrong", "WUUU",
            [
                "input/1/source = stage 37", "input/16/source = stage 38", "input/26/source = local 7", "input/35/source = usb 20", "input/43/source = local 8",
                "input/1/source = stage 2; input/2/source = stage 1 -> source-wrong:input/1/source, source-wrong:input/2/source",
            ],
            ["input/45/source = stage 1 ->", "input/1/source = stage 2 -> source-shared:input/1/source", "input/24/source/alternate = stage 1 ->"]),
        new("output-source-missing", "WUUU",
            ["output/stage-1/source = none", "output/stage-3/source = none", "output/stage-4/source = none", "output/stage-12/source = none", "output/local-4/source = none"],
            ["output/stage-13/source = none ->", "output/stage-1/on = off -> feed-shut:output/stage-1/on"]),
        new("output-source-wrong", "WUUU",
            [
                "output/stage-1/source = mix 16", "output/stage-3/source = mix 14", "output/stage-9/source = group 1", "output/local-1/source = matrix 6", "output/stage-5/source = mix 2",
                "output/local-3/source = input 1 direct",
            ],
            ["output/stage-13/source = mix 9 ->", "output/usb-1/source = main 1 left ->"]),
        new("phantom-missing", "NWWW",
            ["socket/stage-18/phantom = off", "socket/stage-4/phantom = off", "socket/stage-9/phantom = off", "socket/stage-26/phantom = off", "socket/stage-36/phantom = off"],
            ["socket/stage-37/phantom = on ->", "socket/stage-18/gain = 20 dB -> gain-moved:socket/stage-18/gain"]),
        new("phantom-unexpected", "NWWW",
            ["socket/stage-1/phantom = on", "socket/stage-15/phantom = on", "socket/local-1/phantom = on", "socket/stage-33/phantom = on", "socket/local-6/phantom = on"],
            ["socket/local-8/phantom = on ->", "socket/stage-27/phantom = on ->"]),
        new("name-changed", "NNWN",
            ["input/1/name = Snare top", "group/2/name = Drums", "mix/5/name = Ears A", "dca/1/name = talkers", "matrix/2/name = "],
            ["input/1/name = Kick   ->", "mix/16/name = Spare ->", "input/1/colour = amber ->"]),
        new("stereo-link-missing", "NWWW",
            ["input/7/linked = off", "input/36/linked = off", "mix/5/linked = off", "matrix/3/linked = off", "input/44/linked = off"],
            ["input/1/linked = on -> drift:input/1/linked", "mix/9/linked = on ->"]),
        new("low-cut-off", "NWWW",
            ["input/15/low-cut = off", "input/17/low-cut = off", "input/25/low-cut = off", "input/31/low-cut = off", "input/34/low-cut = off"],
            ["input/4/low-cut = off -> drift:input/4/low-cut", "input/15/low-cut/frequency = 40 Hz ->", "input/1/low-cut = on ->"]),
        new("limiter-out", "WUUU",
            ["output/stage-1/limiter/in = off", "output/stage-3/limiter/in = off", "output/stage-9/limiter/in = off", "output/stage-12/limiter/in = off", "output/local-2/limiter/in = off"],
            ["output/local-4/limiter/in = on ->", "output/stage-16/limiter/in = on ->"]),
        new("talk-latched", "WWUU",
            [
                "desk/talk/1/on = on; desk/talk/1/to/main-1 = on -> talk-latched:desk/talk/1/on, talkback-public:desk/talk/1/to/main-1",
                "desk/talk/2/on = on; desk/talk/2/to/main-1 = on -> talk-latched:desk/talk/2/on, talkback-public:desk/talk/2/to/main-1",
                "desk/talk/1/on = on; desk/talk/1/to/matrix-2 = on -> talk-latched:desk/talk/1/on, talkback-public:desk/talk/1/to/matrix-2",
                "desk/talk/2/on = on; desk/talk/2/to/mix-15 = on -> talk-latched:desk/talk/2/on, talkback-public:desk/talk/2/to/mix-15",
                "desk/talk/1/on = on; desk/talk/1/to/matrix-4 = on -> talk-latched:desk/talk/1/on, talkback-public:desk/talk/1/to/matrix-4",
            ],
            [
                "desk/talk/1/on = on -> drift:desk/talk/1/on", "desk/talk/1/to/main-1 = on -> talkback-public:desk/talk/1/to/main-1",
                "desk/talk/2/on = on; desk/talk/2/to/mix-9 = on -> drift:desk/talk/2/on, drift:desk/talk/2/to/mix-9",
            ]),
        new("effect-into-itself", "NWUU",
            [
                "fx-return/1/send/mix/13/on = on; fx-return/1/send/mix/13/level = -20 dB -> effect-into-itself:fx-return/1/send/mix/13/on",
                "fx-return/1/send/mix/13/on = on; fx-return/1/send/mix/13/level = 0 dB -> effect-into-itself:fx-return/1/send/mix/13/on",
                "fx-return/2/send/mix/14/on = on; fx-return/2/send/mix/14/level = -60 dB -> effect-into-itself:fx-return/2/send/mix/14/on",
                "fx-return/2/send/mix/14/on = on; fx-return/2/send/mix/14/level = 3 dB -> effect-into-itself:fx-return/2/send/mix/14/on",
                "fx-return/2/send/mix/14/on = on; fx-return/2/send/mix/14/level = -20 dB; fx-return/2/fader = -inf -> effect-into-itself:fx-return/2/send/mix/14/on",
            ],
            [
                "fx-return/1/send/mix/13/on = on -> drift:fx-return/1/send/mix/13/on", "fx-return/1/send/mix/13/level = 0 dB ->",
                "fx-return/1/send/mix/14/on = on; fx-return/1/send/mix/14/level = 0 dB -> drift:fx-return/1/send/mix/14/on", "fx-return/3/send/mix/13/on = on; fx-return/3/send/mix/13/level = 0 dB ->",
            ]),
        new("effect-outside-mute-group", "NWUU",
            [
                "fx-return/1/mute-group/3 = off", "fx-return/2/mute-group/3 = off", "fx-return/1/mute-group/3 = off; mute-group/3/active = on", "fx-return/2/mute-group/3 = off; fx-return/2/fader = -inf",
                "fx-return/1/mute-group/3 = off; fx-return/2/mute-group/3 = off -> effect-outside-mute-group:fx-return/1/mute-group/3, effect-outside-mute-group:fx-return/2/mute-group/3",
            ],
            ["mute-group/3/active = on ->", "fx-return/3/mute-group/3 = on ->", "fx-return/1/mute-group/1 = on -> mute-group-member-unplanned:fx-return/1/mute-group/1"]),
        new("feed-depends", "WWUU",
            [
                "main/1/send/matrix/2/on = on; main/1/send/matrix/2/level = 0 dB -> feed-depends:main/1/send/matrix/2/on",
                "main/1/send/matrix/3/on = on; main/1/send/matrix/3/level = 0 dB -> feed-depends:main/1/send/matrix/3/on",
                "main/1/send/matrix/2/on = on; main/1/send/matrix/2/level = -60 dB -> feed-depends:main/1/send/matrix/2/on",
                "main/1/send/matrix/3/on = on; main/1/send/matrix/3/level = -20 dB; group/8/fader = -inf -> feed-depends:main/1/send/matrix/3/on",
                "main/1/send/matrix/2/on = on; main/1/send/matrix/2/level = -10 dB; main/1/send/matrix/2/tap = post-fader -> feed-depends:main/1/send/matrix/2/on",
            ],
            [
                "main/1/send/matrix/2/on = on -> drift:main/1/send/matrix/2/on", "main/1/send/matrix/2/level = 0 dB ->",
                "main/1/send/matrix/4/on = on; main/1/send/matrix/4/level = 0 dB -> double-routed:main/1/send/matrix/4/on",
                "mix/15/send/matrix/2/on = on; mix/15/send/matrix/2/level = 0 dB -> double-routed:mix/15/send/matrix/2/on",
                "output/local-1/source = main 1 left -> output-on-another-feed:output/local-1/source",
            ]),
        new("stream-follows-room", "WWUU",
            [
                "main/1/send/matrix/2/on = on; main/1/send/matrix/2/level = 0 dB -> stream-follows-room:main/1/send/matrix/2/on",
                "main/1/send/matrix/3/on = on; main/1/send/matrix/3/level = 0 dB -> stream-follows-room:main/1/send/matrix/3/on",
                "main/1/send/matrix/2/on = on; main/1/send/matrix/2/level = -60 dB -> stream-follows-room:main/1/send/matrix/2/on",
                "main/1/send/matrix/3/on = on; main/1/send/matrix/3/level = -20 dB; group/8/fader = -inf -> stream-follows-room:main/1/send/matrix/3/on",
                "main/1/send/matrix/2/on = on; main/1/send/matrix/2/level = -10 dB; main/1/send/matrix/2/tap = post-fader -> stream-follows-room:main/1/send/matrix/2/on",
            ],
            ["main/1/send/matrix/2/on = on -> drift:main/1/send/matrix/2/on", "main/1/send/matrix/2/level = 0 dB ->"])
        {
            Plan = """
                feeds:
                  room: { bus: main 1, out: stage 1-2, name: Room }
                  stream: { bus: matrix 2-3, out: local 1-2, name: "Stream {side}", stereo: true, from: { Voices: 0 dB } }
                groups: { 1: { name: Voices, to: [room] } }
                inputs: { 25: { name: Lectern, from: stage 25, to: [Voices] } }
                """,
        },
        new("insert-twice", "NWWW",
            [
                "input/24/insert/1 = Hush A", "input/1/insert/2 = Hush B", "mix/16/insert/1 = Squash", "main/1/insert/1 = Hush D", "input/26/insert/1 = Hush A", "input/25/insert/2 = Hush A",
            ],
            ["input/24/insert/1 = Glue ->", "input/24/insert/1 = Hush A; input/25/insert/1 = none -> insert-on-neighbour:input/25/insert/1", "input/1/insert/1 = Polish; input/2/insert/1 = Polish ->"]),
        new("insert-without-unit", "WUUU",
            [
                "input/25/insert/1 = none", "input/26/insert/1 = none", "input/27/insert/1 = none", "input/28/insert/1 = none", "group/2/insert/1 = none",
            ],
            [
                "input/1/insert/1/in = off ->", "input/25/insert/1/in = off -> drift:input/25/insert/1/in", "input/25/insert/1 = Glue -> insert-missing:input/25/insert/1",
                "input/25/insert/1 = none; input/25/insert/1/in = off -> drift:input/25/insert/1/in, insert-missing:input/25/insert/1",
            ]),
        new("open-mic-without-dca", "NWWW",
            ["input/15/dca/3 = off", "input/20/dca/2 = off", "input/25/dca/1 = off", "input/31/dca/1 = off", "input/34/dca/8 = off"],
            ["input/1/dca/4 = off -> dca-member-missing:input/1/dca/4", "input/15/dca/3 = off; input/15/dca/2 = on -> dca-member-missing:input/15/dca/3, dca-member-unplanned:input/15/dca/2"]),
        new("stereo-crossed", "NWWW",
            [
                "input/7/source = stage 8; input/8/source = stage 7 -> stereo-crossed:input/7/source", "input/13/source = stage 14; input/14/source = stage 13 -> stereo-crossed:input/13/source",
                "input/35/source = usb 2; input/36/source = usb 1 -> stereo-crossed:input/35/source",
                "output/stage-1/source = main 1 right; output/stage-2/source = main 1 left -> stereo-crossed:output/stage-1/source",
                "output/local-1/source = matrix 3; output/local-2/source = matrix 2 -> stereo-crossed:output/local-1/source",
            ],
            [
                "input/1/source = stage 2; input/2/source = stage 1 -> source-wrong:input/1/source, source-wrong:input/2/source", "input/7/source = stage 8 -> source-shared:input/7/source",
                "output/stage-5/source = mix 2; output/stage-6/source = mix 1 -> output-source-wrong:output/stage-5/source, output-source-wrong:output/stage-6/source",
            ]),
        new("stereo-one-side", "NWWW",
            [
                "output/stage-1/source = main 1 right", "output/stage-2/source = main 1 left", "output/stage-9/source = mix 6", "output/stage-12/source = mix 7", "output/local-1/source = matrix 3",
            ],
            ["output/stage-5/source = mix 2 -> output-source-wrong:output/stage-5/source", "output/stage-9/source = mix 8 -> output-on-another-feed:output/stage-9/source"]),
        new("output-on-another-feed", "WUUU",
            ["output/stage-5/source = matrix 1", "output/stage-9/source = mix 1", "output/local-3/source = matrix 4", "output/local-1/source = main 1 left", "output/stage-3/source = mix 5"],
            ["output/stage-13/source = mix 1 ->", "output/stage-3/source = mix 14 -> output-source-wrong:output/stage-3/source", "output/stage-5/source = none -> output-source-missing:output/stage-5/source"]),
        new("source-shared", "WUUU",
            ["input/1/source = stage 2", "input/26/source = stage 1", "input/35/source = usb 2", "input/17/source = local 3", "input/41/source = stage 34"],
            [
                "input/47/source = usb 1 ->", "input/16/source = stage 38 -> source-wrong:input/16/source", "input/24/source/alternate = stage 1 ->",
                "input/1/source = stage 3; input/3/source = stage 40 -> source-wrong:input/1/source, source-wrong:input/3/source",
            ]),
        new("gain-moved", "NWWW",
            ["socket/stage-18/gain = 20 dB", "socket/stage-17/gain = 40 dB", "socket/stage-25/gain = 0 dB", "socket/local-1/gain = 10 dB", "socket/local-6/gain = 60 dB"],
            ["socket/stage-18/gain = 33 dB ->", "socket/stage-1/gain = 20 dB ->", "input/18/trim = 3 dB ->"]),
        new("pad-changed", "NWWW",
            ["socket/stage-1/pad = off", "socket/stage-2/pad = off", "socket/stage-3/pad = off", "socket/stage-5/pad = off", "socket/stage-6/pad = off"],
            ["socket/stage-7/pad = on ->", "socket/local-1/pad = on ->", "socket/stage-1/gain = 10 dB ->"]),
        new("linked-faders-apart", "NWWW",
            [
                "input/36/fader = -5 dB", "input/7/fader = -20 dB -> linked-faders-apart:input/8/fader", "input/44/fader = -inf -> linked-faders-apart:input/44/fader", "mix/6/fader = 3 dB", "mix/7/fader = -60 dB -> linked-faders-apart:mix/8/fader",
            ],
            [
                "input/35/fader = -5 dB; input/36/fader = -5 dB ->", "input/36/fader = -0.9 dB ->", "matrix/3/fader = -20 dB ->", "input/2/fader = -20 dB ->",
                "input/35/linked = off; input/36/linked = off; input/36/fader = -5 dB -> stereo-link-missing:input/35/linked, stereo-link-missing:input/36/linked",
            ]),
        new("stereo-partners-differ", "NWWW",
            [
                "input/36/polarity = on", "input/13/comp/on = on -> stereo-partners-differ:input/14/comp/on", "input/38/gate/on = on", "input/44/low-cut/frequency = 200 Hz", "input/34/delay = 5 ms", "input/8/trim = 6 dB",
            ],
            ["input/35/polarity = on; input/36/polarity = on ->", "input/2/comp/on = on ->", "input/1/eq/on = on ->", "input/7/pan = -100 ->"]),
        new("stage-box-missing", "WUUU",
            [
                "desk/box/1/present = off", "desk/box/2/present = off", "desk/box/3/present = off", "desk/box/1/present = off; desk/box/1/leg/1 = off; desk/box/1/leg/2 = off",
                "desk/box/2/present = off; desk/box/2/leg/1 = off; desk/box/2/name = ",
            ],
            ["desk/box/1/leg/1 = off; desk/box/1/leg/2 = off -> stage-box-leg-down:desk/box/1/leg/1, stage-box-leg-down:desk/box/1/leg/2"]),
        new("stage-box-swapped", "WUUU",
            [
                "desk/box/1/name = Middle; desk/box/2/name = Left -> stage-box-swapped:desk/box/1/name, stage-box-swapped:desk/box/2/name",
                "desk/box/1/name = Right; desk/box/3/name = Left -> stage-box-swapped:desk/box/1/name, stage-box-swapped:desk/box/3/name",
                "desk/box/2/name = Right; desk/box/3/name = Middle -> stage-box-swapped:desk/box/2/name, stage-box-swapped:desk/box/3/name",
                "desk/box/1/name = Middle; desk/box/2/name = Right; desk/box/3/name = Left -> stage-box-swapped:desk/box/1/name, stage-box-swapped:desk/box/2/name, stage-box-swapped:desk/box/3/name",
                "desk/box/3/name = Left",
            ],
            ["desk/box/1/name = Spare -> drift:desk/box/1/name", "desk/box/1/present = off -> stage-box-missing:desk/box/1/present"]),
        new("stage-box-leg-down", "NWWW",
            ["desk/box/1/leg/1 = off", "desk/box/1/leg/2 = off", "desk/box/2/leg/1 = off", "desk/box/2/leg/2 = off", "desk/box/3/leg/2 = off"],
            ["desk/box/1/present = off; desk/box/1/leg/1 = off -> stage-box-missing:desk/box/1/present"]),
        new("polarity-changed", "NWWW",
            ["input/3/polarity = off", "input/4/polarity = on", "input/5/polarity = on", "input/6/polarity = on", "input/8/polarity = on"],
            ["input/1/polarity = on ->", "input/36/polarity = on -> stereo-partners-differ:input/36/polarity"]),
        new("gate-key-wrong", "NWWW",
            ["input/35/gate/key = none", "input/36/gate/key = group 2", "input/37/gate/key = input 25", "input/38/gate/key = none", "input/35/gate/key = input 35"],
            ["input/1/gate/key = input 2 ->", "input/5/gate/on = off -> drift:input/5/gate/on"]),
        new("automix-member-missing", "NWWW",
            ["input/25/automix = off", "input/26/automix = off", "input/27/automix = off", "input/28/automix = off", "input/31/automix = off"],
            ["input/15/automix = on -> drift:input/15/automix", "input/45/automix = on ->"]),
        new("send-without-pan", "NWNN",
            ["input/7/send/mix/5/pan-follow = off", "input/7/send/mix/6/pan-follow = off", "input/8/send/mix/5/pan-follow = off", "input/8/send/mix/7/pan-follow = off", "input/7/send/mix/8/pan-follow = off"],
            ["input/7/send/mix/1/pan-follow = on ->", "input/13/send/mix/5/pan-follow = on ->"]),
        new("direct-out-post-fader", "NWWW",
            ["input/1/direct-out/tap = post-fader", "input/2/direct-out/tap = post-fader", "input/4/direct-out/tap = post-fader", "input/7/direct-out/tap = post-fader", "input/8/direct-out/tap = post-fader"],
            ["input/1/direct-out/tap = pre-fader -> drift:input/1/direct-out/tap", "input/9/direct-out/tap = post-fader ->", "input/1/direct-out = usb 1 ->"]),
        new("sends-on-fader-left-on", "NWWN",
            [
                "desk/sends-on-fader = on", "desk/sends-on-fader = on; desk/edited = on", "desk/sends-on-fader = on; mix/1/fader = -10 dB", "desk/sends-on-fader = on; input/1/on = off",
                "desk/sends-on-fader = on; desk/scene = Monitors",
            ],
            ["desk/scene = Sends ->", "mix/1/fader = -10 dB ->"]),
        new("recall-would-undo", "-WWW",
            ["input/25/recall-safe = off", "input/26/recall-safe = off", "input/27/recall-safe = off", "input/30/recall-safe = off", "input/31/recall-safe = off"],
            ["input/1/recall-safe = on ->", "desk/scene = Finale ->"]),
        new("colour-changed", "NNWN",
            ["input/25/colour = moss", "input/17/colour = plain", "input/24/colour = amber", "input/28/colour = teal", "input/31/colour = plain"],
            ["input/1/colour = amber ->", "group/1/colour = moss ->"]),
        new("key-changed", "NNWN",
            ["desk/key/1 = mute group 2", "desk/key/2 = nothing", "desk/key/3 = talk 1", "desk/key/7 = dim", "desk/key/8 = mute group 1"],
            ["desk/key/4 = talk 2 ->", "desk/key/6 = dim ->"]),
        new("source-silent", "-WWW",
            ["input/15/signal = off", "input/20/signal = off", "input/25/signal = off", "input/31/signal = off", "input/34/signal = off"],
            ["input/35/signal = off ->", "input/45/signal = off ->", "input/41/signal = off ->"]),
        new("one-leg", "NWWW",
            [
                "input/35/send/matrix/4/on = off", "input/36/send/matrix/4/on = off", "input/37/send/matrix/4/on = off", "input/38/send/matrix/4/on = off",
                "input/36/send/matrix/4/level = -inf dB -> one-leg:input/36/send/matrix/4/on", "input/37/send/matrix/4/level = -inf -> one-leg:input/37/send/matrix/4/on",
                "group/1/send/matrix/4/on = off", "group/2/send/matrix/4/on = off; group/2/send/matrix/4/level = -inf -> one-leg:group/2/send/matrix/4/on",
            ],
            [
                "input/36/send/matrix/4/level = -55 dB -> drift:input/36/send/matrix/4/level", "input/36/send/matrix/1/on = on -> drift:input/36/send/matrix/1/on",
                "input/36/on = off -> drift:input/36/on",
            ])
        {
            Plan = """
                feeds: { loop: { bus: matrix 4, purpose: hearing-loop, out: [local 4, stage 16], mono: true, from: { Tracks L: 0 dB, Tracks R: 0 dB } } }
                groups: { 1-2: { name: "Tracks {side}", stereo: true } }
                inputs:
                  35-36: { name: "Playback {side}", from: usb 1-2, stereo: true, on: on, to: { loop: -5 dB } }
                  37-38: { name: "Film {side}", from: usb 3-4, stereo: true, to: { loop: -10 dB } }
                """,
        },
        new("unit-half-inserted", "NWWW",
            [
                "input/13/insert/1 = Polish", "input/14/insert/1 = Polish", "input/15/insert/1 = Glue", "input/16/insert/1 = Polish",
                "input/13/insert/1 = none; input/13/insert/1/in = off -> drift:input/13/insert/1/in, unit-half-inserted:input/13/insert/1",
                "input/14/insert/1 = Hush B -> insert-twice:input/14/insert/1, unit-half-inserted:input/14/insert/1",
            ],
            [
                "input/13/insert/1 = Polish; input/14/insert/1 = Polish -> insert-missing:input/13/insert/1, insert-missing:input/14/insert/1",
                "input/13/insert/1 = none -> insert-without-unit:input/13/insert/1", "input/20/insert/1 = Hush A -> insert-twice:input/20/insert/1",
                "input/25/insert/1 = none; input/25/insert/1/in = off -> drift:input/25/insert/1/in, insert-missing:input/25/insert/1", "input/20/insert/1 = Squash ->",
            ])
        {
            Plan = """
                units: { Hush A: 2, Hush B: 2, Hush C: 1, Squash: 2 }
                feeds: { room: { bus: main 1, out: stage 1-2 } }
                inputs:
                  13-14: { name: "Keys {side}", stereo: true, to: [room], insert: Hush A }
                  15-16: { name: "Vocal {n}", to: [room], insert: Hush B }
                  25:    { name: Lectern, to: [room], insert: Hush C }
                """,
        },
        new("on-alternate", "NNNN",
            [
                "input/25/source = stage 26", "input/26/source = stage 28", "input/27/source = local 7", "input/28/source = local 8; input/28/on = off", "input/29/source = stage 30",
                "input/25/source = stage 26; input/26/source = stage 28 -> on-alternate:input/25/source, on-alternate:input/26/source",
            ],
            [
                "input/25/source = stage 27 -> source-shared:input/25/source", "input/25/source = stage 40 -> source-wrong:input/25/source", "input/25/source = none -> source-missing:input/25/source",
                "input/30/source = stage 26 -> source-wrong:input/30/source",
            ])
        {
            Plan = """
                feeds: { room: { bus: main 1, out: stage 1-2 } }
                inputs:
                  25: { name: Lectern, from: stage 25, to: [room] }
                  26: { name: Guest, from: stage 27, to: [room] }
                  27-28: { name: "Handheld {n}", from: local 1-2, to: [room] }
                  29-30: { name: "Headset {n}", from: "stage 29, 31", to: [room] }
                settings:
                  input/25/source/alternate: stage 26
                  input/26/source/alternate: stage 28
                  input/27/source/alternate: local 7
                  input/28/source/alternate: local 8
                  input/29/source/alternate: stage 30
                """,
        },
        .. FlowRuleCases.All,
        new("drift", "NWWW",
            ["output/stage-4/delay = 62 ms", "input/6/gate/on = off", "input/5/gate/on = off", "input/15/comp/on = off", "input/17/low-cut/frequency = 80 Hz"],
            ["input/6/delay = 5 ms ->", "input/1/polarity = on ->", "group/1/fader = 0.95 dB ->"]),
    ];
}

/// <summary>One rule with what fires it and what does not.</summary>
/// <param name="Rule">The rule's id.</param>
/// <param name="Letters">Severity in build, soundcheck, doors, show.</param>
/// <param name="Fires">Changes that fire it; without an arrow the subject is the first setting.</param>
/// <param name="Misses">Changes that do not fire it, with what they give instead.</param>
internal sealed record RuleCase(string Rule, string Letters, string[] Fires, string[] Misses)
{
    /// <summary>A small plan for the demo desk, where the demo plan gives the rule no reason; clean is what it plans.</summary>
    public string? Plan { get; init; }

    /// <summary>Whether it is judged at the cue of <see cref="CueShow"/>.</summary>
    public bool AtCue { get; init; }

    /// <summary>Which cases people do for a moment in a show: there they are notices.</summary>
    public Func<string, bool> Momentary { get; init; } = _ => false;

    /// <summary>The changes of a case.</summary>
    public static IEnumerable<(string Path, string Value)> Changes(string text) =>
        text.Split("->")[0].Split(';').Select(change => change.Split('=')).Select(parts => (parts[0].Trim(), parts[1].Trim()));

    /// <summary>The ids a case gives, in order.</summary>
    public IEnumerable<string> Ids(string text)
    {
        var arrow = text.IndexOf("->", StringComparison.Ordinal);
        return arrow < 0
            ? [$"{Rule}:{Changes(text).First().Path}"]
            : text[(arrow + 2)..].Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Order(StringComparer.Ordinal);
    }
}
