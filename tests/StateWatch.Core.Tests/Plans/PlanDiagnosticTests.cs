using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Plans;

/// <summary>Every fault a plan can have, at its place, with the word that was meant. The place is marked with §; the first line is line 4.</summary>
public class PlanDiagnosticTests
{
    private const string Room = "feeds: { room: { bus: main 1, out: stage 1-2 } }\n";

    // Two spares, a lectern, a group.
    private const string Cast = Room + "groups: { 1: { name: Band, to: [room] } }\nroles: { talker: { to: [room] } }\ninputs: { 1: { name: Pulpit, role: talker }, 2-3: { name: \"Spare {n}\", role: talker, one-of: true } }\n";

    private const string Heard1 = "{ mic: Pulpit, feed: room, loss: 30, measured: 2026-11-22, by: A }";

    private static string Heard(params string[] couplings) => """
        feeds:
          room: { bus: main 1, out: stage 1-2, loudspeaker: { sensitivity: 98 dB, amplifier: 32 dB, critical-distance: 5 m } }
          wedges: { bus: mix 1-2, purpose: monitor, out: stage 3-4 }
          ears: { bus: mix 3, purpose: in-ears }
          fills: { bus: matrix 1-2, purpose: front-fill, stereo: true }
        groups: { 1: { name: Band, to: [room] } }
        roles: { voice: { to: [room], microphone: { sensitivity: 2.5 mV } } }
        inputs: { 1: { name: Pulpit, role: voice }, 2-3: { name: "Spare {n}", to: [room] } }
        couplings:

        """ + string.Join('\n', couplings.Select(line => $"- {line}"));

    private static string Waived(string finding, string until = "2026-12-31") => $"waivers: [{{ finding: {finding}, owner: A. Engineer, why: worn switch, until: {until} }}]";

