using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Profiles;

/// <summary>Every fault a profile can have, at its place, with the word that was meant. The place is marked with §.</summary>
public class ProfileDiagnosticTests
{
    /// <summary>Code, suggestion, what of <see cref="Written.Desk"/> is replaced, and by what.</summary>
    public static TheoryData<string, string?, string, string> Faults => new()
    {
        { "unknown-setting", "input/{i}/fader", "\"input/{i}/fader\":", "§\"input/{i}/fadr\":" },
        { "unknown-setting", "input/1/fader", "\"input/{i}/fader\": { at: \"/i/{i}/fader\"", "§\"inpt/1/fader\": { at: \"/i/1/fader\"" },
        { "unknown-setting", null, "\"desk/oscillator\":", "§\"desk/kettle-boiling\":" },
        { "unknown-codec", "half", "fader\", args: [half]", "fader\", args: [§hlaf]" },
        { "unknown-codec", null, "args: [sway]", "args: [§something-else]" },
        { "codec-mismatch", null, "fader\", args: [half]", "fader\", args: [§yes]" },
        { "codec-mismatch", null, "{ level: half }, { tap", "{ level: §spot }, { tap" },
        { "setting-mapped-twice", null, "\"input/{i}/pan\":", "§\"input/1/fader\": { at: \"/elsewhere\", args: [half] }\n  \"input/{i}/pan\":" },
        { "argument-mapped-twice", null, "\"input/{i}/pan\": { at: \"/i/{i}/pan\", args: [sway] }", "§\"input/{i}/pan\": { at: \"/i/{i}/fader\", args: [sway] }" },
        { "unknown-placeholder", null, "at: \"/i/{i}/fader\"", "at: §\"/i/{j}/fader\"" },
        { "unknown-placeholder", null, "bit: \"{m-1}\"", "bit: §\"{k-1}\"" },
        { "unknown-placeholder", null, "\"input/{i}/linked\":", "§\"input/{i:02}/linked\":" },
        { "unknown-placeholder", null, "\"input/{i}/linked\": { at: \"/i/{i}/twin\", args: [yes] }", "§\"socket/local-{k}/gain\": { at: \"/l/{k}\", args: [lift] }" },
        { "unknown-placeholder", null, "fader\", args: [half] }\n  \"input/{i}/pan", "fader\", args: [half], for: { §j: 1-3 } }\n  \"input/{i}/pan" },
        { "unknown-placeholder", null, "\"stage {n}\": \"s{n}\", \"usb", "\"stage {n}\": §\"s{m}\", \"usb" },
        { "unknown-placeholder", null, "points: { none: \"-\", \"stage {n}\": \"s{n}\", \"usb", "points: { none: §\"-{n}\", \"stage {n}\": \"s{n}\", \"usb" },
        { "unknown-placeholder", null, "\"usb {n}\": \"u{n}\"", "§\"air {n}\": \"u{n}\"" },
        { "bad-number-form", null, "at: \"/i/{i}/fader\"", "at: §\"/i/{i*2}/fader\"" },
        { "bad-number-form", null, "at: \"/i/{i}/fader\"", "at: §\"/i/{i/fader\"" },
        { "bad-number-form", null, "at: \"/i/{i}/fader\"", "at: §\"/i/i}/fader\"" },
        { "bad-number-form", null, "at: \"/i/{i}/fader\"", "at: §\"/i/{i-2}/fader\"" },
        { "bad-number-form", null, "at: \"/i/{i}/fader\"", "at: §\"/i/{(i-9)/2}/fader\"" },
        { "bad-number-form", null, "\"desk/talk/{t}/to/mix-{m}\": { at: \"/talk/{t}\", arg: \"0\", bit: \"{m-1}\" }", "§\"desk/talk/{t}/to/mix-{m}\": { at: \"/talk/{t}\", arg: \"0\", bit: \"{m+30}\" }" },
        { "bad-number-form", null, "\"desk/talk/{t}/to/mix-{m}\": { at: \"/talk/{t}\", arg: \"0\", bit: \"{m-1}\" }", "§\"desk/talk/{t}/to/mix-{m}\": { at: \"/talk/{t}\", arg: \"0\", bit: \"x\" }" },
        { "bad-address", null, "at: \"/tone\"", "at: §\"tone\"" },
        { "bad-address", null, "at: \"/tone\"", "at: §\"/to ne\"" },
        { "bad-address", null, "at: \"/tone\"", "at: §\"/to*ne\"" },
        { "bad-address", null, "slots:", "identify: { ask: §who }\nslots:" },
        { "bad-address", null, "slots:", "ignore: [§\"/dial/[\"]\nslots:" },
        { "bad-value", "stage 1-4", "slots:", "boxes: { 1: { sockets: §stage1-4 } }\nslots:" },
        { "no-such-strip", "stage 1-4", "slots:", "boxes: { 1: { sockets: §stgae 1-4 } }\nslots:" },
        { "bad-value", null, "slots:", "boxes: { 1: { sockets: stage 1-4 }, 2: { sockets: §stage 4-8 } }\nslots:" },
        { "no-such-strip", null, "slots:", "boxes: { 1: { sockets: §stage 1-4000 } }\nslots:" },
        { "wrong-shape", null, "slots:", "boxes: { 1: §stage 1-4 }\nslots:" },
        { "unknown-key", "sockets", "slots:", "boxes: { 1: { §sokcets: stage 1-4 } }\nslots:" },
        { "question-could-set", null, "\"desk/oscillator\": { at: \"/tone\", args: [yes] }", "\"desk/oscillator\": §{ at: \"/tone\" }" },
        { "question-could-set", null, "\"desk/oscillator\": { at: \"/tone\", args: [yes] }", "\"desk/oscillator\": §{ at: \"/tone\", args: [] }" },
        { "question-could-set", null, "slots:", "follow: { keep-alive: { ask: §/i/1/fader/0.75 } }\nslots:" },
        { "question-could-set", null, "slots:", "follow: { keep-alive: { ask: §/tone/on } }\nslots:" },
        { "question-could-set", null, "slots:", "follow: { keep-alive: { ask: §/turned/2 } }\ninvalidate: [{ on: \"/turned/*\" }]\nslots:" },
        { "bad-address", null, "slots:", "follow: { keep-alive: { ask: §\"/st*y\" } }\nslots:" },
        { "bad-address", null, "slots:", "invalidate: [{ on: §\"/turned/[\" }]\nslots:" },
        { "out-of-range", null, "slots:", "follow: { keep-alive: §{ ask: /stay, every: 6 s, lasts: 10 s } }\nslots:" },
        { "out-of-range", null, "slots:", "follow: { lost-after: §100 ms }\nslots:" },
        { "bad-value", null, "slots:", "follow: { round: §daily }\nslots:" },
        { "missing-key", null, "slots:", "follow: { often: §{ settings: \"desk/*\" } }\nslots:" },
        { "missing-key", null, "slots:", "invalidate: [§{ reread: all }]\nslots:" },
        { "unknown-setting", null, "slots:", "follow: { often: { settings: [\"input/*/fader\", §\"inptu/*\"], every: 1 s } }\nslots:" },
        { "unknown-setting", null, "slots:", "invalidate: [{ on: /turned, reread: §desk/kettle-boiling }]\nslots:" },
        { "bad-value", null, "slots:", "invalidate: [{ on: /turned, reread: §\"in*ut*/fader\" }]\nslots:" },
        { "wrong-shape", null, "slots:", "invalidate: [§/turned]\nslots:" },
        { "bad-table", null, "[0.2, -60], [1, 10]]", "[0.2, -60], §[0.1, 10]]" },
        { "bad-table", null, "[0.2, -60], [1, 10]]", "[0.2, -60], §[1, -61]]" },
        { "bad-table", null, "half:  { wire: float, table: [[0, -inf], [0.2, -60], [1, 10]], steps: 176 }", "half:  { wire: float, table: §[[0, -inf]], steps: 176 }" },
        { "bad-table", null, "late:  { wire: float, unit: ms }", "late:  { wire: float, unit: ms, steps: §5 }" },
        { "word-spelled-twice", null, "post-fader: 1 }", "post-fader: §0 }" },
        { "word-spelled-twice", null, "\"usb {n}\": \"u{n}\"", "\"usb {n}\": §\"s{n}\"" },
        { "unclear-codec", null, "yes:   { wire: int, switch: [0, 1] }", "§yes:   { wire: int }" },
        { "unclear-codec", null, "yes:   { wire: int, switch: [0, 1] }", "yes:   §{ wire: int, switch: [0, 1], inverted: true }" },
        { "unclear-codec", null, "\"desk/oscillator\": { at: \"/tone\", args: [yes] }", "\"desk/oscillator\": §{ at: \"/tone\", args: [yes], bit: \"0\" }" },
        { "too-many-settings", null, "", "" },
        { "unused-codec", null, "  yes:   {", "  §spare: { wire: int, switch: [0, 1] }\n  yes:   {" },
        { "file-too-large", null, "", "" },
        { "wrong-encoding", null, "", "" },
        { "empty-file", null, "", "" },
        { "tab-indent", null, "  yes:", "§\tyes:" },
        { "not-yaml", null, "desk: Alder 8", "desk: Alder§: 8" },
        { "too-deep", null, "", "" },
        { "too-many-values", null, "", "" },
        { "text-too-long", null, "desk: Alder 8", $"desk: §{new string('x', 1001)}" },
        { "not-in-language", null, "desk: Alder 8", "desk: §&a Alder 8" },
        { "duplicate-key", null, "desk: Alder 8", "desk: Alder 8\n§desk: Alder 9" },
        { "unknown-key", "slots", "slots:", "§slot: { insert: 2, talk: 1 }\nslots:" },
        { "unknown-key", "rounds", "osc: udp,", "osc: udp, §round: 3," },
        { "unknown-key", "args", "args: [sway]", "args: [sway], §arfs: [yes]" },
        { "unknown-key", "fx-return", "fx-return: 1,", "fx-return: 1, §fx-retrun: 1," },
        { "unknown-key", "steps", "steps: 21", "§stps: 21" },
        { "missing-key", null, "format: statewatch/desk/1\n", "" },
        { "missing-key", null, "\"desk/oscillator\": { at: \"/tone\", args: [yes] }", "\"desk/oscillator\": §{ args: [yes] }" },
        { "missing-key", null, "link: { osc: udp, to: 127.0.0.1:9051 }", "link: §{ osc: udp }" },
        { "wrong-shape", null, "slots: { insert: 2, talk: 1 }", "slots: §2" },
        { "wrong-shape", null, "\"desk/oscillator\": { at: \"/tone\", args: [yes] }", "\"desk/oscillator\": §/tone" },
        { "wrong-shape", null, "args: [sway]", "args: [§[sway]]" },
        { "wrong-shape", null, "{ none: \"-\", Squeeze: sq, Hiss: hi }", "{ none: \"-\", Squeeze: §[sq], Hiss: hi }" },
        { "wrong-shape", null, "\"usb {n}\": \"u{n}\"", "\"usb {n}\": §[\"u{n}\"]" },
        { "wrong-shape", null, "socket: { stage: 8, usb: 2 }", "socket: §10" },
        { "wrong-shape", null, "link: { osc: udp, to: 127.0.0.1:9051 }", "link: §127.0.0.1" },
        { "bad-value", "udp", "osc: udp", "osc: §tcp" },
        { "bad-value", null, "to: 127.0.0.1:9051", "to: §127.0.0.1" },
        { "bad-value", "float", "sway:  { wire: float", "sway:  { wire: §flaot" },
        { "bad-value", null, "insert: 2", "insert: §two" },
        { "bad-value", null, "on\", args: [yes], reset: on", "on\", args: [yes], reset: §maybe" },
        { "bad-value", "Squeeze", "args: [unit]", "args: [unit], reset: §Sqeeze" },
        { "bad-value", null, "unit: ms", "unit: §furlong" },
        { "bad-value", null, "pad: space", "pad: §zero" },
        { "out-of-range", null, "to: 127.0.0.1:9051", "to: 127.0.0.1:9051, in-flight: §129" },
        { "out-of-range", null, "to: 127.0.0.1:9051", "to: 127.0.0.1:9051, time-out: §9 ms" },
        { "out-of-range", null, "to: 127.0.0.1:9051", "to: 127.0.0.1:9051, rounds: §0" },
        { "out-of-range", null, "\"input/{i}/pan\": { at: \"/i/{i}/pan\"", "§\"input/9/pan\": { at: \"/i/9/pan\"" },
        { "out-of-range", null, "\"socket/stage-{k}\": { at: \"/s/{k}\"", "§\"socket/stage-9\": { at: \"/s/9\"" },
        { "wrong-shape", null, "slots:", "identify: { ask: /who, expect: [alder, §[2]] }\nslots:" },
        { "out-of-range", null, "args: [sway]", "args: [sway], for: { i: §1-9 }" },
        { "wrong-format", "statewatch/desk/1", "format: statewatch/desk/1", "format: §statewatch/desk/2" },
        { "wrong-format", null, "format: statewatch/desk/1", "format: §statewatch/show/1" },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void Fault_is_named_at_its_place(string code, string? suggestion, string old, string replacement)
    {
        if (old.Length == 0)
            return; // Whole files have tests of their own, here and in HostileFileTests.
        Assert.Contains(old, Written.Desk, StringComparison.Ordinal);
        var marked = Replace(Written.Desk, old, replacement);
        var at = marked.IndexOf('§', StringComparison.Ordinal);
        var before = at < 0 ? "" : marked[..at];
        var items = Written.ReadProfile(marked.Replace("§", "", StringComparison.Ordinal), out _);
        var item = items.FirstOrDefault(one => one.Code.Id == code);
        Assert.True(item is not null, $"no {code}; found {string.Join("; ", items.Select(DemoShow.Say))}");
        Assert.Equal(new Place(before.Count(character => character == '\n') + 1, before.Length - before.LastIndexOf('\n')), item.At.Place);
        Assert.Equal(suggestion, item.Suggestion);
        Assert.True(items.Count(one => one.Code.Id == code) == 1, string.Join("; ", items.Select(DemoShow.Say)));
    }

    [Fact]
    public void Every_code_has_a_case()
    {
        var cases = Faults.Select(row => row.Data.Item1).ToHashSet(StringComparer.Ordinal);
        Assert.Empty(ProfileCodes.All.Concat(DocumentCodes.All).Select(code => code.Id).Except(cases));
    }

    [Fact]
    public void Codes_are_listed_once_and_mean_something()
    {
        var all = DocumentCodes.All.Concat(ProfileCodes.All).Concat(Core.Plans.PlanCodes.All).Concat(Simulator.Incidents.IncidentCodes.All).ToList();
        Assert.Equal(all.Count, all.Select(code => code.Id).Distinct(StringComparer.Ordinal).Count());
        Assert.All(all, code => Assert.True(code.Meaning.Length > 15 && code.Meaning.EndsWith('.'), code.Id));
        foreach (var type in (Type[])[typeof(DocumentCodes), typeof(ProfileCodes), typeof(Core.Plans.PlanCodes), typeof(Simulator.Incidents.IncidentCodes)])
        {
            var fields = type.GetFields().Where(field => field.FieldType == typeof(DiagnosticCode)).Select(field => field.GetValue(null));
            Assert.Empty(fields.Except(all));
        }
    }

    [Fact]
    public void More_settings_than_are_watched_are_refused()
    {
        const string Text = """
            format: statewatch/desk/1
            desk: Giant
            link: { osc: udp, to: 127.0.0.1:9051 }
            strips: { input: 2000, mix: 101 }
            codecs: { yes: { wire: int, switch: [0, 1] } }
            settings: { "input/{i}/send/mix/{m}/on": { at: "/{i}/{m}", args: [yes] } }
            """;
        Assert.Equal("too-many-settings 6:13 the profile maps more than 100,000 settings", DemoShow.Say(Assert.Single(Written.ReadProfile(Text, out _))));
    }

    [Fact]
    public void Two_lines_for_one_setting_are_both_named()
    {
        var items = Written.ReadProfile(Replace(Written.Desk, "  \"input/{i}/pan\":", "  \"input/1/fader\": { at: \"/elsewhere\", args: [half] }\n  \"input/{i}/pan\":"), out _);
        Assert.Equal("21:3 'input/1/fader' is mapped here and at 20:3", $"{Assert.Single(items).At.Place} {items[0].Message}");
    }

    [Fact]
    public void Two_lines_for_one_bit_are_both_named()
    {
        var items = Written.ReadProfile(Replace(Written.Desk, "\"desk/oscillator\": { at: \"/tone\", args: [yes] }", "\"desk/talk/1/to/main-1\": { at: \"/talk/1\", arg: \"0\", bit: \"3\" }"), out _);
        Assert.Equal("46:3 argument 1 bit 3 of /talk/1 is 'desk/talk/1/to/mix-4' here and 'desk/talk/1/to/main-1' at 45:3", $"{Assert.Single(items).At.Place} {items[0].Message}");
    }

    [Fact]
    public void All_faults_are_told_at_once()
    {
        var text = Replace(Replace(Replace(Written.Desk, "fader\", args: [half]", "fader\", args: [hlaf]"), "at: \"/tone\"", "at: \"tone\""), "insert: 2", "insert: two");
        Assert.Equal(["bad-value", "unknown-codec", "bad-address"], Written.ReadProfile(text, out _).Select(item => item.Code.Id).Where(code => code != "unknown-placeholder"));
    }

    private static string Replace(string text, string old, string replacement)
    {
        var at = text.IndexOf(old, StringComparison.Ordinal);
        return text[..at] + replacement + text[(at + old.Length)..];
    }
}
