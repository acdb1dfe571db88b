using System.Text;
using static StateWatch.Core.Tests.Documents.HostileFiles;

namespace StateWatch.Core.Tests.Documents;

/// <summary>Plans that are good YAML and ask for billions.</summary>
internal static class HostilePlans
{
    private const string Head = "format: statewatch/show/1\nshow: A\ndesk: b\n";

    public static IEnumerable<HostileFile> All =>
    [
        Plan("19,000 unknown keys", "unknown-key", Lines(19_000, i => $"zz{i}: 1")),
        Plan("19,000 keys nearly right", "unknown-key", Lines(19_000, i => $"mute-grou{i}: 1")),
        Plan("5,000 unknown roles among 5,000", "unknown-name", "roles:\n" + Lines(5_000, i => $"  talker{i}: {{}}") + "inputs:\n" + Lines(5_000, i => $"  {Key(i, "1")}: {{ role: talkre{i} }}")),
        Plan("range to 999,999,999", "bad-value", "inputs: { 1-999999999: { name: a } }"),
        Plan("path to 999,999,999", "unseen-setting", "settings: { input/1-999999999/on: on }"),
        Plan("path of many ranges", "too-many-values", "settings: { input/1-9999/send/mix/1-9999/level/1-9999: on }"),
        Plan("19,000 paths of 99,990 settings", "too-many-values", "settings:\n" + Lines(19_000, i => $"  input/1-9999/send/mix/1-10/x{i}: on")),
        Plan("19,000 paths of 144 settings, all good", "too-many-values", "settings:\n" + Lines(19_000, i => $"  input/{Zeros(i % 16)}1-{Zeros(i / 16 % 16)}48/send/mix/{Zeros(i / 256 % 16)}1-{Zeros(i / 4096)}3/on: on")),
        Plan("19,000 paths of another phase", "too-many-values", "phases: { show: { settings: {\n" + Lines(19_000, i => $"  input/1-9999/send/mix/1-10/x{i}: on,") + "} } }"),
        Plan("5,000 lines of a schedule", "out-of-range", "schedule:\n" + Lines(5_000, i => $"  - {{ phase: show, at: \"{i / 60 % 24}:{i % 60:00}\", on: {2000 + i}-12-24 }}")),
        Plan("400 cues by one message, at unknown times", "unknown-name", "cues:\n" + Lines(400, i => $"  cue{i}: {{ message: [/a, {i % 3}] }}") + "schedule:\n" + Lines(5_000, i => $"  - {{ cue: ceu{i}, at: \"10:00\" }}")),
        Plan("6,000 paths left to the eye", "too-many-values", "settings:\n" + Lines(6_000, i => $"  input/1-9999/send/mix/1-10/x{i}: {{ be: on, by-eye: true }}")),
        Plan("19,000 sets of 4,096 numbers", "too-many-values", "inputs:\n" + Lines(19_000, i => $"  {Key(i, "1", "4096")}: {{}}")),
        Plan("lists of 4,096 numbers", "no-such-strip", "inputs:\n" + Lines(200, i => $"  \"{string.Join(',', Enumerable.Range(i + 1, 180))}\": {{}}")),
        Plan("9,000 lines of all 48 inputs", "too-many-values", "inputs:\n" + Lines(9_000, i => $"  {Key(i, "1", "48")}: {{ low-cut: on }}")),
        Plan("9,000 lines of one input", "redundant-line", "inputs:\n" + Lines(9_000, i => $"  {Key(i, "1")}: {{ low-cut: on }}")),
        Plan("48 inputs to 38,000 unknown feeds", "unknown-name", "roles: { a: { to: [" + string.Join(",\n  ", Enumerable.Range(0, 38_000).Select(i => $"r{i}")) + "] } }\ninputs: { 1-48: { role: a } }"),
        Plan("48 inputs to one feed 38,000 times", "too-many-values", "feeds: { room: { bus: main 1 } }\nroles: { a: { to: [" + Repeat("room, ", 38_000) + "room] } }\ninputs: { 1-48: { role: a } }"),
        Plan("3,500 feeds on the same buses", "bus-booked-twice", "feeds:\n" + Lines(3_500, i => $"  f{i}: {{ bus: mix 1-16, purpose: monitor, from: {{ f{i}: on }} }}")),
        Plan("3,500 feeds from unknown ones", "bus-booked-twice", "feeds:\n" + Lines(3_500, i => $"  feed{i}: {{ bus: mix 1, purpose: monitor, from: {{ fede{i}: on }} }}")),
        Plan("6,000 roles that are never anywhere", "unknown-name", "roles:\n" + Lines(6_000, i => $"  r{i}: {{ never: [r, s] }}") + "inputs: { 1-48: { role: r1 } }"),
        Plan("a feed only for 38,000 roles", "unknown-name", "feeds: { room: { bus: main 1, only: [" + Repeat("s, ", 38_000) + "r] } }\ninputs: { 1-48: { role: r } }\nroles: { r: { to: room } }"),
        Plan("a feed without 38,000 inputs", "unknown-name", "feeds: { room: { bus: main 1, minus: [" + Repeat("Solo, ", 38_000) + "] } }\ninputs: { 1-48: { name: \"Solist {n}\" } }"),
        Plan("name made of 300 placeholders", "bad-value", "inputs: { 1-48: { name: \"" + Repeat("{n}", 300) + "\" } }"),
        Plan("name of 1,000,000 open braces", "text-too-long", "inputs: { 1-48: { name: \"" + new string('{', 1_000_000) + "\" } }"),
        Plan("4,000 waivers", "unknown-rule", "waivers:\n" + Lines(4_000, i => $"  - {{ finding: \"low-cut-of:input/{i}/low-cu\", owner: a, why: b, until: 2026-12-31 }}")),
        Plan("3,000 couplings of all 48 inputs with 16 wedges", "too-many-values", "feeds: { wedges: { bus: mix 1-16, purpose: monitor, out: stage 1-16 } }\ninputs: { 1-48: { name: \"Mic {n}\" } }\ncouplings:\n" + Lines(3_000, _ => "  - { mic: Mic, feed: wedges, loss: 30, measured: 2026-11-22, by: a }")),
        Plan("4,000 couplings of unknown microphones", "unknown-name", "feeds: { room: { bus: main 1, out: stage 1-2 } }\ninputs: { 1-48: { name: \"Mic {n}\" } }\ncouplings:\n" + Lines(4_000, i => $"  - {{ mic: Mci {i}, feed: romo, distance: 1 m }}")),
        Plan("9,000 talk circuits of 4,096", "too-many-values", "talk:\n" + Lines(9_000, i => $"  {Key(i, "1", "4096")}: {{ to: [] }}")),
        Plan("a setting in 1,000 words", "text-too-long", "settings: { " + Repeat("a/", 1_000) + "a: on }"),
        Plan("19,000 misspelled settings of one input", "unseen-setting", "settings:\n" + Lines(19_000, i => $"  input/{Zeros(i % 180)}1/{(i / 180 % 2 == 0 ? "source" : "name")}{i}: stagee {i}")),
        Plan("4,000 settings with faulty values", "bad-value", "settings:\n" + Lines(4_000, i => $"  input/{Zeros(i % 80)}{1 + i / 80 % 48}/source: stagee {i}")),
        Plan("19,000 misspelled settings", "unseen-setting", "settings:\n" + Lines(19_000, i => $"  input/{i}/low-cit: on")),
        Plan("38,000 sentences for the eye", "redundant-line", "by-eye:\n" + Lines(38_000, i => $"  - look {i % 1000}")),
        Plan("extends itself", "cannot-extend", "extends: x.yaml") with { Below = _ => Bytes(Head + "extends: x.yaml") },
        Plan("extends round and round", "cannot-extend", "extends: y") with { Below = name => Bytes(Head + $"extends: {name}y") },
        Plan("extends and leads back", "cannot-extend", "extends: y") with { Below = name => Bytes(Head + (name == "y" ? "extends: z" : "extends: y")) },
        Plan("eight plans of 19,000 lines over each other", "too-many-values", "extends: y\n" + Lines(19_000, i => $"k{i}: 1")) with
        {
            Below = name => Bytes(Head + Lines(19_000, i => $"k{i}: 1") + (name.Length < 9 ? $"extends: {name}y" : "")),
        },
    ];

    // The same numbers, each time written in another way: keys must be unique.
    private static string Key(int way, string first, string last = "") =>
        $"\"{new string(' ', way % 30)}{Zeros(way / 30 % 30)}{first}{(last.Length > 0 ? "-" : "")}{last}{new string(' ', way / 900)}\"";

    private static string Zeros(int count) => new('0', count);

    private static HostileFile Plan(string what, string code, string lines) => new(what, HostileKind.Plan, code, () => Bytes(Head + lines));

    private static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);
}
