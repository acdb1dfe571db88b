using System.Globalization;
using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Core.Tests.BrokenFiles;

/// <summary>
/// A file with one mistake and what its sidecar says about it. First line: code and line:column. Then, each at most once:
/// <c>suggests OLD -> NEW</c> (the program names NEW for the value OLD that stands there), <c>replace OLD -> NEW</c> (what a person would write there
/// instead), <c>also CODE LINE:COLUMN</c> (told beside it, any number of times), <c>machine without-zones</c> (read on a
/// machine that has no time zone data). A file that is no text or too long has no file of its own but
/// <c>kind</c> and its content: <c>text</c> (\n is a line break), <c>bytes</c> in hexadecimal, <c>repeat</c> with a number and bytes.
/// </summary>
internal sealed class BrokenFile
{
    private static readonly string Root = Path.Combine(AppContext.BaseDirectory, "BrokenFiles");

    private static readonly Lazy<DeskProfile> Rowan = new(() =>
        (DeskProfile)Read("rowan-16", "desk", File.ReadAllBytes(Path.Combine(Root, "_valid", "rowan-16.desk.yaml")), out _)!);

    private BrokenFile(string name)
    {
        Name = name;
        var lines = File.ReadAllLines(Path.Combine(Root, name + ".expect"));
        var head = lines[0].Split(' ');
        (Code, Place) = (head[0], PlaceOf(head[1]));
        Suggestion = Change(lines, "suggests ");
        Replacement = Change(lines, "replace ");
        Also = [.. lines.Where(line => line.StartsWith("also ", StringComparison.Ordinal)).Select(line => line["also ".Length..])];
        var kind = lines.FirstOrDefault(line => line.StartsWith("kind ", StringComparison.Ordinal));
        Kind = kind is not null ? kind["kind ".Length..] : Path.GetFileName(Directory.GetFiles(Root, name + ".*.yaml").Single()).Split('.')[^2];
        Zones = lines.Contains("machine without-zones") ? ZoneData.None : ZoneData.Machine;
        Bytes = kind is not null ? Content(lines) : File.ReadAllBytes(Path.Combine(Root, $"{name}.{Kind}.yaml"));
    }

    /// <summary>Every file by its folder and name.</summary>
    public static IReadOnlyList<string> All { get; } =
    [
        .. Directory.GetFiles(Root, "*.expect", SearchOption.AllDirectories).Select(path => Path.GetRelativePath(Root, path)[..^".expect".Length].Replace('\\', '/')).Order(StringComparer.Ordinal),
    ];

    /// <summary>Every YAML file that has no sidecar, the valid ones apart.</summary>
    public static IEnumerable<string> WithoutSidecar => Directory.GetFiles(Root, "*.yaml", SearchOption.AllDirectories)
        .Select(path => Path.GetRelativePath(Root, path).Replace('\\', '/')).Where(path => !path.StartsWith("_valid/", StringComparison.Ordinal) && !All.Contains(path[..path.IndexOf('.', StringComparison.Ordinal)]));

    public static IEnumerable<string> Valid => Directory.GetFiles(Path.Combine(Root, "_valid")).Select(path => Path.GetFileName(path));

    public string Name { get; }

    public string Folder => Name[..Name.IndexOf('/', StringComparison.Ordinal)];

    /// <summary>desk, plan or incidents.</summary>
    public string Kind { get; }

    public byte[] Bytes { get; }

    /// <summary>The time zones of the machine that reads it.</summary>
    public ZoneData Zones { get; }

    public string Code { get; }

    public Place Place { get; }

    public (string Old, string New)? Suggestion { get; }

    public (string Old, string New)? Replacement { get; }

    public IReadOnlyList<string> Also { get; }

    public static BrokenFile Of(string name) => new(name);

    public IReadOnlyList<Diagnostic> Read() => Read(Bytes);

    /// <summary>Reads what the file would hold.</summary>
    public IReadOnlyList<Diagnostic> Read(byte[] bytes)
    {
        _ = Read(Path.GetFileName(Name), Kind, bytes, out var diagnostics, Zones);
        return diagnostics.Items;
    }

