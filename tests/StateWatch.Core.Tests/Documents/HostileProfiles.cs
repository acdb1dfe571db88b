using System.Text;
using static StateWatch.Core.Tests.Documents.HostileFiles;

namespace StateWatch.Core.Tests.Documents;

/// <summary>Desk profiles that are good YAML and expand to billions.</summary>
internal static class HostileProfiles
{
    private const string Head = "format: statewatch/desk/1\ndesk: A\nlink: { osc: udp, to: 127.0.0.1:9000 }\n";
    private const string Strips = "strips: { input: 2048, group: 2048, mix: 2048, matrix: 2048, dca: 2048, mute-group: 2048, socket: { stage: 2048 }, output: { stage: 2048 } }\nslots: { insert: 2048 }\n";
    private const string Codecs = "codecs: { h: { wire: float, unit: ms }, y: { wire: int, switch: [0, 1] }, l: { wire: float, table: [[0, -inf], [1, 10]] } }\n";

    private const string Sends = "settings:\n  \"input/{i}/send/mix/{m}\": { at: \"/{i}/{m}\", args: [{ on: y }, { level: l }] }\n";

    public static IEnumerable<HostileFile> All =>
    [
        Profile("19,000 unknown keys", "unused-codec", Strips + Codecs + "settings: {}\n" + Lines(19_000, i => $"zz{i}: 1")),
        Profile("999,999,999 inputs", "out-of-range", "strips: { input: 999999999 }\n" + Codecs + "settings: {}"),
        Profile("4,194,304 sends", "too-many-settings", Strips + Codecs + "settings: { \"input/{i}/send/mix/{m}\": { at: \"/{i}/{m}\", args: [{ on: y }, { level: l }] } }"),
        Profile("4,194,304 sends in one message", "bad-number-form", Strips + Codecs + "settings: { \"input/{i}/mute-group/{g}\": { at: \"/a\", arg: \"{i}\", bit: \"{g}\" } }"),
        Profile("198,656 members in bits of 97 messages", "too-many-settings", Strips + Codecs + "settings: { \"input/{i}/dca/{d}\": { at: \"/{d}\", arg: \"{(i-1)/32}\", bit: \"{(i-1)%32}\" } }"),
        Profile("one bit for all", "argument-mapped-twice", Strips + Codecs + "settings: { \"input/{i}/dca/{d}\": { at: \"/a\", arg: \"0\", bit: \"0\" } }"),
        Profile("for 1-999999999", "out-of-range", Strips + Codecs + "settings: { \"input/{i}/delay\": { at: \"/{i}\", args: [h], for: { i: 1-999999999 } } }"),
        Profile("for with 19,000 placeholders", "unknown-placeholder", Strips + Codecs + "settings: { \"input/{i}/delay\": { at: \"/{i}\", args: [h], for: {" + Lines(19_000, i => $" p{i}: 1,") + "} } }"),
        Profile("number forms of a million", "setting-mapped-twice", Strips + Codecs + "settings: { \"input/{i}/delay\": { at: \"/{1000000+i:09}/{(i+1000000)/1000000:a}\", args: [h] }, \"input/{j}/delay\": { at: \"/b/{j}\", args: [h] } }"),
        Profile("300 number forms in one address", "bad-number-form", Strips + Codecs + "settings: { \"input/{i}/delay\": { at: \"/" + Repeat("{i}", 300) + "\", args: [h] } }"),
        Profile("1,000,000 number forms in one address", "text-too-long", Strips + Codecs + "settings: { \"input/{i}/delay\": { at: \"/" + Repeat("{i}", 1_000_000) + "\", args: [h] } }"),
        Profile("path of 300 words", "unknown-setting", Strips + Codecs + "settings: { \"" + Repeat("a/", 300) + "a\": { at: \"/a\", args: [h] } }"),
        Profile("4,000 entries of 2,048 settings", "setting-mapped-twice", Strips + Codecs + "settings:\n" + Lines(4_000, i => $"  \"input/{{{Word(i)}}}/delay\": {{ at: \"/{Word(i)}/{{{Word(i)}}}\", args: [h] }}")),
        Profile("4,000 misspelled settings", "unknown-setting", Strips + Codecs + "settings:\n" + Lines(4_000, i => $"  \"input/{{{Word(i)}}}/dealy\": {{ at: \"/{Word(i)}/{{{Word(i)}}}\", args: [h] }}")),
        Profile("12,000 misspelled arguments", "unknown-setting", Strips + Codecs + "settings: { \"input/{i}\": { at: \"/a\", args: [" + Repeat("{ dealy: h }, ", 12_000) + "] } }"),
        Profile("3,000 codecs and 9,000 unknown ones", "unknown-codec", Strips + "codecs:\n" + Lines(3_000, i => $"  codec{i}: {{ wire: int, switch: [0, 1] }}") + "settings: { \"input/{i}\": { at: \"/{i}\", args: [" + string.Join(", ", Enumerable.Range(0, 9_000).Select(i => $"cdoec{i}")) + "] } }"),
        Profile("3,000 codecs of 65,536 steps", "too-many-values", Strips + "codecs:\n" + Lines(3_000, i => $"  c{i}: {{ wire: float, table: [[0, 0], [1, 1]], steps: 65536, unit: ms }}") + "settings: {}"),
        Profile("table of 12,000 points", "good", Strips + "codecs: { c: { wire: float, steps: 65536, unit: ms, table: [" + Lines(12_000, i => $" [{i}, {i}],") + "] } }\nsettings: { \"input/{i}/pan\": { at: \"/{i}\", args: [c] } }"),
        Profile("4,000 lists of 2,048 points", "too-many-values", Strips + "codecs:\n" + Lines(4_000, i => $"  c{i}: {{ wire: string, points: {{ \"stage {{n}}\": \"{{n}}\" }} }}") + "settings: {}"),
        Profile("points of 9,000 banks", "too-many-values", "strips: { socket: {" + Lines(9_000, i => $" {Word(i)}: 2048,") + "} }\ncodecs: { c: { wire: string, points: {\n" + Lines(9_000, i => $" \"{Word(i)} {{n}}\": \"{Word(i)}{{n}}\",") + "} } }\nsettings: {}"),
        Profile("choices x 18,000", "word-spelled-twice", Strips + "codecs: { c: { wire: int, choices: {" + Lines(16_000, i => $" w{i}: 1,") + "} } }\nsettings: {}"),
        Profile("36,000 patterns to ignore", "out-of-range", Strips + Codecs + "settings: {}\nignore: [" + Lines(36_000, i => $" \"/a{i}/*\",") + "]"),
        Profile("pattern of 300 stars to ignore", "unused-codec", Strips + Codecs + "settings: {}\nignore: [\"/" + Repeat("*a", 300) + "\"]"),
        Profile("36,000 texts to expect", "out-of-range", "identify: { ask: /a, expect: [" + Repeat("\"*a*a*a*\",\n  ", 36_000) + "] }\n" + Strips + Codecs + "settings: {}"),
        Profile("9,000 messages to read again", "out-of-range", Strips + Codecs + "settings: {}\ninvalidate:\n" + Lines(9_000, i => $"  - {{ on: /a{i} }}")),
        Profile("18,000 settings asked often", "out-of-range", "strips: { input: 4, mix: 4 }\n" + Codecs + Sends + "follow: { often: { every: 1 s, settings: [" + Lines(18_000, i => $" input/*/send/mix/*/on,") + "] } }"),
        Profile("sixteen patterns over 90,112 settings", "good", "strips: { input: 2048, mix: 22 }\ncodecs: { y: { wire: int, switch: [0, 1] }, l: { wire: float, unit: ms } }\n" + Sends.Replace("{ level: l }", "{ pan-follow: y }", StringComparison.Ordinal)
            + "  \"input/{i}/delay\": { at: \"/{i}\", args: [l] }\nfollow: { often: { every: 1 s, settings: [" + Lines(16, i => $" input/{1 + (i % 9)}*/send/mix/*/on,") + "] } }"),
        Profile("keep-alive of 600 parts", "text-too-long", Strips + Codecs + "settings: {}\nfollow: { keep-alive: { ask: " + Repeat("/a", 600) + " } }"),
        Profile("18,000 faulty banks", "bad-value", "strips: { socket: {" + Lines(16_000, i => $" B{i}: 1,") + "} }\n" + Codecs + "settings: {}"),
    ];

    private static string Word(int number)
    {
        var word = "";
        for (var rest = number + 1000; rest > 0; rest /= 26)
            word = (char)('a' + (rest % 26)) + word;
        return word;
    }

    private static HostileFile Profile(string what, string code, string lines) => new(what, HostileKind.Profile, code, () => Encoding.UTF8.GetBytes(Head + lines));
}
