using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Auditing;

/// <summary>
/// Which findings follow from another one, so that people are told the root and not its children: whatever differs while another show is
/// loaded, what a missing stage box silences, a microphone that gives no signal because it has no phantom power. Common practice, no source.
/// </summary>
internal static class RootCauses
{
    private const string WrongShow = "wrong-show-file";

    // In the order in which they explain: the first that fits is the root.
    private static readonly (string Rule, Func<AuditFacts, Finding, Finding, bool> Explains)[] Roots =
    [
        (WrongShow, (_, _, other) => !IsConditionOfTheDesk(other)),
        ("playback-as-inputs", (_, _, other) => IsInputPatch(other) || IsSilence(other)),
        ("stage-box-missing", (facts, root, other) => BoxOf(root) is { } box && (facts.Profile.Boxes.BoxOf(other.Strip) == box || (IsSilence(other) && BoxOfSource(facts, other) == box))),
        ("stage-box-swapped", (facts, root, other) => IsSilence(other) && BoxOf(root) is { } box && BoxOfSource(facts, other) == box),
        ("source-missing", (_, root, other) => IsSilence(other) && other.Strip == root.Strip),
        ("source-wrong", (_, root, other) => IsSilence(other) && other.Strip == root.Strip),
        ("phantom-missing", (facts, root, other) => IsSilence(other) && SocketOf(facts, other) == root.Strip),
        .. ((string[])["feed-source-off", "feed-starved", "must-carry-silent", "feed-depends", "carried-against-plan", "double-routed", "direct-and-by-group", "drift"]).Select(rule => (rule, (Func<AuditFacts, Finding, Finding, bool>)RatioFollows)),
    ];

    /// <summary>Whether a cause is told before all others, however urgent they are: nothing below it can be trusted.</summary>
    public static bool ComesFirst(Cause cause) => cause.Findings[0].Rule.Id == WrongShow;

    /// <summary>The root of every finding that has one. A finding that somebody answers for explains nothing: what lies below it must be seen.</summary>
    /// <param name="facts">The plan's facts.</param>
    /// <param name="findings">Everything found.</param>
    public static Dictionary<Finding, Finding> Of(AuditFacts facts, IReadOnlyList<Finding> findings)
    {
        var rootOf = new Dictionary<Finding, Finding>(ReferenceEqualityComparer.Instance);
        var answeredFor = facts.Plan.Document.Waivers.Select(waiver => waiver.Finding.Text).ToHashSet(StringComparer.Ordinal);
        foreach (var (rule, explains) in Roots)
        {
            foreach (var root in findings)
            {
                if (root.Rule.Id != rule || rootOf.ContainsKey(root) || answeredFor.Contains(root.Id))
                    continue;
                foreach (var other in findings)
                {
                    if (other.Rule.Id != rule && !rootOf.ContainsKey(other) && explains(facts, root, other))
                        rootOf.Add(other, root);
                }
            }
        }

        return rootOf;
    }

    // A tone, a lost clock, a mute from outside: they are what they are, whatever show is loaded.
    private static bool IsConditionOfTheDesk(Finding finding) => finding.Rule.Kind == FindingKind.Risk && finding.Strip == "desk" && finding.Class == SettingClass.Health;

    // A ratio is off because of a level, tap or connection that is told itself.
    private static bool RatioFollows(AuditFacts facts, Finding root, Finding other) => other.Rule.Id == "ratio-off"
        && facts.Flow.Ratios.All.FirstOrDefault(ratio => ratio.Ratio.Subject == other.Subject) is { } ratio && facts.Profile.Find(root.Setting) is >= 0 and var setting && ratio.HangsOn(facts.Profile.Settings[setting]);

    private static bool IsInputPatch(Finding finding) => finding.Class == SettingClass.Patch && finding.Strip.StartsWith("input/", StringComparison.Ordinal);

    private static bool IsSilence(Finding finding) => finding.Rule.Id == "source-silent";

    private static int? BoxOf(Finding root) => root.Setting.Split('/') is ["desk", "box", var number, ..] && int.TryParse(number, out var box) ? box : null;

    private static int? BoxOfSource(AuditFacts facts, Finding finding) => SocketOf(facts, finding) is { } socket ? facts.Profile.Boxes.BoxOf(socket) : null;

    private static string? SocketOf(AuditFacts facts, Finding finding) => facts.Profile.FindStrip(finding.Strip) is Strip strip ? facts.StripOf(strip.Id)?.Socket : null;
}