    public static TheoryData<string, string?, string> Faults => new()
    {
        { "unknown-name", "room", Room + "inputs: { 1: { name: A, to: [§roon] } }" },
        { "unknown-name", "Choir", "dcas: { 1: Choir }\n" + Room + "inputs: { 1: { to: [room], dca: §Chior } }" },
        { "unknown-name", "Stage", "mute-groups: { 1: Stage }\n" + Room + "inputs: { 1: { to: [room], mute-groups: [§stage] } }" },
        { "unknown-name", "talker", "roles: { talker: { low-cut: on } }\n" + Room + "inputs: { 1: { role: §talkr, to: [room] } }" },
        { "unknown-name", null, "feeds: { fills: { bus: matrix 1, purpose: front-fill, out: stage 1, from: { §Voices: on } } }" },
        { "unknown-name", null, "talk: { 1: { to: [§wedges] } }" },
        { "no-such-strip", null, Room + "inputs: { §9: { to: [room] } }" },
        { "no-such-strip", null, "feeds: { room: { bus: §mix 5, out: stage 1 } }" },
        { "no-such-strip", null, "feeds: { room: { bus: main 1, out: §stage 4-5 } }" },
        { "no-such-strip", "stage 1-2", "feeds: { room: { bus: main 1, out: §satge 1-2 } }" },
        { "no-such-strip", null, Room + "inputs: { 1: { to: [room], from: §stage 9 } }" },
        { "no-such-strip", null, "feeds: { wedges: { bus: mix 1-2, purpose: monitor, out: stage 1-2 } }\ninputs: { 1: { to: [§wedges 3] } }" },
        { "no-such-strip", null, "dcas: { 3: §Band }" },
        { "no-such-strip", null, "effects: { 1: { name: Hall, send: mix 4, return: §fx-return 2 } }" },
        { "unseen-setting", null, "settings: { §desk/solo-in-place: off }" },
        { "unseen-setting", null, "settings: { §\"input/1/polarity\": on }" },
        { "unseen-setting", null, Room + "inputs: { 1: { to: [room], comp: §on } }" },
        { "unseen-setting", null, Room + "inputs: { 1: { to: [room], from: usb 1, phantom: §on } }" },
        { "unseen-setting", null, "talk: { §2: { to: [] } }" },
        { "unseen-setting", null, "phases: { build: { settings: { §desk/scene: A } } }" },
        { "conflict", null, Room + "inputs: { 1-2: { to: [room], low-cut: on }, 2-3: { to: [room], low-cut: §off } }" },
        { "conflict", null, "settings: { input/1/low-cut: on, input/01/low-cut: §off }" },
        { "conflict", null, "phases: { doors: { locked: [taps], free: [§taps] } }" },
        { "count-mismatch", null, Room + "inputs: { 1-3: { to: [room], from: §stage 1-2 } }" },
        { "count-mismatch", null, "feeds: { room: { bus: main 1, out: §stage 1-3 } }" },
        { "name-twice", null, "feeds: { Hall: { bus: mix 1, purpose: monitor, out: stage 1 } }\neffects: { §1: { name: Hall, send: mix 4 } }" },
        { "name-twice", null, "dcas: { 1: Band, 2: §Band }" },
        { "tolerance-too-small", null, Room + "inputs: { 1: { to: [room], from: stage 1, gain: §30 dB within 1 dB } }" },
        { "broken-pair", null, Room + "inputs: { §2-3: { to: [room], stereo: true } }" },
        { "broken-pair", null, Room + "inputs: { §1-3: { to: [room], stereo: true } }" },
        { "off-grid", null, Room + "inputs: { 1: { to: [room], from: stage 1, gain: §31 dB } }" },
        { "name-cut", null, Room + "inputs: { 1: { to: [room], name: §Lectern } }" },
        { "name-collision", null, Room + "inputs: { 1: { to: [room], name: Lectern left }, §2: { to: [room], name: Lectern right } }" },
        { "redundant-line", null, Room + "inputs: { 1: { to: [room], low-cut: on } }\nsettings: { \"input/1/low-cut\": §on }" },
        { "unused-role", null, "roles: { §talker: { low-cut: on } }" },
        { "shared-socket", null, Room + "inputs: { 1: { to: [room], from: stage 1 }, §2: { to: [room], from: stage 1 } }" },
        { "output-booked-twice", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, subs: { bus: mix 1, out: §stage 2 } }" },
        { "bus-booked-twice", null, "feeds: { subs: { bus: mix 1, out: stage 2 }, record: { bus: §mix 1, out: stage 3 } }" },
        { "bus-booked-twice", null, Room + "groups: { §1: { name: A, to: [room] } }\neffects: { 1: { name: Hall, send: group 1 } }" },
        { "feed-without-output", null, "feeds: { §room: { bus: main 1 } }" },
        { "open-mic-without-dca", null, Room + "roles: { voice: { open-mic: true, to: [room] } }\ninputs: { §1: { role: voice } }" },
        { "open-mic-in-subs", null, "dcas: { 1: All }\nfeeds: { subs: { bus: mix 1, out: stage 1 } }\nroles: { voice: { open-mic: true, dca: All, to: [subs] } }\ninputs: { §1: { role: voice } }" },
        { "private-made-public", null, Room + "roles: { click: { private: click, to: [room] } }\ninputs: { §1: { role: click } }" },
        { "constraint-broken", null, "feeds: { room: { bus: main 1, out: stage 1-2, never: [click] } }\nroles: { click: { to: [§room] } }\ninputs: { 1: { role: click } }" },
        { "constraint-broken", null, "feeds: { room: { bus: main 1, out: stage 1-2, only: [voice] } }\nroles: { click: { to: [§room] }, voice: { to: [room] } }\ninputs: { 1: { role: click }, 2: { role: voice } }" },
        { "constraint-broken", null, "feeds: { room: { bus: main 1, out: stage 1-2, must-carry: [§voice] } }\nroles: { voice: { low-cut: on } }\ninputs: { 1: { role: voice } }" },
        { "constraint-broken", null, "feeds: { room: { bus: main 1, out: stage 1-2, minus: [Guest] } }\ninputs: { 1: { name: Guest, to: [§room] } }" },
        { "constraint-broken", null, Room + "groups: { 1: { name: Band, to: [room] } }\nroles: { click: { never: [room], to: [§Band] } }\ninputs: { 1: { role: click } }" },
        { "constraint-broken", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, cue: { bus: mix 1, purpose: monitor, out: stage 3 } }\nroles: { click: { only: [cue], to: [§room] } }\ninputs: { 1: { role: click } }" },
        { "constraint-broken", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, tape: { bus: matrix 1, purpose: record, out: stage 3, independent-of: room, from: { room: §on } } }" },
        { "constraint-broken", null, "feeds: { tape: { bus: matrix 1, purpose: record, out: stage 3, independent-of: [§tape] } }" },
        { "unknown-name", "room", "feeds: { room: { bus: main 1, out: stage 1-2 }, tape: { bus: matrix 1, purpose: record, out: stage 3, independent-of: §roon } }" },
        { "unknown-name", null, "groups: { 1: { name: Band } }\ninputs: { 1: { to: [Band] } }\nfeeds: { tape: { bus: matrix 1, purpose: record, out: stage 3, independent-of: §Band } }" },
        { "ratio-not-made", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [{ at: §fills, of: a, over: b, be: 6 dB }]" },
        { "bad-value", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [{ at: fills, of: a, over: §a, be: 0 dB }]" },
        { "bad-value", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [{ at: §room, of: a, over: b, be: 0 dB }]" },
        { "bad-value", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [{ at: fills, of: a, over: b, be: §loud }]" },
        { "bad-value", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [{ at: fills, of: a, over: b, be: 0 dB, within: §-1 dB }]" },
        { "missing-key", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [§{ at: fills, of: a, over: b }]" },
        { "unknown-name", "fills", "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [{ at: §fils, of: a, over: b, be: 0 dB }]" },
        { "unknown-name", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [{ at: fills, of: a, over: §choir, be: 0 dB }]" },
        { "unknown-name", null, "feeds: { fills: { bus: matrix 1, purpose: front-fill, out: stage 3, tap: pre-fader } }\nroles: { a: { low-cut: on }, b: { low-cut: on } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [§{ at: fills, of: a, over: b, be: 0 dB }]" },
        { "redundant-line", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [{ at: fills, of: a, over: b, be: 0 dB }, §{ at: fills, of: a, over: b, be: 1 dB }]" },
        { "wrong-shape", null, "feeds: { room: { bus: main 1, out: stage 1-2 }, fills: { bus: matrix 1, purpose: front-fill, out: stage 3, from: { room: 0 dB } } }\nroles: { a: { to: [room] }, b: { to: [room] } }\ninputs: { 1: { role: a }, 2: { role: b } }\nratios: [§fills]" },
        { "unknown-name", "voice", "feeds: { room: { bus: main 1, out: stage 1-2, never: [§voise] } }\nroles: { voice: { low-cut: on } }\ninputs: { 1: { role: voice } }" },
        { "unknown-name", "Guest", "feeds: { room: { bus: main 1, out: stage 1-2, minus: [§Guset] } }\ninputs: { 1: { name: Guest } }" },
        { "unknown-name", "room", Room + "roles: { click: { never: [§rom] } }\ninputs: { 1: { role: click } }" },
        { "cannot-extend", null, "extends: §weekly.plan.yaml" },
        { "carried-nowhere", null, "inputs: { §1: { name: A } }" },
        { "needless-by-eye", null, "settings: { §\"input/1/low-cut\": { be: on, by-eye: true } }" },
        { "needless-by-eye", null, "phases: { show: { settings: { §\"input/1-8/low-cut\": { be: on, by-eye: true } } } }" },
        { "unseen-setting", "input/1/polarity", "settings: { §\"input/1/polarty\": { be: on, by-eye: true } }" },
        { "no-such-strip", null, "settings: { §\"input/9/polarity\": { be: on, by-eye: true } }" },
        { "bad-value", null, "settings: { §polarity: { be: on, by-eye: true } }" },
        { "missing-key", null, "settings: { \"input/1/polarity\": §{ by-eye: true } }" },
        { "wrong-shape", null, "settings: { \"input/1/polarity\": §{ be: on } }" },
        { "wrong-shape", null, "by-eye: [§[a]]" },
        { "missing-key", null, "by-eye: [§{ where: stage left }]" },
        { "unknown-key", "where", "by-eye: [{ look: Amplifiers are on, §wher: stage left }]" },
        { "bad-value", null, "by-eye: [§\"\"]" },
        { "mono-feed", null, "feeds: { loop: { bus: mix 1-2, purpose: hearing-loop, out: stage 1-2, mono: §true } }" },
        { "mono-feed", null, "feeds: { room: { bus: main 1, out: stage 1-2, mono: §true } }" },
        { "mono-feed", null, "feeds: { loop: { bus: mix 1, purpose: hearing-loop, out: stage 1, stereo: true, mono: §true } }" },
        { "one-sided", null, "feeds: { loop: { bus: mix 1, purpose: hearing-loop, out: stage 1, mono: true } }\ninputs: { 1-2: { stereo: true, to: [§loop] }, 2: { to: { loop: off } } }" },
        { "one-sided", null, "feeds: { loop: { bus: mix 1, purpose: hearing-loop, out: stage 1, mono: true } }\ninputs: { 1-2: { stereo: true }, 2: { to: { loop: §-10 dB } } }" },
        { "unknown-name", "cues", "feeds: { cues: { bus: mix 1, purpose: in-ears, out: stage 1 } }\nhands-on: { band: [§cuse] }" },
        { "unknown-name", "input fader", "hands-on: { mix position: [§input fadr] }" },
        { "unknown-name", "input fader", "hands-on: { mix position: [§inptu fader] }" },
        { "unknown-name", "levels", "hands-on: { mix position: §levls }" },
        { "unknown-name", null, "hands-on: { mix position: [§main mute] }" },
        { "unknown-name", null, Room + "hands-on: { mix position: [§room] }" },
        { "wrong-shape", null, "hands-on: { band: [§[eq]] }" },
        { "too-many-sources", null, "feeds: { personal: { purpose: in-ears, direct: [A, B], out: §stage 4 } }\ninputs: { 1: { name: A }, 2: { name: B } }" },
        { "unknown-name", "vocal", "feeds: { personal: { purpose: in-ears, direct: [§vocl], out: stage 4 } }\nroles: { vocal: { low-cut: on } }\ninputs: { 1: { role: vocal } }" },
        { "unseen-setting", null, "feeds: { personal: { purpose: in-ears, direct: [A], out: §stage 4 } }\ninputs: { 1: { name: A } }" },
        { "unknown-key", null, "feeds: { personal: { purpose: in-ears, direct: [A], out: stage 4, §bus: mix 1 } }\ninputs: { 1: { name: A } }" },
        { "missing-key", null, "feeds: { personal: §{ purpose: in-ears, direct: [A] } }\ninputs: { 1: { name: A } }" },
        { "bad-value", null, "feeds: { personal: { purpose: in-ears, direct: [A], out: stage 4 } }\ninputs: { 1: { name: A, to: [§personal] } }" },
        { "guard-not-judged", null, Room + "inputs: { 1: { name: A, to: [room] } }\nguard: [{ level-at: §room, of: A, up: 4 dB }]" },
        { "guard-not-judged", null, Room + "inputs: { 1: { name: A, fader: 0 dB } }\nguard: [{ level-at: §room, of: A, up: 4 dB }]" },
        { "redundant-line", null, Room + "inputs: { 1: { name: A, fader: 0 dB, to: [room] } }\nguard: [§{ level-at: room, of: A, for: 15 s }]" },
        { "unknown-name", "room", Room + "inputs: { 1: { name: A, fader: 0 dB, to: [room] } }\nguard: [{ level-at: §rom, of: A, up: 4 dB }]" },
        { "unknown-name", "Lecte", Room + "inputs: { 1: { name: Lecte, fader: 0 dB, to: [room] } }\nguard: [{ level-at: room, of: §Lect, up: 4 dB }]" },
        { "bad-value", "free", Room + "guard: [{ level-at: room, of: A, up: §fre, down: 4 dB }]" },
        { "bad-value", null, Room + "guard: [{ level-at: room, of: A, up: §-4 dB }]" },
        { "bad-value", null, Room + "guard: [{ level-at: room, of: A, up: 4 dB, for: §15 }]" },
        { "missing-key", null, Room + "guard: [§{ level-at: room, up: 4 dB }]" },
        { "wrong-shape", null, "guard: [§room]" },
        { "bad-value", "soundcheck", "baseline: §soundchek" },
        { "unknown-zone", "Europe/Lisbon", "zone: §Europe/Lisbonn" },
        { "unknown-zone", null, "zone: §../../etc/passwd" },
        { "unknown-zone", null, "zone: §Europe" },
        { "wrong-shape", null, "zone: §[Europe/Lisbon]" },
        { "no-such-strip", null, "keys: { §1: dim }" },
        { "bad-value", null, "keys: { §one: dim }" },
        { "wrong-shape", null, "keys: { 1: §[dim] }" },
        { "schedule-twice", null, "zone: Europe/Lisbon\nschedule: [{ phase: show, at: \"10:00\", days: [saturday, sunday] }, §{ phase: doors, at: \"10:00\", days: sunday }]" },
        { "schedule-twice", null, "zone: Europe/Lisbon\nschedule: [{ phase: show, at: \"9:00\", on: 2026-12-24 }, §{ cue: A, at: \"09:00\", on: 2026-12-24 }]\ncues: { A: { effects: muted } }" },
        { "schedule-misses-phase", null, "zone: Europe/Lisbon\nschedule: [§{ phase: doors, at: \"10:00\" }]" },
        { "schedule-misses-phase", null, "zone: Europe/Lisbon\nphases: { soundcheck: { free: [levels] } }\nschedule: [§{ phase: show, at: \"10:00\" }]" },
        { "schedule-out-of-order", null, "zone: Europe/Lisbon\nschedule: [{ phase: doors, at: \"09:00\" }, §{ phase: soundcheck, at: \"09:30\", days: sunday }, { phase: show, at: \"10:00\" }]" },
        { "schedule-without-zone", null, "schedule: [§{ phase: show, at: \"10:00\" }]" },
        { "bad-value", null, "zone: Europe/Lisbon\nschedule: [{ phase: show, at: §\"25:00\" }]" },
        { "bad-value", "show", "zone: Europe/Lisbon\nschedule: [{ phase: §shwo, at: \"10:00\" }]" },
        { "bad-value", "sunday", "zone: Europe/Lisbon\nschedule: [{ phase: show, at: \"10:00\", days: [§sundy] }]" },
        { "bad-value", null, "zone: Europe/Lisbon\nschedule: [{ phase: show, at: \"10:00\", days: sunday, on: §2026-12-24 }]" },
        { "bad-value", null, "zone: Europe/Lisbon\nschedule: [{ phase: show, at: \"10:00\", on: §2026-02-30 }]" },
        { "bad-value", null, "zone: Europe/Lisbon\nschedule: [{ cue: A, phase: §show, at: \"10:00\" }]" },
        { "missing-key", null, "zone: Europe/Lisbon\nschedule: [§{ at: \"10:00\" }]" },
        { "missing-key", null, "zone: Europe/Lisbon\nschedule: [§{ phase: show }]" },
        { "wrong-shape", null, "zone: Europe/Lisbon\nschedule: [§show]" },
        { "unknown-name", "Sermon", "zone: Europe/Lisbon\nschedule: [{ phase: show, at: \"10:00\" }, { cue: §Sermn, at: \"10:30\" }]\ncues: { Sermon: { effects: muted } }" },
        { "message-twice", null, "cues: { A: { effects: muted, message: /a }, B: { effects: open, message: §/a } }" },
        { "message-twice", null, "cues: { A: { effects: muted, message: [/a, 7] }, B: { effects: open, message: [§/a, 7.0] } }" },
        { "message-twice", null, "phases: { show: { message: /a } }\ncues: { A: { effects: muted, message: [§/a, x] } }" },
        { "bad-value", null, "cues: { A: { effects: muted, message: §\"/show/*\" } }" },
        { "bad-value", null, "cues: { A: { effects: muted, message: §sermon } }" },
        { "bad-value", null, "phases: { show: { message: §\"/show/ top\" } }" },
        { "out-of-range", null, "cues: { A: { effects: muted, message: §[] } }" },
        { "wrong-shape", null, "cues: { A: { effects: muted, message: [/a, §[7]] } }" },
        { "unit-overbooked", null, Room + "units: { Hiss: 1 }\ninputs: { 1: { to: [room], insert: Hiss }, 2: { to: [room], insert: §Hiss } }" },
        { "unit-overbooked", null, Room + "units: { Hiss: 2 }\ninputs: { 1-3: { to: [room], insert: §Hiss } }" },
        { "half-used", null, Room + "units: { Hiss: 2 }\ninputs: { 1: { to: [room], insert: §Hiss } }" },
        { "unknown-name", null, Room + "units: { Squeeze: 1 }\ninputs: { 1: { to: [room], insert: Squeeze } }\nsettings: { \"input/2/insert/1\": §Hiss }" },
        { "out-of-range", null, "units: { Hiss: §0 }" },
        { "bad-value", null, "units: { Hiss: §two }" },
        { "wrong-shape", null, "units: { Hiss: §[2] }" },
        { "count-mismatch", null, "feeds: { room: { bus: main 1, out: [§stage 1-2, stage 3] } }" },
        { "count-mismatch", null, "feeds: { fills: { bus: mix 1, purpose: front-fill, out: stage 1-3, delay: [§6 ms, 8 ms] } }" },
        { "output-booked-twice", null, "feeds: { room: { bus: main 1, out: [stage 1-2, §stage 2-3] } }" },
        { "wrong-shape", null, "feeds: { room: { bus: main 1, out: [§[stage 1-2]] } }" },
        { "bad-value", "true", "feeds: { loop: { bus: mix 1, purpose: hearing-loop, out: stage 1, mono: §treu } }" },
        { "redundant-line", null, "by-eye: [Amplifiers are on, §Amplifiers are on]" },
        { "unknown-rule", "low-cut-off:input/1/low-cut", Waived("§\"low-cut-of:input/1/low-cut\"") },
        { "unknown-subject", "low-cut-off:input/1/low-cut", Waived("§\"low-cut-off:input/1/lowcut\"") },
        { "unknown-subject", null, Waived("§\"low-cut-off:input/9/low-cut\"") },
        { "unknown-rule", "low-cut-off:input/1/low-cut", Waived("§\"low-cut-of:input/1/lowcut\"") },
        { "waiver-twice", null, "waivers:\n- { finding: a:b, owner: A, why: B, until: 2026-12-31 }\n- { finding: §a:b, owner: C, why: D, until: 2026-12-31 }" },
        { "expired-waiver", null, Waived("\"low-cut-off:input/1/low-cut\"", "§2026-12-19") },
        { "coupling-twice", null, Heard(Heard1, "§{ mic: Pulpit, feed: room, loss: 31, measured: 2026-11-22, by: A }") },
        { "coupling-twice", null, Heard("{ mic: Pulpit, feed: room, distance: 6 m }", "§{ mic: Pulpit, feed: room, distance: 5 m }") },
        { "no-loudspeaker", null, Heard("{ mic: Pulpit, feed: §ears, distance: 1 m }") },
        { "no-loudspeaker", null, Heard("{ mic: Pulpit, feed: §Band, distance: 1 m }") },
        { "estimate-lacks", null, Heard("{ mic: Pulpit, feed: §wedges, distance: 1 m }") },
        { "estimate-lacks", null, Heard("{ mic: §Spare, feed: room, distance: 1 m }") },
        { "expired-coupling", null, Heard("{ mic: Pulpit, feed: room, loss: 30, measured: §2026-09-20, by: A }") },
        { "measured-later", null, Heard("{ mic: Pulpit, feed: room, loss: 30, measured: §2026-12-21, by: A }") },
        { "short-of-margin", null, Heard("§{ mic: Pulpit, feed: room, loss: -10 dB, measured: 2026-11-22, by: A }") },
        { "too-little-gain", null, Heard("§{ mic: Pulpit, feed: room, distance: 4 m, acoustic-gain: { talker-to-mic: 1 m, talker-to-listener: 7 m, loudspeaker-to-listener: 6 m, as-if-at: 1.5 m } }") },
        { "redundant-line", null, Heard("{ mic: Spare 1, feed: wedges, loss: 30, measured: 2026-11-22, by: A }", "{ mic: Spare 2, feed: wedges, loss: 30, measured: 2026-11-22, by: A }", "§{ mic: Spare, feed: wedges, loss: 30, measured: 2026-11-22, by: A }") },
        { "unknown-name", "Pulpit", Heard("{ mic: §Pulpti, feed: room, distance: 6 m }") },
        { "unknown-name", "room", Heard("{ mic: Pulpit, feed: §romo, distance: 6 m }") },
        { "no-such-strip", null, Heard("{ mic: Pulpit, feed: §wedges 3, distance: 6 m }") },
        { "bad-value", "fills", Heard("{ mic: Pulpit, feed: §fills 1, distance: 6 m }") },
        { "missing-key", null, Heard("§{ mic: Pulpit, feed: room, loss: 30, by: A }") },
        { "missing-key", null, Heard("§{ mic: Pulpit, feed: room, loss: 30, measured: 2026-11-22 }") },
        { "missing-key", null, Heard("§{ feed: room, distance: 6 m }") },
        { "missing-key", null, Heard("§{ mic: Pulpit, distance: 6 m }") },
        { "missing-key", null, Heard("§{ mic: Pulpit, feed: room }") },
        { "missing-key", null, Heard("{ mic: Pulpit, feed: room, distance: 6 m, acoustic-gain: §{ talker-to-mic: 1 m, talker-to-listener: 1 m, as-if-at: 2 m } }") },
        { "unknown-key", null, Heard("{ mic: Pulpit, feed: room, loss: 30, §distance: 6 m, measured: 2026-11-22, by: A }") },
        { "unknown-key", null, Heard("{ mic: Pulpit, feed: room, distance: 6 m, §measured: 2026-11-22 }") },
        { "unknown-key", "angle", Heard("{ mic: Pulpit, feed: room, distance: 6 m, §angel: 60 }") },
        { "bad-value", null, Heard("{ mic: Pulpit, feed: room, loss: 30, measured: §22.11.2026, by: A }") },
        { "bad-value", null, Heard("{ mic: Pulpit, feed: room, loss: §loud, measured: 2026-11-22, by: A }") },
        { "bad-value", null, Heard("{ mic: Pulpit, feed: room, loss: 30, measured: 2026-11-22, by: §\" \" }") },
        { "bad-value", "empty", Heard("{ mic: Pulpit, feed: room, loss: 30, measured: 2026-11-22, by: A, room: §emtpy }") },
        { "bad-value", null, Heard("{ mic: Pulpit, feed: room, loss: 30, measured: 2026-11-22, by: A, setup: §7f3a }") },
        { "bad-value", null, Heard("{ mic: Pulpit, feed: room, loss: 30, measured: 2026-11-22, by: A, setup: §7f3a91cx }") },
        { "bad-value", null, Heard("{ mic: Pulpit, feed: room, distance: §6 feet }") },
        { "out-of-range", null, Heard("{ mic: Pulpit, feed: room, loss: §121 dB, measured: 2026-11-22, by: A }") },
        { "out-of-range", null, Heard("{ mic: Pulpit, feed: room, loss: §-21, measured: 2026-11-22, by: A }") },
        { "out-of-range", null, Heard("{ mic: Pulpit, feed: room, distance: §501 }") },
        { "out-of-range", null, Heard("{ mic: Pulpit, feed: room, distance: §1 cm }") },
        { "out-of-range", null, Heard("{ mic: Pulpit, feed: room, distance: 6 m, angle: §181 }") },
        { "wrong-shape", null, Heard("§Pulpit") },
        { "wrong-shape", null, Heard("{ mic: Pulpit, feed: room, distance: 6 m, acoustic-gain: §2 m }") },
        { "out-of-range", null, "feeds: { room: { bus: main 1, out: stage 1-2, loudspeaker: { sensitivity: §59 dB, amplifier: 32 dB, critical-distance: 5 m } } }" },
        { "missing-key", null, "feeds: { room: { bus: main 1, out: stage 1-2, loudspeaker: §{ sensitivity: 98 dB, amplifier: 32 dB } } }" },
        { "wrong-shape", null, "feeds: { room: { bus: main 1, out: stage 1-2, loudspeaker: §loud } }" },
        { "bad-value", "cardioid", Room + "inputs: { 1: { to: [room], microphone: { sensitivity: 2.5 mV, pattern: §cardoid } } }" },
        { "bad-value", null, Room + "inputs: { 1: { to: [room], microphone: { sensitivity: §-52 dBV } } }" },
        { "missing-key", null, Room + "inputs: { 1: { to: [room], microphone: §{ pattern: omni } } }" },
        { "unknown-key", null, Room + "inputs: { 1: { name: A, to: [room] } }\ncues: { A: { inputs: { 1: { §microphone: { sensitivity: 2 mV } } } } }" },
        { "missing-key", null, "waivers: [§{ owner: A, why: B, until: 2026-12-31 }]" },
        { "missing-key", null, "waivers: [§{ finding: \"low-cut-off:input/1/low-cut\", why: B, until: 2026-12-31 }]" },
        { "missing-key", null, "waivers: [§{ finding: \"low-cut-off:input/1/low-cut\", owner: A, until: 2026-12-31 }]" },
        { "missing-key", null, "waivers: [§{ finding: \"low-cut-off:input/1/low-cut\", owner: A, why: B }]" },
        { "unknown-key", "until", "waivers: [{ finding: \"low-cut-off:input/1/low-cut\", owner: A, why: B, until: 2026-12-31, §untill: x }]" },
        { "wrong-shape", null, "waivers: §{ finding: a }" },
        { "wrong-shape", null, "waivers: [§low-cut-off]" },
        { "bad-value", null, Waived("§low-cut-off") },
        { "bad-value", null, Waived("§\"low-cut-off:\"") },
        { "bad-value", null, Waived("\"low-cut-off:input/1/low-cut\"", "§31.12.2026") },
        { "bad-value", null, Waived("\"low-cut-off:input/1/low-cut\"", "§2026-02-30") },
        { "bad-value", null, "waivers: [{ finding: \"low-cut-off:input/1/low-cut\", owner: §\" \", why: B, until: 2026-12-31 }]" },
        { "one-of-alone", null, Room + "inputs: { 1: { to: [room], one-of: §true } }" },
        { "one-of-alone", null, Room + "inputs: { 1-2: { to: [room], one-of: §true }, 2: { one-of: false } }" },
        { "bad-value", null, Room + "inputs: { 1-2: { to: [room], one-of: §maybe } }" },
        { "wrong-shape", null, Room + "inputs: { 1-2: { to: [room], one-of: §[1] } }" },
        { "one-of-both-ways", null, Cast + "cues: { A: { open: [Spare 1], closed: [§Spare 2] } }" },
        { "idle-cue", null, Cast + "cues: { §A: { } }" },
        { "idle-cue", null, Cast + "cues: { §A: { settle: 3 s } }" },
        { "idle-cue", null, Cast + "settings: { input/1/low-cut: on }\ncues: { §A: { settings: { input/1/low-cut: on } } }" },
        { "redundant-line", null, Cast + "cues: { A: { open: [talker, §Pulpit] } }" },
        { "redundant-line", null, Cast + "cues: { A: { closed: [Pulpit, §Pulpit] } }" },
        { "redundant-line", null, Cast + "settings: { input/1/low-cut: on }\ncues: { A: { closed: [Pulpit], settings: { input/1/low-cut: §on } } }" },
        { "conflict", null, Cast + "cues: { A: { open: [Pulpit], closed: [§Pulpit] } }" },
        { "conflict", null, Cast + "cues: { A: { closed: [§Pulpit], settings: { input/1/on: on } } }" },
        { "conflict", null, Cast + "cues: { A: { open: [§Pulpit], inputs: { 1: { fader: -inf } } } }" },
        { "conflict", null, Cast + "settings: { input/1/fader: -inf }\ncues: { A: { open: [§talker] } }" },
        { "conflict", null, Cast + "cues: { A: { closed: [§Band], settings: { group/1/fader: 0 dB } } }" },
        { "conflict", null, Cast + "cues: { A: { settings: { input/1/low-cut: on, input/01/low-cut: §off } } }" },
        { "unknown-name", "talker", Cast + "cues: { A: { closed: [§talkr] } }" },
        { "unknown-name", "Pulpit", Cast + "cues: { A: { open: [§Pulpet] } }" },
        { "unknown-name", "Spare", Cast + "cues: { A: { open: [§Spaer] } }" },
        { "unknown-name", "Band", Cast + "cues: { A: { inputs: { 1: { to: [§Bnad] } } } }" },
        { "name-twice", null, Room + "roles: { Pulpit: { to: [room] } }\ninputs: { 1: { name: Pulpit, to: [room] }, 2: { name: B, role: Pulpit } }\ncues: { A: { open: [§Pulpit] } }" },
        { "no-such-strip", null, Cast + "cues: { A: { effects: §muted } }" },
        { "no-such-strip", null, Cast + "effects: { 1: { name: Hall, send: mix 4 } }\ncues: { A: { closed: [§Hall] } }" },
        { "no-such-strip", null, Cast + "cues: { A: { inputs: { §7: { fader: 0 dB } } } }" },
        { "unseen-setting", "input/1/low-cut", Cast + "cues: { A: { settings: { §input/1/lowcut: on } } }" },
        { "constraint-broken", null, "feeds: { room: { bus: main 1, out: stage 1-2, never: [click] } }\nroles: { click: { low-cut: on } }\ninputs: { 1: { role: click } }\ncues: { A: { inputs: { 1: { to: [§room] } } } }" },
        { "constraint-broken", null, "feeds: { room: { bus: main 1, out: stage 1-2, must-carry: [§voice] } }\nroles: { voice: { to: [room] } }\ninputs: { 1: { role: voice } }\ncues: { A: { inputs: { 1: { to: { room: off } } } } }" },
        { "wrong-shape", null, "cues: §[A]" },
        { "wrong-shape", null, "cues: { A: §muted }" },
        { "wrong-shape", null, Cast + "cues: { A: { open: [§[Pulpit]] } }" },
        { "wrong-shape", null, Cast + "cues: { A: { inputs: { 1: §open } } }" },
        { "wrong-shape", null, Cast + "cues: { A: { settings: §[on] } }" },
        { "unknown-key", "closed", Cast + "cues: { A: { §closd: [Pulpit] } }" },
        { "unknown-key", null, Cast + "cues: { A: { inputs: { 1: { §name: B } } } }" },
        { "bad-value", "muted", Cast + "cues: { A: { effects: §mutd } }" },
        { "bad-value", null, Cast + "cues: { A: { open: [Pulpit], settle: §soon } }" },
        { "bad-value", null, Cast + "cues: { A: { open: [Pulpit], settle: §12 } }" },
        { "bad-value", null, Cast + "cues: { A: { open: [Pulpit], settle: §-1 s } }" },
        { "bad-value", null, Cast + "cues: { §\" \": { open: [Pulpit] } }" },
        { "bad-value", null, Cast + "cues: { A: { inputs: { §one: { fader: 0 dB } } } }" },
        { "bad-value", null, Cast + "cues: { A: { inputs: { 1: { fader: §11 dB } } } }" },
        { "out-of-range", null, Cast + "cues: { A: { open: [Pulpit], settle: §601 s } }" },
        { "unknown-key", "inputs", "§input: { 1: { name: A } }" },
        { "unknown-key", "low-cut", Room + "inputs: { 1: { to: [room], §lowcut: on } }" },
        { "unknown-key", null, Room + "inputs: { 1: { to: [room], §purpose: room } }" },
        { "unknown-key", "doors", "phases: { §dors: { free: [levels] } }" },
        { "unknown-key", "levels", "tolerance: { §level s: 1 dB }" },
        { "missing-key", null, "feeds: { room: §{ out: stage 1 } }" },
        { "missing-key", null, "feeds: { §house: { bus: main 1, out: stage 1-2 } }" },
        { "missing-key", null, "effects: { §1: { send: mix 4 } }" },
        { "wrong-shape", null, "inputs: §[1, 2]" },
        { "wrong-shape", null, "inputs: { 1: §Kick }" },
        { "wrong-shape", null, Room + "inputs: { 1: { to: [§[room]] } }" },
        { "wrong-shape", null, Room + "inputs: { 1: { to: [room], low-cut: §[on] } }" },
        { "wrong-shape", null, "settings: { \"input/1/low-cut\": §[on] }" },
        { "bad-value", "doors", "sweep-phase: §dors" },
        { "bad-value", null, "inputs: { §one: { name: A } }" },
        { "bad-value", null, "inputs: { §3-1: { name: A } }" },
        { "bad-value", null, "inputs: { \"§1, 1\": { name: A } }" },
        { "bad-value", null, "tolerance: { levels: §1 furlong }" },
        { "bad-value", "A {side}", Room + "inputs: { 1-2: { to: [room], name: §\"A {sid}\" } }" },
        { "bad-value", "click", "roles: { guide: { private: §clik } }" },
        { "bad-value", "front-fill", "feeds: { fills: { bus: mix 1, out: stage 1, purpose: §front-fil } }" },
        { "bad-value", "mix 1", "feeds: { room: { bus: §mxi 1, out: stage 1 } }" },
        { "bad-value", null, Room + "inputs: { 1: { to: { room: §-10 dB } } }" },
        { "bad-value", null, Room + "inputs: { 1: { to: [room], fader: §11 dB } }" },
        { "bad-value", null, Room + "inputs: { 1: { to: [room], fader: §-10 dB within a bit } }" },
        { "bad-value", "Squeeze", Room + "inputs: { 1: { to: [room], insert: §Squeze } }" },
        { "bad-value", null, "settings: { §low-cut: on }" },
        { "bad-value", "levels", "phases: { doors: { free: [§levls] } }" },
        { "bad-value", null, "tolerance: { delay: §1 dB }" },
        { "bad-value", null, "tolerance: { gain: §-1 dB }" },
        { "bad-value", null, "feeds: { wedges: { bus: mix 1, purpose: monitor, out: stage 1 } }\ntalk: { 1: { to: { wedges: §-5 dB } } }" },
        { "out-of-range", null, "dcas: { §1000: Band }" },
        { "out-of-range", null, Room + "inputs: { 1: { to: [room], insert: { §33: Squeeze } } }" },
        { "duplicate-key", null, "inputs: { 1: { name: A, §name: B } }" },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void Fault_is_named_at_its_place(string code, string? suggestion, string lines)
    {
        var before = lines[..lines.IndexOf('§', StringComparison.Ordinal)];
        // A mark inside quotes stands for the quote before it.
        var inner = before.EndsWith('"') && before.Count(character => character == '"') % 2 == 1 ? 1 : 0;
        var place = new Place(4 + before.Count(character => character == '\n'), before.Length - before.LastIndexOf('\n') - inner);
        var items = Written.ReadPlan(lines.Replace("§", "", StringComparison.Ordinal), out _);
        var item = items.FirstOrDefault(one => one.Code.Id == code);
        Assert.True(item is not null, $"no {code}; found {string.Join("; ", items.Select(DemoShow.Say))}");
        Assert.Equal(place, item.At.Place);
        Assert.Equal(suggestion, item.Suggestion);
        Assert.True(items.Count(one => one.Code.Id == code) == 1, string.Join("; ", items.Select(DemoShow.Say)));
    }

    [Fact]
    public void Every_code_has_a_case() =>
        Assert.Empty(PlanCodes.All.Select(code => code.Id).Except(Faults.Select(row => row.Data.Item1).Append(PlanCodes.NoZoneData.Id)));

    [Fact]
    public void Machine_without_time_zones_says_so_and_goes_on()
    {
        var diagnostics = new DiagnosticBag();
        var document = PlanReader.Read(new SourceText("x.plan.yaml", "format: statewatch/show/1\nshow: Test\nzone: Europe/Lisbon\ndesk: alder.desk.yaml\n"), diagnostics, null, ZoneData.None);
        Assert.Null(document!.Zone);
        Assert.Equal(["no-zone-data 3:7 this machine has no time zone data, so 'Europe/Lisbon' could not be looked up"], diagnostics.Items.Select(DemoShow.Say));
        Assert.False(diagnostics.HasErrors);
    }

    [Theory]
    [InlineData(Room + "inputs: { 1-2: { to: [room], low-cut: on }, 2-3: { to: [room], low-cut: off } }",
        "input/2/low-cut is off here but on at 5:39, and neither line outweighs the other")]
    [InlineData("feeds: { subs: { bus: mix 1, out: stage 2 }, record: { bus: mix 1, out: stage 3 } }", "bus 'mix/1' is already used at 4:23")]
    [InlineData("feeds: { room: { bus: main 1, out: stage 1-2 }, subs: { bus: mix 1, out: stage 2 } }", "output 'output/stage-2' is already used at 4:36")]
    [InlineData("feeds: { Hall: { bus: mix 1, purpose: monitor, out: stage 1 } }\neffects: { 1: { name: Hall, send: mix 4 } }", "'Hall' is also the name of what stands at 4:10")]
    [InlineData("show: B", "'show' stands here a second time; the first is at 2:1")]
    public void Faults_of_two_lines_name_both(string lines, string message) =>
        Assert.Equal(message, Written.ReadPlan(lines, out _).First(item => item.Code.Level == DiagnosticLevel.Error).Message);

    [Fact]
    public void All_faults_are_told_at_once()
    {
        var items = Written.ReadPlan("feeds: { room: { bus: main 1, out: stage 1-9 } }\ninputs:\n  1: { to: [roon] }\n  2: { to: [room], fader: 99 dB }\n  77: { to: [room] }\nsettings: { desk/scene: A }", out _);
        Assert.Equal(["no-such-strip", "no-such-strip", "unknown-name", "bad-value", "unseen-setting"], items.Select(item => item.Code.Id));
    }

    [Fact]
    public void Line_is_not_redundant_because_another_outdoes_what_it_says_by_itself() =>
        Assert.Equal([], Written.ReadPlan("settings: { desk/oscillator: on }", out _).Select(DemoShow.Say));

    [Theory]
    [InlineData("settings: { desk/oscilator: on }", "desk/oscillator")]
    [InlineData("settings: { \"input/1-8/send/mix/2-3/tpa\": pre-fader }", "input/1-8/send/mix/2-3/tap")]
    [InlineData("settings: { \"socket/satge-1-2/gain\": 30 dB }", null)]
    [InlineData("settings: { \"socket/stge-2/gain\": 30 dB }", "socket/stage-2/gain")]
    [InlineData("settings: { \"input/9/low-cut\": on }", null)]
    [InlineData("settings: { \"input/1/low-cut/in\": on }", null)]
    public void Misspelled_word_of_a_path_is_named_but_never_another_number(string lines, string? suggestion)
    {
        var item = Assert.Single(Written.ReadPlan(lines, out _));
        Assert.Equal(("unseen-setting", suggestion), (item.Code.Id, item.Suggestion));
    }

    [Fact]
    public void Line_that_covers_many_strips_is_told_once() =>
        Assert.Equal("bad-value 5:37 input/1/fader: 99 dB is outside what this desk can do here: -inf dB to 10.0 dB",
            DemoShow.Say(Assert.Single(Written.ReadPlan(Room + "inputs: { 1-8: { to: [room], fader: 99 dB } }", out _))));
}