    public static IReadOnlyList<Diagnostic> ReadValid(string file)
    {
        _ = Read(file.Split('.')[0], file.Split('.')[^2], File.ReadAllBytes(Path.Combine(Root, "_valid", file)), out var diagnostics);
        return diagnostics.Items;
    }

    /// <summary>The file with one text in place of another at the mistake's place, which may be a quote before it.</summary>
    public byte[] With(string old, string replacement)
    {
        var text = Encoding.UTF8.GetString(Bytes);
        var at = 0;
        for (var line = 1; line < Place.Line; line++)
            at = text.IndexOf('\n', at) + 1;
        at += Place.Column - 1;
        if (text[at] is '"' && !old.StartsWith('"'))
            at++;
        Assert.True(text.AsSpan(at).StartsWith(old), $"{Name}: at {Place} stands '{text[at..Math.Min(text.Length, at + 30)]}', not '{old}'");
        return Encoding.UTF8.GetBytes(text[..at] + replacement + text[(at + old.Length)..]);
    }

    private static object? Read(string name, string kind, byte[] bytes, out DiagnosticBag diagnostics, ZoneData? zones = null)
    {
        var bag = diagnostics = new DiagnosticBag();
        if (SourceText.FromBytes($"{name}.{kind}.yaml", bytes, diagnostics) is not { } source)
            return null;
        SourceText? Below(ScalarNode path) => path.Text == source.Name ? source
            : SourceText.FromBytes(path.Text, File.ReadAllBytes(Path.Combine(Root, "_valid", Path.GetFileName(path.Text))), bag);
        return kind switch
        {
            "desk" => ProfileReader.Read(source, diagnostics),
            "incidents" => IncidentReader.Read(source, Rowan.Value, diagnostics),
            _ => PlanReader.Read(source, diagnostics, Below, zones) is { } document ? Compile(document, diagnostics) : null,
        };
    }

    private static ShowPlan? Compile(PlanDocument document, DiagnosticBag diagnostics)
    {
        WaiverCheck.Dates(document.Waivers, new DateOnly(2026, 12, 20), diagnostics);
        CouplingCheck.Dates(document.Couplings, new DateOnly(2026, 12, 20), diagnostics);
        var plan = PlanCompiler.Compile(document, Rowan.Value, Phase.Doors, diagnostics, auditPlan: true);
        if (plan is not null)
            CueCheck.All(document, Rowan.Value, diagnostics);
        return plan;
    }

    private static (string, string)? Change(string[] lines, string keyword)
    {
        var line = lines.SingleOrDefault(line => line.StartsWith(keyword, StringComparison.Ordinal));
        if (line is null)
            return null;
        var sides = line[keyword.Length..].Split(" -> ");
        Assert.Equal(2, sides.Length);
        return (Unescape(sides[0]), Unescape(sides[1]));
    }

    private static byte[] Content(string[] lines)
    {
        var bytes = new List<byte>();
        foreach (var line in lines)
        {
            var words = line.Split(' ');
            if (words[0] == "text")
                bytes.AddRange(Encoding.UTF8.GetBytes(Unescape(line["text ".Length..])));
            else if (words[0] == "bytes")
                bytes.AddRange(Hex(words[1..]));
            else if (words[0] == "repeat")
            {
                for (var count = int.Parse(words[1], CultureInfo.InvariantCulture); count > 0; count--)
                    bytes.AddRange(Hex(words[2..]));
            }
        }

        return [.. bytes];
    }

    private static byte[] Hex(string[] words) => Convert.FromHexString(string.Concat(words));

    private static string Unescape(string text) => text.Replace("\\n", "\n", StringComparison.Ordinal).Replace("\\t", "\t", StringComparison.Ordinal);

    private static Place PlaceOf(string text)
    {
        var numbers = text.Split(':');
        return new Place(int.Parse(numbers[0], CultureInfo.InvariantCulture), int.Parse(numbers[1], CultureInfo.InvariantCulture));
    }
}
