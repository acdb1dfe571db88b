using StateWatch.Core.Desks;

namespace StateWatch.Core.Auditing;

/// <summary>Writes what people are told of checks that are violated.</summary>
internal static class FindingWriter
{
    /// <summary>The finding of a violated check.</summary>
    public static Finding Write(AuditFacts facts, RuleCheck check, Severity severity, DeskState state)
    {
        var setting = facts.Profile.Settings[check.Subject];
        var strip = facts.Profile.Strips[setting.Strip];
        var shown = check.SettingIn(state);
        var expectation = facts.Plan.For(shown);
        var subject = check.SubjectPath(state) ?? setting.Path;
        var id = $"{check.Rule.Id}:{subject}";
        var words = check.Describe(facts, state);
        return new Finding(id, check.Rule, subject, setting.Kind.Class, severity, strip.Path, facts.NameOf(strip), facts.Profile.Settings[shown].Path,
            check.Shown?.Planned ?? (expectation is null ? null : AllowedText.Of(expectation, facts.Profile)), check.Shown?.Live ?? facts.Profile.Format(state[shown]),
            words with { What = facts.Opening(strip, words.What), CauseName = Sentences.Capital(words.CauseName) }, check.Shown?.At ?? expectation?.At, id);
    }

    /// <summary>What a check that cannot be decided waits for.</summary>
    public static Undecided WriteUndecided(AuditFacts facts, RuleCheck check, DeskState state)
    {
        string PathOf(int setting) => facts.Profile.Settings[setting].Path;
        return new Undecided(check.Rule.Id, check.SubjectPath(state) ?? PathOf(check.Subject), [.. check.Inputs.Where(id => !state.IsFresh(id)).Select(PathOf)]);
    }

    /// <summary>The findings most urgent first, each with its cause, and the causes.</summary>
    public static (IReadOnlyList<Finding> Findings, IReadOnlyList<Cause> Causes) Group(AuditFacts facts, List<Finding> findings)
    {
        findings.Sort((a, b) => a.Severity != b.Severity ? b.Severity.CompareTo(a.Severity) : string.CompareOrdinal(a.Id, b.Id));
        var causes = CauseGrouping.Group(facts, findings);
        var causeOf = causes.SelectMany(cause => cause.Findings.Select(finding => (finding.Id, cause.Id))).ToDictionary(pair => pair.Item1, pair => pair.Item2, StringComparer.Ordinal);
        return ([.. findings.Select(finding => finding with { CauseId = causeOf[finding.Id] })], causes);
    }
}
