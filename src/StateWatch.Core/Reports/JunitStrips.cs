using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Reports;

/// <summary>
/// The suites of setting classes. A case's name is the strip's path and planned name where all of it is as planned (or none of it was
/// seen), the id of a finding, or the path of a setting that was not seen: the same from run to run, so that histories can be kept.
/// </summary>
internal sealed class JunitStrips
{
    private readonly SweepResult _result;
    private readonly Dictionary<string, string> _names = new(StringComparer.Ordinal);
    private readonly ILookup<(SettingClass, string), Finding> _findings;
    private readonly Dictionary<string, string> _unseen;
    private readonly ILookup<string, WaiverStatus> _waivers;

    public JunitStrips(SweepResult result)
    {
        _result = result;
        foreach (var strip in result.Subject.Plan.Strips)
            _names[strip.Strip.Path] = strip.Name;
        _waivers = result.Waivers.ToLookup(status => status.Line.Finding.Text, StringComparer.Ordinal);
        _findings = result.Audit.Findings.ToLookup(finding => (finding.Class, finding.Strip));
        _unseen = result.Unseen.ToDictionary(item => item.Setting, item => item.Reason, StringComparer.Ordinal);
    }

    public IEnumerable<JunitSuite> Suites()
    {
        var profile = _result.Subject.Plan.Profile;
        var planned = _result.Subject.Plan.Expectations.Select(item => profile.Settings[item.Setting])
            .ToLookup(setting => (setting.Kind.Class, profile.Strips[setting.Strip].Path), setting => setting.Path);
        var order = profile.Strips.Select((strip, place) => (strip.Path, place)).ToDictionary(item => item.Path, item => item.place, StringComparer.Ordinal);
        foreach (var settingClass in Enum.GetValues<SettingClass>())
        {
            var strips = planned.Select(group => group.Key).Concat(_findings.Select(group => group.Key)).Where(key => key.Item1 == settingClass)
                .Select(key => key.Item2).Distinct(StringComparer.Ordinal).OrderBy(strip => order.GetValueOrDefault(strip, int.MaxValue)).ToList();
            if (strips.Count > 0)
                yield return Suite(settingClass, strips.ToDictionary(strip => strip, strip => planned[(settingClass, strip)].ToList(), StringComparer.Ordinal), strips);
        }
    }

    private JunitSuite Suite(SettingClass settingClass, Dictionary<string, List<string>> planned, List<string> strips)
    {
        var cases = strips.SelectMany(strip => Cases(strip, planned[strip], [.. _findings[(settingClass, strip)]])).ToList();
        var all = planned.Values.Sum(paths => paths.Count);
        var verified = planned.Values.Sum(paths => paths.Count(path => !_unseen.ContainsKey(path)));
        // A case that passed has no room for text, so notices stand beside the cases.
        var notices = strips.SelectMany(strip => _findings[(settingClass, strip)]).Where(finding => finding.Severity < Severity.Warning)
            .Select(finding => $"{finding.Id}\n{Text(finding)}");
        return new JunitSuite(settingClass.Word(), [("planned", Number(all)), ("verified", Number(verified))], cases, string.Join("\n\n", notices), TimeSpan.Zero);
    }

    private IEnumerable<JunitCase> Cases(string strip, List<string> planned, List<Finding> findings)
    {
        foreach (var finding in findings)
        {
            yield return finding.Severity < Severity.Warning
                ? new JunitCase(finding.Id)
                : new JunitCase(finding.Id, JunitOutcome.Failure, finding.Rule.Id, finding.Words.What, Text(finding));
        }

        var unseen = planned.Where(_unseen.ContainsKey).ToList();
        if (unseen.Count > 0 && unseen.Count == planned.Count)
            yield return Unseen(Title(strip), unseen);
        else if (unseen.Count == 0 && findings.Count == 0)
            yield return new JunitCase(Title(strip));
        else
        {
            foreach (var path in unseen)
                yield return Unseen(path, [path]);
        }
    }

    private JunitCase Unseen(string name, List<string> paths) => new(name, JunitOutcome.Error, "unseen",
        $"{(paths.Count == 1 ? paths[0] : Sentences.Count(paths.Count, "planned setting"))} not verified: {string.Join(", ", paths.Select(path => _unseen[path]).Distinct())}",
        string.Join('\n', paths));

    private string Text(Finding finding) => string.Join('\n', (IEnumerable<string>)
    [
        $"{finding.Severity.Word()}: {finding.Words.What}",
        $"planned {finding.Planned ?? "nothing"}, live {(finding.Live.Length == 0 ? "(empty)" : finding.Live.ReplaceLineEndings(" "))}; {finding.PlanAt?.ToString() ?? "no plan line"}",
        $"why: {finding.Words.Why}",
        $"do: {finding.Words.Do}",
        .. _waivers[finding.Id].Select(status => $"known: {status.Words}"),
    ]);

    private string Title(string strip) => _names.TryGetValue(strip, out var name) && name != strip ? $"{strip} {name}" : strip;

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
