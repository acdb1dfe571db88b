namespace StateWatch.Core.Tests.Auditing;

/// <summary>Ratios of the shipped plans, read naively: sources by power, ways by voltage. Shares no code with the auditor.</summary>
internal static class NaiveRatio
{
    /// <summary>The switch of the first bus of every feed whose ratio is off.</summary>
    public static IEnumerable<string> Off(NaiveChecker naive, IReadOnlyDictionary<string, string> desk)
    {
        if (NaiveYaml.Find(naive.Plan, "ratios") is not List<object> ratios)
            yield break;
        var gains = new NaiveGains(naive, desk);
        foreach (var ratio in ratios)
        {
            var at = NaiveYaml.Text(ratio, "at")!;
            double Level(string key, string feed) => 10 * Math.Log10(naive.InRole(NaiveYaml.Text(ratio, key)!).Sum(strip => Outputs(naive, feed).Sum(output => Math.Pow(gains.To(strip, output), 2))));
            var live = Level("of", at) - Level("over", at) - (Level("of", "room") - Level("over", "room"));
            if (double.IsFinite(live) && Math.Abs(live - NaiveValues.Decibels(NaiveYaml.Text(ratio, "be")!)) > NaiveValues.Decibels(NaiveYaml.Text(ratio, "within")!) + 1e-6)
                yield return $"{naive.BusesOf(at)[0]}/on";
        }
    }

    private static IEnumerable<string> Outputs(NaiveChecker naive, string feed)
    {
        foreach (var (name, _) in NaiveYaml.Pairs(NaiveYaml.Find(NaiveYaml.Find(NaiveYaml.Find(naive.Plan, "feeds"), feed), "out")))
        {
            var (bank, ends) = (name.Split(' ')[0], name.Split(' ')[1].Split('-'));
            for (var number = int.Parse(ends[0]); number <= int.Parse(ends[^1]); number++)
                yield return $"output/{bank}-{number}";
        }
    }
}
