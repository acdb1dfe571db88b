namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// Guards of the shipped plans, read naively: sources that reach a main bus by one group, each level in dB added up, live against planned.
/// Shares no code with the auditor.
/// </summary>
internal static class NaiveGuard
{
    /// <summary>The faders of the guarded inputs that are louder at the feed than the guard allows.</summary>
    public static IEnumerable<string> Louder(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
    {
        if (NaiveYaml.Find(naive.Plan, "guard") is not List<object> guards)
            yield break;
        foreach (var guard in guards)
        {
            var main = NaiveYaml.Text(NaiveYaml.Find(NaiveYaml.Find(naive.Plan, "feeds"), NaiveYaml.Text(guard, "level-at")!), "bus")!.Replace(' ', '/');
            var up = NaiveValues.Decibels(NaiveYaml.Text(guard, "up")!);
            foreach (var (strip, socket) in naive.WithRole(NaiveYaml.Text(guard, "of")!))
            {
                if (Moved(naive, desk, strip, socket, main) > up + 1e-6)
                    yield return $"{strip}/fader";
            }
        }
    }

    private static double Moved(NaiveChecker naive, IReadOnlyDictionary<string, string> desk, string strip, string socket, string main)
    {
        var group = Enumerable.Range(1, 8).Select(number => $"group/{number}").Single(path => naive.Said($"{strip}/assign/{path}") == "on");
        if (desk[$"{strip}/assign/{group}"] != "on" || desk[$"{group}/assign/{main}"] != "on")
            return double.NegativeInfinity;
        var sum = 0.0;
        foreach (var level in (string[])[$"socket/{socket}/gain", $"{strip}/trim", $"{strip}/fader", $"{group}/fader", $"{main}/fader"])
            sum += NaiveValues.Decibels(desk[level]) - NaiveValues.Decibels(naive.Said(level)!);
        foreach (var dca in Enumerable.Range(1, 8).Where(number => naive.Said($"{strip}/dca/{number}") == "on"))
            sum += (desk[$"{strip}/dca/{dca}"] == "on" ? NaiveValues.Decibels(desk[$"dca/{dca}/fader"]) : 0) - NaiveValues.Decibels(naive.Said($"dca/{dca}/fader")!);
        return sum;
    }
}
