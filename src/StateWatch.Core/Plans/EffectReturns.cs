namespace StateWatch.Core.Plans;

/// <summary>Which bus comes back on which strips, by way of an effect: no setting of a desk tells, only the plan does.</summary>
internal static class EffectReturns
{
    /// <summary>Strips such as <c>fx-return/1</c> by the bus that feeds their effect, such as <c>mix/13</c>.</summary>
    public static Dictionary<string, List<string>> Of(PlanDocument document)
    {
        var effects = new Dictionary<string, List<string>>(StringComparer.Ordinal);
        foreach (var line in document.Effects)
        {
            if (line.Return is null || !NumberSet.TryParseWithWord(line.Send.Text, out var kind, out var numbers) || !NumberSet.TryParseWithWord(line.Return.Text, out var back, out var returns))
                continue;
            for (var i = 0; i < numbers.Length; i++)
            {
                // A pair comes back as a pair; one bus comes back on every return.
                var to = numbers.Length == returns.Length ? [returns[i]] : returns;
                effects[$"{kind}/{numbers[i]}"] = [.. to.Select(number => $"{back}/{number}")];
            }
        }

        return effects;
    }
}
