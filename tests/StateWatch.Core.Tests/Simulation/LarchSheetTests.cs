using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>
/// Source of the bytes: the hand-written protocol sheet of the Larch 48. The virtual desk is given the value of each row and must answer
/// the row's question with the row's bytes.
/// </summary>
public class LarchSheetTests
{
    private static readonly Core.Profiles.DeskProfile Larch = SmallDesk.Read(RepositoryFiles.Read("profiles/desks/larch-48.desk.yaml").Text);

    private static readonly (string Setting, string Value, byte[] Question, string Answer)[] Rows =
    [
        .. RepositoryFiles.ReadLines("profiles/desks/larch-48.sheet.txt")
            .Where(line => line.Length > 0 && line[0] != '#')
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries))
            .Select(cells => (cells[0], cells[1], Convert.FromHexString(cells[2].Replace(" ", "", StringComparison.Ordinal)),
                cells[3].Replace(" ", "", StringComparison.Ordinal).ToUpperInvariant())),
    ];

    /// <summary>Rows that say all their message holds: the value alone must give the bytes.</summary>
    [Fact]
    public void Value_of_a_row_gives_the_bytes_of_the_row()
    {
        var desk = new VirtualDesk(Larch) { IdentityAnswer = ["larch", "2.4"] };
        var whole = Rows.Where(row => row.Setting == "identify" || SlotsOf(row.Setting) is [{ Argument: 0, Bit: < 0 }]).ToList();
        Assert.True(whole.Count >= 40, $"The sheet has only {whole.Count} such rows.");
        foreach (var row in whole.Where(row => row.Setting != "identify"))
            desk.Set(row.Setting, row.Value);
        Assert.Equal(whole.Select(row => row.Answer), whole.Select(row => Ask(desk, row.Question)));
    }

    /// <summary>Rows that share their message: once the desk has taken it, it must say the same again, all members and bits.</summary>
    [Fact]
    public void Message_that_was_taken_is_given_back()
    {
        var desk = new VirtualDesk(Larch);
        var shared = Rows.Where(row => row.Setting != "identify" && SlotsOf(row.Setting).Length > 1).ToList();
        Assert.True(shared.Count >= 40, $"The sheet has only {shared.Count} such rows.");
        foreach (var row in shared)
            desk.Handle(Convert.FromHexString(row.Answer), new AnswerLog());
        foreach (var row in shared)
        {
            // A socket's second argument is a meter, which the profile skips: the virtual desk has none.
            if (row.Setting.StartsWith("socket/", StringComparison.Ordinal))
                Assert.Equal(WithoutMeter(row.Answer), WithoutMeter(Ask(desk, row.Question)));
            else
                Assert.Equal(row.Answer, Ask(desk, row.Question));
        }
    }

    [Fact]
    public void Bytes_of_every_row_set_what_the_row_says()
    {
        var desk = new VirtualDesk(Larch);
        var answers = new AnswerLog();
        foreach (var row in Rows.Where(row => row.Setting != "identify"))
        {
            desk.Handle(Convert.FromHexString(row.Answer), answers);
            Assert.Equal(row.Value, desk.Get(row.Setting));
        }

        Assert.Empty(answers.Hex);
        Assert.Equal(0, desk.Counters.Malformed + desk.Counters.Unknown);
    }

    private static Core.Profiles.Slot[] SlotsOf(string path) => Larch.Endpoints[Larch.Settings[Larch.Find(path)].Endpoint].Slots;

    private static string Ask(VirtualDesk desk, byte[] question)
    {
        var answers = new AnswerLog();
        desk.Handle(question, answers);
        return Assert.Single(answers.Hex);
    }

    /// <summary>Address, then gain, phantom power and pad: four bytes each at the end, the meter and its tag left out.</summary>
    private static (string Address, string Gain, string Switches) WithoutMeter(string hex) => (hex[..^48], hex[^32..^24], hex[^16..]);
}
