using StateWatch.Core.Capturing;
using StateWatch.Core.Documents;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>A captured line, put into a plan: the reader takes it and makes the same of it.</summary>
public class CouplingTextTests
{
    private static readonly CouplingText Line = new("Lectern", "wedges 1", 32, new DateOnly(2026, 11, 22), "A. Engineer", "empty", "7f3a91c2");

    [Fact]
    public void Line_reads_like_the_example_of_the_plan_language() => Assert.Equal(
        "  - { mic: Lectern, feed: wedges 1, loss: 32 dB, measured: 2026-11-22, by: A. Engineer, room: empty, setup: 7f3a91c2 }\n", Line.Write());

    [Fact]
    public void What_is_not_known_is_left_out() => Assert.Equal(
        "  - { mic: Lectern, feed: wedges 1, loss: 32 dB, measured: 2026-11-22, by: A. Engineer }\n", (Line with { Room = null, Setup = null }).Write());

    [Theory]
    [InlineData(31.98, 31.9)]
    [InlineData(31.9, 31.9)]
    [InlineData(-3.01, -3.1)]
    [InlineData(0.04, 0)]
    public void Loss_is_rounded_towards_the_worse(double loss, double written) => Assert.Equal(written, (Line with { Loss = loss }).Rounded, 9);

    [Theory]
    [InlineData(-20, true)]
    [InlineData(-20.05, false)]
    [InlineData(120, true)]
    [InlineData(120.1, false)]
    public void Loss_that_a_plan_refuses_is_known(double loss, bool isInRange) => Assert.Equal(isInRange, (Line with { Loss = loss }).IsInRange);

    [Theory]
    [InlineData(31.98, "A. Engineer", "7f3a91c2", "empty")]
    [InlineData(-12.5, "O'Neil, {the} \"night\" crew # 2", "12345678", "full")]
    [InlineData(101.2, "yes", "1234e567", null)]
    [InlineData(0, "- dash: and \\ backslash", null, "empty")]
    [InlineData(7, "Ünal Ærø", "00000000", "empty")]
    [InlineData(7, "*star & co!", "0e000000", "full")]
    public void Line_in_a_plan_compiles_to_the_same(double loss, string by, string? setup, string? room)
    {
        var line = Line with { Loss = loss, By = by, Setup = setup, Room = room };
        var diagnostics = Written.ReadPlan($"{TansyDesk.PlanLines}\ncouplings:\n{line.Write()}", out var plan, desk: SmallRig.Tansy);
        Assert.Equal([], diagnostics.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(DemoShow.Say));
        var coupling = Assert.Single(plan!.Couplings);
        Assert.Equal(("Lectern", "wedges 1", Math.Round(line.Rounded, 9)), (coupling.Microphone.Name, plan.Loudspeakers[coupling.Loudspeaker].Words, Math.Round(coupling.Loss, 9)));
        Assert.Equal((line.Day, by, setup, room), (coupling.Measured!.Value, coupling.By!, coupling.Setup, coupling.Room));
    }
}
