using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Every expectation that is not met and that no other rule explains.</summary>
internal sealed class DriftRule : IAuditRule
{
    /// <summary>The rule. Its severity comes from the setting's class.</summary>
    public static readonly RuleInfo Info = new("drift", FindingKind.Drift, SeverityByPhase.Of("NWWW"), "a setting is not as planned", "{0} settings are not as planned");

    public IReadOnlyList<RuleInfo> Rules { get; } = [Info];

    public IEnumerable<RuleCheck> ChecksFor(AuditFacts facts) => facts.Plan.Expectations.Select(expectation => new DriftCheck(expectation));
}

/// <summary>One expectation.</summary>
internal sealed class DriftCheck(Expectation expectation) : RuleCheck(DriftRule.Info, expectation.Setting, [expectation.Setting])
{
    public override bool IsViolated(DeskState state) => !expectation.Allows(state[Subject]);

    public override FindingWords Describe(AuditFacts facts, DeskState state)
    {
        var setting = facts.Profile.Settings[Subject];
        var strip = facts.Profile.Strips[setting.Strip];
        var planned = AllowedText.Of(expectation, facts.Profile);
        var bus = EdgePaths.BusOf(setting) ?? BusIn(setting.Path);
        var part = bus is null || strip.Kind == "desk" ? setting.Kind.Words : $"{setting.Kind.Words} to {facts.BusWords(bus)}";
        var number = setting.Kind.Suffix is "insert/#" or "insert/#/in" ? " " + setting.Path.Split('/')[3] : "";
        return new FindingWords(
            $"{facts.Opening(strip)}: {part}{number} is {facts.Profile.Format(state[Subject])}, planned {planned}",
            DriftWords.Why(setting.Kind),
            $"{DriftWords.Caution(setting.Kind)} set it back to {facts.Profile.Format(expectation.Planned)}.",
            strip.Path, facts.Opening(strip));
    }

    private static string? BusIn(string path)
    {
        var at = path.IndexOf("/send/", StringComparison.Ordinal);
        if (at < 0)
            return null;
        var rest = path[(at + "/send/".Length)..];
        return rest[..rest.LastIndexOf('/')];
    }
}

/// <summary>Consequence and caution of a plain drift, by class. Common practice, no source.</summary>
internal static class DriftWords
{
    public static string Why(SettingKind kind) => kind.Class switch
    {
        SettingClass.Patch => "Another signal than the label says may be heard here, or none.",
        SettingClass.Routing => "Something is heard where it was not meant to be, or is missing where it was.",
        SettingClass.Taps => "Moving one fader will move a mix that should stay still, or the other way round.",
        SettingClass.Grouping => "A control that should move this strip does not, or moves it when it should not.",
        SettingClass.Inserts => "The channel is unprocessed, or processed by the wrong unit.",
        SettingClass.Processing when kind.Words == "delay" => "Sound arrives too early or too late: echo, or lips out of step.",
        SettingClass.Processing => "It will sound different from what was set up.",
        SettingClass.Preamp => "Every mix that carries this source jumps with it, monitors and stream as well.",
        SettingClass.Levels => "It is louder or softer than planned wherever it goes.",
        SettingClass.Mutes => "It is heard when it should not be, or silent when it should be heard.",
        SettingClass.Labels => "Somebody may grab the wrong fader.",
        SettingClass.Surface => "A key or mode of the desk will do something unexpected.",
        _ => "The desk is not in the condition that was planned.",
    };

    // Whatever could make something louder is done with the fader down.
    public static string Caution(SettingKind kind) => kind.Class switch
    {
        SettingClass.Labels or SettingClass.Surface or SettingClass.Health => "When there is a moment,",
        SettingClass.Preamp when kind.Words == "phantom power" => "Fader down and channel muted first, then",
        _ => "Fader down first, then",
    };
}
