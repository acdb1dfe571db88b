using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Documents;

/// <summary>Whatever a file holds, reading it ends with a result or with diagnostics that have a place: never with an exception.</summary>
public class HostileFileTests(ITestOutputHelper output)
{
    private const int FuzzCount = 3000;

    public static TheoryData<string, string, string> Texts => new()
    {
        { "200,000 brackets", "too-deep", new string('[', 200_000) },
        { "200,000 braces", "too-deep", new string('{', 200_000) },
        { "brackets under a key", "too-deep", "format: statewatch/show/1\nshow: " + new string('[', 200_000) },
        { "pairs of brackets", "too-deep", string.Concat(Enumerable.Repeat("[{a: ", 5000)) },
        { "nested lists in a line", "too-deep", string.Concat(Enumerable.Repeat("- ", 5000)) + "x" },
        { "nested keys in a line", "too-deep", string.Concat(Enumerable.Repeat("? ", 5000)) + "x" },
        { "indented deeper and deeper", "too-deep", string.Join('\n', Enumerable.Range(0, 200).Select(depth => new string(' ', depth) + "k:")) },
        { "anchor", "not-in-language", "format: &a statewatch/show/1" },
        { "alias bomb", "not-in-language", "a: &a [x,x]\nb: &b [*a,*a]\nc: [*b,*b]" },
        { "alias of nothing", "not-in-language", "a: *b" },
        { "tag", "not-in-language", "a: !!int 5" },
        { "local tag", "not-in-language", "a: !plan { b: 1 }" },
        { "second document", "not-in-language", "a: 1\n---\nb: 2" },
        { "merge key", "not-in-language", "a: &x { b: 1 }\nc: { <<: *x }" },
        { "duplicate key", "duplicate-key", "format: statewatch/show/1\nshow: A\nshow: B" },
        { "tab", "tab-indent", "a:\n\tb: 1" },
        { "nothing", "empty-file", "" },
        { "only a comment", "empty-file", "# nothing\n" },
        { "only a null", "empty-file", "---\n" },
        { "a list", "wrong-shape", "- a\n- b" },
        { "a word", "wrong-shape", "midwinter" },
        { "key that is a list", "wrong-shape", "[a, b]: c" },
        { "open bracket", "not-yaml", "a: [b, c" },
        { "open quote", "not-yaml", "a: \"b" },
        { "two colons", "not-yaml", "a: b: c" },
        { "bad escape", "not-yaml", "a: \"\\q\"" },
        { "escape beyond Unicode", "not-yaml", "a: \"\\UFFFFFFFF\"" },
        { "escape of half a pair", "not-yaml", "a: \"\\UD800DC00\"" },
        { "directive of a giant version", "not-yaml", "%YAML 99999999999999999999.1\n---\na: b" },
        { "directive twice", "not-yaml", "%YAML 1.1\n%YAML 1.1\n---\na: b" },
        { "tag directive", "not-yaml", "%TAG ! tag:x,2026:\n%TAG ! tag:y,2026:\n---\na: b" },
        { "mapping that is not closed before the next line", "not-yaml", "a:\n  1: { name: A, to\n  2: { name: B }\n" },
        { "control character", "not-in-language", "a: \u0001" },
        { "escape of a control character", "not-in-language", "a: \"\\e[2J\"" },
        { "control character in a key", "not-in-language", "\"a\\x9B\": b" },
        { "more values than are read", "too-many-values", "a: [" + string.Concat(Enumerable.Repeat("1,", YamlText.MaxNodes)) + "1]" },
    };

    [Theory]
    [MemberData(nameof(Texts))]
    public void Hostile_text_gives_one_clear_error(string what, string code, string text)
    {
        var diagnostics = new DiagnosticBag();
        Assert.True(YamlText.Read(new SourceText("x.yaml", text), diagnostics) is null || diagnostics.HasErrors, what);
        var item = Assert.Single(diagnostics.Items);
        Assert.Equal(code, item.Code.Id);
        Assert.Equal("x.yaml", item.At.File);
        Assert.True(item.At.Place.Line >= 1 && item.At.Place.Column >= 1, $"{what}: {item.At}");
        Assert.True(item.Message.Length is > 5 and < 300, item.Message);
    }

    /// <summary>The larger ones, each with a bound of its own: `dotnet run -c Release --project tests/StateWatch.Benchmarks -- hostile …` measures them.</summary>
    public static TheoryData<string> Files => [.. HostileFiles.All.Select(file => file.What + " / " + file.Kind)];

