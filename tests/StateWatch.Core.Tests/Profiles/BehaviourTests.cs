using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Tests.Profiles;

public class BehaviourTests
{
    [Theory]
    [InlineData("", true, false, PanLaw.ConstantPower, 0.5)]
    [InlineData("behaviour: {}", true, false, PanLaw.ConstantPower, 0.5)]
    [InlineData("behaviour: { mute-stops-pre-fader: false, dca-moves-pre-fader: true, pan-law: -6 dB }", false, true, PanLaw.Linear, 0.5)]
    [InlineData("behaviour: { pan-law: -4.5 dB }", true, false, PanLaw.Compromise, 0.5)]
    [InlineData("behaviour: { pan-law: 0 dB, mono-sum: 0 dB }", true, false, PanLaw.Balance, 1)]
    public void What_no_setting_tells_is_said_by_the_profile(string line, bool muteStops, bool dcaMoves, PanLaw law, double monoSum)
    {
        var (profile, faults) = Read(line);
        Assert.Empty(faults);
        Assert.Equal(new DeskBehaviour(muteStops, dcaMoves, law, monoSum), profile!.Behaviour);
    }

    [Theory]
    [InlineData("behaviour: { pan-law: -5 dB }", "bad-value", "-4.5 dB")]
    [InlineData("behaviour: { mute-stops-pre-fader: maybe }", "bad-value", null)]
    [InlineData("behaviour: { mute-stops-prefader: true }", "unknown-key", "mute-stops-pre-fader")]
    [InlineData("behaviour: { mono-sum: half }", "bad-value", null)]
    [InlineData("behaviour: [pan]", "wrong-shape", null)]
    public void Faults_are_told(string line, string code, string? suggestion)
    {
        var (profile, faults) = Read(line);
        Assert.Null(profile);
        var fault = Assert.Single(faults);
        Assert.Equal(code, fault.Code.Id);
        if (suggestion is not null && code == "unknown-key")
            Assert.Equal(suggestion, fault.Suggestion);
    }

    private static (DeskProfile? Profile, IReadOnlyList<Diagnostic> Faults) Read(string line)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("larch-48.desk.yaml", DemoShow.ProfileText.Replace("\ncodecs:", $"\n{line}\ncodecs:", StringComparison.Ordinal)), diagnostics);
        return (profile, [.. diagnostics.Items]);
    }
}
