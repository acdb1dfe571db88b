using System.Collections.Concurrent;
using System.Text.RegularExpressions;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>A shipped desk: its profile, the rows of its protocol sheet and the questions that may be sent to it.</summary>
internal sealed class ShippedDesk
{
    private const string Ending = ".desk.yaml";
    private static readonly ConcurrentDictionary<string, Lazy<ShippedDesk>> Desks = new(StringComparer.Ordinal);

    private ShippedDesk(string name)
    {
        Profile = SmallDesk.Read(RepositoryFiles.Read($"profiles/desks/{name}{Ending}").Text);
        Rows =
        [
            .. LinesOf($"profiles/desks/{name}.sheet.txt")
                .Select(line => line.Split('|', StringSplitOptions.TrimEntries))
                .Select(cells => new SheetLine(cells[0], cells[1], Convert.FromHexString(cells[2].Replace(" ", "", StringComparison.Ordinal)),
                    cells[3].Replace(" ", "", StringComparison.Ordinal).ToUpperInvariant())),
        ];
        Questions = [.. LinesOf($"profiles/desks/{name}.questions.txt").Select(line => new Regex(line, RegexOptions.CultureInvariant, TimeSpan.FromSeconds(10)))];
    }

    /// <summary>The names of all shipped desks, without the ending of their files.</summary>
    public static IReadOnlyList<string> Names { get; } =
        [.. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "profiles", "desks"), "*" + Ending).Select(file => Path.GetFileName(file)[..^Ending.Length]).Order(StringComparer.Ordinal)];

    public DeskProfile Profile { get; }

    public SheetLine[] Rows { get; }

    /// <summary>One regular expression for each kind of address, written by hand.</summary>
    public Regex[] Questions { get; }

    public static ShippedDesk Of(string name) => Desks.GetOrAdd(name, one => new Lazy<ShippedDesk>(() => new ShippedDesk(one))).Value;

    public Slot[] SlotsOf(string path) => Profile.Endpoints[Profile.Settings[Profile.Find(path)].Endpoint].Slots;

    private static IEnumerable<string> LinesOf(string file) => RepositoryFiles.ReadLines(file).Where(line => line.Length > 0 && line[0] != '#');
}

/// <summary>One row of a protocol sheet.</summary>
internal sealed record SheetLine(string Setting, string Value, byte[] Question, string Answer)
{
    /// <summary>Whether it is about the desk's greeting or keep-alive.</summary>
    public bool IsNoSetting => Setting is "identify" or "keep-alive";
}