    [Theory]
    [MemberData(nameof(Files))]
    public void Hostile_file_ends_with_few_clear_faults(string name)
    {
        var file = HostileFiles.All.Single(item => item.What + " / " + item.Kind == name);
        var (diagnostics, printed) = file.Read(file.Bytes(), DemoShow.Profile);
        if (file.Code == "good")
        {
            Assert.False(diagnostics.HasErrors, printed[..Math.Min(printed.Length, 2000)]);
            return;
        }

        Assert.NotEmpty(diagnostics.Items);
        Assert.Contains(file.Code, diagnostics.Items.Select(item => item.Code.Id));
        Assert.InRange(diagnostics.Items.Count, 1, DiagnosticBag.Capacity);
        Assert.All(diagnostics.Items, item => Assert.True(item.At.Place is { Line: >= 1, Column: >= 1 }, $"{item.Code.Id} has no place: {item.Message}"));
        // What was not kept is counted and said; nobody is shown a book.
        Assert.Equal(diagnostics.Dropped > 0, printed.Contains("more that are not shown", StringComparison.Ordinal));
        Assert.All(diagnostics.Items, item => Assert.InRange(item.Message.Length, 6, 2 * YamlText.LongestText + 500));
        Assert.InRange(printed.Length, 20, 1_500_000);
    }

    [Fact]
    public void File_of_more_than_four_megabytes_is_not_read()
    {
        var item = Assert.Single(FromBytes(new byte[SourceText.MaxBytes + 1]));
        Assert.Equal(("file-too-large", new Place(1, 1)), (item.Code.Id, item.At.Place));
    }

    [Fact]
    public void File_of_exactly_four_megabytes_is_read()
    {
        var bytes = new byte[SourceText.MaxBytes];
        Array.Fill(bytes, (byte)'#');
        Assert.Empty(FromBytes(bytes));
    }

    [Theory]
    [InlineData("FFFE61003A00", 1)] // UTF-16, little end first
    [InlineData("FEFF0061003A", 1)] // UTF-16, big end first
    [InlineData("61003A00", 1)] // zero bytes
    [InlineData("89504E470D0A1A0A", 1)] // a picture
    [InlineData("613A20620A633A20FF0A", 2)] // a byte that is no UTF-8, in line 2
    [InlineData("613A20EDA080", 1)] // half a surrogate pair
    public void Binary_and_other_encodings_are_refused(string hex, int line)
    {
        var item = Assert.Single(FromBytes(Convert.FromHexString(hex)));
        Assert.Equal(("wrong-encoding", line), (item.Code.Id, item.At.Place.Line));
    }

    [Fact]
    public void Byte_order_mark_is_dropped()
    {
        var diagnostics = new DiagnosticBag();
        var source = SourceText.FromBytes("x.yaml", [0xEF, 0xBB, 0xBF, .. "a: b"u8], diagnostics)!;
        var map = YamlText.Read(source, diagnostics)!;
        Assert.Equal(("a", new Place(1, 1)), (map.Entries[0].Key.Text, map.Entries[0].Key.At.Place));
    }

    [Fact]
    public void Scalars_are_read_raw()
    {
        var map = YamlText.Read(new SourceText("x.yaml", "a: [on, off, no, 0x12, 1-17, ~, null, '007', 1_000, 12:30, =, \"\", 2026-01-01]"), new DiagnosticBag())!;
        Assert.Equal(["on", "off", "no", "0x12", "1-17", "~", "null", "007", "1_000", "12:30", "=", "", "2026-01-01"],
            ((ListNode)map.Entries[0].Value).Items.Select(item => ((ScalarNode)item).Text));
    }

    [Fact]
    public void Windows_line_ends_keep_their_places()
    {
        var map = YamlText.Read(new SourceText("x.yaml", "a: 1\r\nb:\r\n  c: 2\r\n"), new DiagnosticBag())!;
        Assert.Equal(new Place(3, 6), ((MapNode)map.Entries[1].Value).Entries[0].Value.At.Place);
    }

    [Fact]
    public void Ten_thousand_faults_are_not_kept()
    {
        var diagnostics = new DiagnosticBag();
        _ = PlanReader.Read(new SourceText("x.yaml", "format: statewatch/show/1\nshow: A\ndesk: b\n" + string.Concat(Enumerable.Range(0, 10_000).Select(i => $"zz{i}: 1\n"))), diagnostics);
        Assert.Equal((DiagnosticBag.Capacity, 10_000 - DiagnosticBag.Capacity), (diagnostics.Items.Count, diagnostics.Dropped));
        Assert.True(diagnostics.HasErrors);
    }

    [Fact]
    public void Mutated_demo_files_never_throw()
    {
        var seed = (ulong)TestSeed.Value;
        var numbers = new SeededNumbers(seed);
        var outcomes = new SortedDictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < FuzzCount; i++)
        {
            var isPlan = i % 2 == 0;
            var bytes = Mutate(isPlan ? DemoShow.PlanText : DemoShow.ProfileText, numbers);
            try
            {
                foreach (var outcome in isPlan ? ReadPlan(bytes) : ReadProfile(bytes))
                    outcomes[outcome] = outcomes.GetValueOrDefault(outcome) + 1;
            }
            catch (Exception problem)
            {
                Assert.Fail($"seed {seed}, file {i}: {problem}");
            }
        }

