using System.Text;
using StateWatch.Core.Documents;
using static StateWatch.Core.Tests.Documents.HostileKind;

namespace StateWatch.Core.Tests.Documents;

/// <summary>Files that are hostile whatever language they claim to be in: nesting, aliases, encodings, sizes, keys.</summary>
internal static class HostileFiles
{
    private const int Most = SourceText.MaxBytes;

    /// <summary>Every hostile file of all languages.</summary>
    public static IEnumerable<HostileFile> All => Texts.Concat(HostilePlans.All).Concat(HostileProfiles.All).Concat(HostileIncidents.All);

    private static IEnumerable<HostileFile> Texts =>
    [
        Text("[ x 200,000", "too-deep", () => new string('[', 200_000)),
        Text("[ x 1,000,000", "text-too-long", () => new string('[', 1_000_000)),
        Text("{ x 1,000,000", "text-too-long", () => new string('{', 1_000_000)),
        Text("'- ' x 120,000 in one line", "too-deep", () => Repeat("- ", 120_000)),
        Text("'- ' x 1,000,000 in one line", "text-too-long", () => Repeat("- ", 1_000_000)),
        Text("'? ' x 120,000 in one line", "too-deep", () => Repeat("? ", 120_000)),
        Text("'? ' x 1,000,000 in one line", "text-too-long", () => Repeat("? ", 1_000_000)),
        Text("'- ? ' x 60,000", "too-deep", () => Repeat("- ? ", 60_000)),
        Text("'[{a: ' x 40,000", "too-deep", () => Repeat("[{a: ", 40_000)),
        Text("'- [' x 60,000", "not-yaml", () => Repeat("- [", 60_000)),
        Text("'{? ' x 60,000", "too-deep", () => Repeat("{? ", 60_000)),
        Text("'? [' x 60,000", "too-deep", () => Repeat("? [", 60_000)),
        Text("lines indented deeper and deeper, 2,000", "too-deep", () => string.Join('\n', Enumerable.Range(0, 2000).Select(depth => new string(' ', depth) + "k:"))),
        Text("'[]' x 60,000 in one list", "too-many-values", () => "a: [" + Repeat("[],", 60_000) + "]"),
        Text("': ' x 120,000", "not-yaml", () => Repeat(": ", 120_000)),
        Text("'a: ' x 80,000 in one line", "not-yaml", () => Repeat("a: ", 80_000)),
        Text("',' x 240,000 in a list", "not-yaml", () => "a: [" + new string(',', 240_000)),
        Text("']' x 240,000", "not-yaml", () => new string(']', 240_000)),
        Text("':' x 240,000", "text-too-long", () => new string(':', 240_000)),
        Text("billion laughs", "not-in-language", () => "a: &a [x, x, x]\n" + string.Concat(Enumerable.Range(0, 24).Select(i => $"{(char)('b' + i)}: &{(char)('b' + i)} [*{(char)('a' + i)}, *{(char)('a' + i)}, *{(char)('a' + i)}]\n"))),
        Text("aliases x 60,000", "not-in-language", () => "a: [" + Repeat("*b, ", 60_000) + "]"),
        Text("anchors x 80,000", "not-yaml", () => Repeat("&a ", 80_000)),
        Text("tags x 40,000", "not-in-language", () => "a: [" + Repeat("!b c, ", 40_000) + "]"),
        Text("merge keys x 90,000", "not-in-language", () => "a: &a {b: c}\n" + Lines(90_000, i => $"k{i}: {{<<: *a}}")),
        Text("documents x 90,000", "not-in-language", () => Repeat("---\n", 90_000)),
        Text("directives x 90,000", "not-in-language", () => Lines(90_000, i => $"%TAG !t{i}! tag:x,2026:{i}/") + "---\na: b\n"),
        Text("open quote and 4 MB", "text-too-long", () => "a: \"" + new string('x', Most - 4)),
        Text("open quote and 90,000 lines", "not-yaml", () => "a: \"" + Repeat("x and so on and so on and so on\n", 90_000)),
        Text("escapes x 40,000", "text-too-long", () => "a: \"" + Repeat("\\u0041", 40_000) + "\""),
        Text("value of 4 MB", "text-too-long", () => "a: " + new string('x', Most - 3)),
        Text("quoted value of 4 MB", "text-too-long", () => "a: \"" + new string('x', Most - 5) + "\""),
        Text("block text of 4 MB in one line", "text-too-long", () => "a: |\n  " + new string('x', Most - 7)),
        Text("block text of 90,000 lines", "text-too-long", () => "a: >\n" + Repeat(" x and so on and so on and so on\n", 90_000)),
        Text("plain text over 90,000 lines", "text-too-long", () => "a:\n" + Repeat(" x and so on and so on and so on\n", 90_000)),
        Text("key of 240,000", "text-too-long", () => new string('k', 240_000) + ": 1"),
        Text("value of 240,000", "text-too-long", () => "a: " + new string('x', 240_000)),
        Text("key of 4 MB", "text-too-long", () => new string('k', Most - 3) + ": 1"),
        Text("quoted key of 4 MB", "text-too-long", () => "\"" + new string('k', Most - 5) + "\": 1"),
        Text("announced key of 4 MB", "text-too-long", () => "? " + new string('k', Most - 6) + "\n: 1"),
        Text("the same key x 100,000", "too-many-values", () => "a: 1\n" + Repeat("a: 1\n", 99_999)),
        Text("the same key x 19,000", "duplicate-key", () => "a: 1\n" + Repeat("a: 1\n", 18_999)),
        Text("the same key x 19,000 in braces", "duplicate-key", () => "k: {" + Repeat("a: 1, ", 19_000) + "}"),
        Text("keys that are lists x 19,000", "wrong-shape", () => "k: {" + Repeat("[]: 1, ", 19_000) + "}"),
        Text("500,000 short lines", "too-many-values", () => Lines(500_000, i => $"{i}:")),
        Text("240,000 unknown keys", "too-many-values", () => Lines(240_000, i => $"zz{i}: 1")),
        Text("2,000,000 lines of comments", "too-many-values", () => Repeat("#\n", Most / 2)),
        Text("4 MB of comments", "empty-file", () => Repeat("# and so on and so on and so on and so on\n", 99_000)),
        Text("4 MB of comments and a word", "wrong-shape", () => Repeat("# and so on and so on and so on and so on\n", 99_000) + "a"),
        Text("one comment of 4 MB", "text-too-long", () => new string('#', Most)),
        Text("4 MB of line breaks", "too-many-values", () => new string('\n', Most)),
        Text("4 MB of carriage returns", "too-many-values", () => new string('\r', Most)),
        Text("4 MB of spaces", "text-too-long", () => new string(' ', Most)),
        Text("4 MB of tabs", "text-too-long", () => new string('\t', Most)),
        Text("a tab in the last of 90,000 lines", "tab-indent", () => Repeat("a\n", 90_000) + "\tb: c"),
        Raw("10 MB", "file-too-large", () => new byte[10 * 1024 * 1024]),
        Raw("4 MB of NUL", "wrong-encoding", () => new byte[Most]),
        Raw("NUL as the last of 4 MB", "wrong-encoding", () => [.. new byte[Most - 1].Select(_ => (byte)'#'), 0]),
        Raw("not UTF-8 in the last of 2,000,000 lines", "wrong-encoding", () => [.. Encoding.ASCII.GetBytes(Repeat("#\n", 2_000_000)), 0xFF]),
        Raw("UTF-16, little end first, marked", "wrong-encoding", () => [0xFF, 0xFE, .. Encoding.Unicode.GetBytes("format: statewatch/show/1\n")]),
        Raw("UTF-16, big end first, marked", "wrong-encoding", () => [0xFE, 0xFF, .. Encoding.BigEndianUnicode.GetBytes("format: statewatch/show/1\n")]),
        Raw("UTF-16, little end first, unmarked", "wrong-encoding", () => Encoding.Unicode.GetBytes("format: statewatch/show/1\n")),
        Raw("UTF-16, big end first, unmarked", "wrong-encoding", () => Encoding.BigEndianUnicode.GetBytes("format: statewatch/show/1\n")),
        Raw("UTF-32", "wrong-encoding", () => [0xFF, 0xFE, 0, 0, .. Encoding.UTF32.GetBytes("format: statewatch/show/1\n")]),
        Raw("two byte-order marks", "wrong-encoding", () => [0xEF, 0xBB, 0xBF, 0xEF, 0xBB, 0xBF, .. "format: statewatch/show/1\n"u8]),
    ];

    public static string Repeat(string text, int times) => new StringBuilder(text.Length * times).Insert(0, text, times).ToString();

    public static string Lines(int count, Func<int, string> line)
    {
        var text = new StringBuilder();
        for (var i = 0; i < count; i++)
            text.Append(line(i)).Append('\n');
        return text.ToString();
    }

    private static HostileFile Text(string what, string code, Func<string> text) => new(what, Plan, code, () => Encoding.UTF8.GetBytes(text()));

    private static HostileFile Raw(string what, string code, Func<byte[]> bytes) => new(what, Plan, code, bytes);
}
