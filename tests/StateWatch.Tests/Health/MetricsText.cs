using System.Globalization;
using System.Text.RegularExpressions;

namespace StateWatch.Tests.Health;

/// <summary>
/// A strict small parser of Prometheus' text exposition format, version 0.0.4 (prometheus.io/docs/instrumenting/exposition_formats): lines end in a line
/// feed; HELP and TYPE come once for each name, before its samples; names and labels are of the data model's letters; a histogram has cumulative
/// buckets up to +Inf, the count of which is its _count.
/// </summary>
internal sealed partial class MetricsText
{
    private readonly Dictionary<string, string> _types = new(StringComparer.Ordinal);
    private readonly List<(string Name, string Labels, double Value)> _samples = [];

    public MetricsText(string text)
    {
        Assert.EndsWith("\n", text, StringComparison.Ordinal);
        var open = new HashSet<string>(StringComparer.Ordinal);
        foreach (var line in text.Split('\n')[..^1].Where(line => line is not ("" or "# EOF")))
        {
            if (line.StartsWith("# TYPE ", StringComparison.Ordinal))
            {
                var words = line.Split(' ');
                Assert.Contains(words[3], (string[])["counter", "gauge", "histogram", "summary", "untyped"]);
                Assert.True(_types.TryAdd(words[2], words[3]), $"TYPE of {words[2]} stands twice");
                continue;
            }

            if (line[0] == '#')
                continue;
            var match = Sample().Match(line);
            Assert.True(match.Success, $"no sample: {line}");
            var (name, labels) = (match.Groups["name"].Value, match.Groups["labels"].Value);
            var family = FamilyOf(name);
            Assert.True(_types.ContainsKey(family), $"{name} has no TYPE before it");
            Assert.True(open.Add($"{name}{{{labels}}}"), $"the same sample twice: {line}");
            _samples.Add((name, labels, match.Groups["value"].Value switch { "+Inf" => double.PositiveInfinity, "NaN" => double.NaN, var number => double.Parse(number, CultureInfo.InvariantCulture) }));
        }

        foreach (var histogram in _types.Where(pair => pair.Value == "histogram").Select(pair => pair.Key))
            CheckHistogram(histogram);
    }

    public IReadOnlyCollection<string> Names => _types.Keys;

    public string TypeOf(string name) => _types[name];

    /// <summary>The one sample of a name with these labels.</summary>
    public double Value(string name, params string[] labels) =>
        Assert.Single(_samples, sample => sample.Name == name && labels.All(label => sample.Labels.Contains(label, StringComparison.Ordinal))).Value;

    private string FamilyOf(string name)
    {
        foreach (var ending in (string[])["_bucket", "_sum", "_count"])
        {
            if (name.EndsWith(ending, StringComparison.Ordinal) && _types.GetValueOrDefault(name[..^ending.Length]) is "histogram" or "summary")
                return name[..^ending.Length];
        }

        return name;
    }

    private void CheckHistogram(string name)
    {
        foreach (var series in _samples.Where(sample => sample.Name == name + "_bucket").GroupBy(sample => Bound().Replace(sample.Labels, "").TrimEnd(',')))
        {
            var counts = series.Select(sample => sample.Value).ToList();
            Assert.Equal(counts.Order(), counts);
            Assert.Contains("le=\"+Inf\"", series.Last().Labels, StringComparison.Ordinal);
            Assert.Equal(Assert.Single(_samples, sample => sample.Name == name + "_count" && sample.Labels == series.Key).Value, counts[^1]);
        }
    }

    // Data model: metric names [a-zA-Z_:][a-zA-Z0-9_:]*, label names [a-zA-Z_][a-zA-Z0-9_]*, values any text with \\, \" and \n escaped.
    [GeneratedRegex("""^(?<name>[a-zA-Z_:][a-zA-Z0-9_:]*)(\{(?<labels>([a-zA-Z_][a-zA-Z0-9_]*="([^"\\\n]|\\\\|\\"|\\n)*",?)*)\})? (?<value>[-+0-9.eE]+|NaN|\+Inf|-Inf)( [0-9]+)?$""", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Sample();

    [GeneratedRegex("""(^|,)le="[^"]*"|le="[^"]*",""", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Bound();
}