        output.WriteLine($"seed {seed}: {string.Join(", ", outcomes.Select(pair => $"{pair.Key} {pair.Value}"))}");
        // Half-broken files must be met, not only broken ones.
        Assert.True(outcomes["good"] >= FuzzCount / 20 && outcomes.Count >= 20, $"seed {seed}");
    }

    private static IReadOnlyList<Diagnostic> FromBytes(byte[] bytes)
    {
        var diagnostics = new DiagnosticBag();
        Assert.Equal(SourceText.FromBytes("x.yaml", bytes, diagnostics) is null, diagnostics.HasErrors);
        return diagnostics.Items;
    }

    private static List<string> ReadPlan(byte[] bytes)
    {
        var diagnostics = new DiagnosticBag();
        var source = SourceText.FromBytes("x.plan.yaml", bytes, diagnostics);
        var document = source is null ? null : PlanReader.Read(source, diagnostics);
        var plan = document is null ? null : PlanCompiler.Compile(document, DemoShow.Profile, Phase.Doors, diagnostics, auditPlan: true);
        return Outcome(plan is not null, diagnostics);
    }

    private static List<string> ReadProfile(byte[] bytes)
    {
        var diagnostics = new DiagnosticBag();
        var source = SourceText.FromBytes("x.desk.yaml", bytes, diagnostics);
        return Outcome((source is null ? null : ProfileReader.Read(source, diagnostics)) is not null, diagnostics);
    }

    private static List<string> Outcome(bool good, DiagnosticBag diagnostics)
    {
        Assert.Equal(good, !diagnostics.HasErrors);
        Assert.All(diagnostics.Items, item => Assert.True(item.At.Place.Line >= 1, $"{item.Code.Id} has no place: {item.Message}"));
        return good ? ["good"] : [.. diagnostics.Items.Select(item => item.Code.Id).Distinct()];
    }

    private static byte[] Mutate(string text, SeededNumbers numbers)
    {
        var lines = text.Split('\n').ToList();
        var edits = 1 + numbers.NextBelow(3);
        if (numbers.Chance(0.5))
        {
            for (; edits > 0; edits--)
                EditLine(lines, numbers);
            return Encoding.UTF8.GetBytes(string.Join('\n', lines));
        }

        var bytes = Encoding.UTF8.GetBytes(text).ToList();
        for (; edits > 0; edits--)
        {
            var at = numbers.NextBelow(bytes.Count);
            switch (numbers.NextBelow(4))
            {
                case 0: bytes[at] = (byte)numbers.NextBelow(256); break;
                case 1: bytes.RemoveAt(at); break;
                case 2: bytes.Insert(at, Favourites[numbers.NextBelow(Favourites.Length)]); break;
                default: bytes[at] = Favourites[numbers.NextBelow(Favourites.Length)]; break;
            }
        }

        return [.. bytes];
    }

    private static byte[] Favourites { get; } = [.. "{}[]:,-#\"'&*!|>%@ \n\t0159anx/"u8];

    private static void EditLine(List<string> lines, SeededNumbers numbers)
    {
        var at = numbers.NextBelow(lines.Count);
        var other = numbers.NextBelow(lines.Count);
        switch (numbers.NextBelow(7))
        {
            case 0: lines.RemoveAt(at); break;
            case 1: lines.Insert(at, lines[other]); break;
            case 2: (lines[at], lines[other]) = (lines[other], lines[at]); break;
            case 3: lines[at] = "  " + lines[at]; break;
            case 4: lines[at] = lines[at][..numbers.NextBelow(lines[at].Length + 1)]; break;
            case 5: lines[at] = SwapWords(lines[at], lines[other], numbers); break;
            default: lines[at] = ChangeNumber(lines[at], numbers); break;
        }
    }

    // One word of a line in place of one of another.
    private static string SwapWords(string line, string other, SeededNumbers numbers)
    {
        var words = line.Split(' ');
        var spare = other.Split(' ');
        words[numbers.NextBelow(words.Length)] = spare[numbers.NextBelow(spare.Length)];
        return string.Join(' ', words);
    }

    private static string ChangeNumber(string line, SeededNumbers numbers)
    {
        var digits = Enumerable.Range(0, line.Length).Where(i => char.IsAsciiDigit(line[i])).ToList();
        if (digits.Count == 0)
            return line + " {5} {m}";
        var at = digits[numbers.NextBelow(digits.Count)];
        string[] numbersToTry = ["0", "9", "-1", "99999999999", "1e9", "inf", "{n}", "{5}", ""];
        return line[..at] + numbersToTry[numbers.NextBelow(numbersToTry.Length)] + line[(at + 1)..];
    }
}
