using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>
/// Source of the bytes: the hand-written protocol sheet of each shipped desk. The virtual desk is given the value of each row and must
/// answer the row's question with the row's bytes.
/// </summary>
public class DeskSheetTests
{
    public static TheoryData<string> Desks => [.. ShippedDesk.Names];

    /// <summary>Rows that say all their message holds: the value alone must give the bytes.</summary>
    [Theory]
    [MemberData(nameof(Desks))]
    public void Value_of_a_row_gives_the_bytes_of_the_row(string name)
    {
        var shipped = ShippedDesk.Of(name);
        var desk = new VirtualDesk(shipped.Profile) { IdentityAnswer = shipped.Rows.Single(row => row.Setting == "identify").Value.Split(", ") };
        var whole = shipped.Rows.Where(row => row.IsNoSetting || shipped.SlotsOf(row.Setting) is [{ Argument: 0, Bit: < 0 }]).ToList();
        Assert.True(whole.Count >= 40, $"The sheet has only {whole.Count} such rows.");
        foreach (var row in whole.Where(row => !row.IsNoSetting))
            desk.Set(row.Setting, row.Value);
        Assert.Equal(whole.Select(row => row.Answer), whole.Select(row => Ask(desk, row.Question)));
    }

    /// <summary>Rows that share their message: once the desk has taken it, it must say the same again, all members and bits.</summary>
    [Theory]
    [MemberData(nameof(Desks))]
    public void Message_that_was_taken_is_given_back(string name)
    {
        var shipped = ShippedDesk.Of(name);
        var desk = new VirtualDesk(shipped.Profile);
        var shared = shipped.Rows.Where(row => !row.IsNoSetting && shipped.SlotsOf(row.Setting).Length > 1).ToList();
        Assert.True(shared.Count >= 30, $"The sheet has only {shared.Count} such rows.");
        foreach (var row in shared)
            desk.Handle(Convert.FromHexString(row.Answer), new AnswerLog());
        foreach (var row in shared)
        {
            // The second argument of a Larch's socket is a meter, which the profile skips: the virtual desk has none.
            if (name == "larch-48" && row.Setting.StartsWith("socket/", StringComparison.Ordinal))
                Assert.Equal(WithoutMeter(row.Answer), WithoutMeter(Ask(desk, row.Question)));
            else
                Assert.Equal(row.Answer, Ask(desk, row.Question));
        }
    }

    [Theory]
    [MemberData(nameof(Desks))]
    public void Bytes_of_every_row_set_what_the_row_says(string name)
    {
        var shipped = ShippedDesk.Of(name);
        var desk = new VirtualDesk(shipped.Profile);
        var answers = new AnswerLog();
        foreach (var row in shipped.Rows.Where(row => !row.IsNoSetting))
        {
            desk.Handle(Convert.FromHexString(row.Answer), answers);
            Assert.Equal(row.Value, desk.Get(row.Setting));
        }

        Assert.Empty(answers.Hex);
        Assert.Equal(0, desk.Counters.Malformed + desk.Counters.Unknown);
    }

    private static string Ask(VirtualDesk desk, byte[] question)
    {
        var answers = new AnswerLog();
        desk.Handle(question, answers);
        return Assert.Single(answers.Hex);
    }

    /// <summary>Address, then gain, phantom power and pad: four bytes each at the end, the meter and its tag left out.</summary>
    private static (string Address, string Gain, string Switches) WithoutMeter(string hex) => (hex[..^48], hex[^32..^24], hex[^16..]);
}
