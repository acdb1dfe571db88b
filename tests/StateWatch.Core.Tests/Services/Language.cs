using StateWatch.Core.Auditing.Rules;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Services;

/// <summary>What plans can say of what people may do. A habit that the plan does not allow is a finding, and rightly so.</summary>
internal static class Language
{
    private const string HandsOnKey = "\nhands-on:";

    /// <summary>Whether a source on its planned alternate is known as such.</summary>
    public static bool HasAlternates { get; } = RuleCatalogue.All.Any(rule => rule.Id == "on-alternate");

    /// <summary>The plan with the musicians' own mixes in their hands, or as it is when the language has no words for that.</summary>
    public static string WithHandsOn(ShippedShow show, out bool handsOn)
    {
        var mixes = show.Plan(Phase.Show).Feeds.Where(feed => feed.Purpose is Purpose.Monitor or Purpose.InEars).Select(feed => feed.Key);
        var text = show.PlanText.Contains(HandsOnKey, StringComparison.Ordinal) ? show.PlanText : $"{show.PlanText}{HandsOnKey} {{ musicians: [{string.Join(", ", mixes)}] }}\n";
        handsOn = show.Compile(text, Phase.Show, new DiagnosticBag(), out _) is not null;
        return handsOn ? text : show.PlanText;
    }
}
