using System.Buffers;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Simulator.Incidents;

/// <summary>Reads a file of incidents. All faults are reported at once; a script with errors is never returned.</summary>
public sealed class IncidentReader
{
    /// <summary>The format line that is read.</summary>
    public const string Format = "statewatch/incidents/1";

    private static readonly SearchValues<char> RuleLetters = SearchValues.Create("abcdefghijklmnopqrstuvwxyz0123456789-");

    private readonly DiagnosticBag _diagnostics;
    private readonly ScriptedSettings _settings;

    private IncidentReader(DeskProfile profile, DiagnosticBag diagnostics)
    {
        _diagnostics = diagnostics;
        _settings = new ScriptedSettings(profile, diagnostics);
    }

    /// <summary>Reads a script for a desk.</summary>
    /// <param name="source">The text.</param>
    /// <param name="profile">The desk whose settings it names.</param>
    /// <param name="diagnostics">Gets every fault.</param>
    /// <returns>The script, or null after diagnostics.</returns>
    public static IncidentScript? Read(SourceText source, DeskProfile profile, DiagnosticBag diagnostics)
    {
        var root = YamlText.Read(source, diagnostics);
        if (root is null || !FormatLine.Check(root, Format, diagnostics))
            return null;
        var script = new IncidentReader(profile, diagnostics).ReadRoot(root);
        return diagnostics.HasErrors ? null : script;
    }

    private IncidentScript ReadRoot(MapNode root)
    {
        var reader = new MapReader(root, IncidentKeys.Root, _diagnostics);
        _ = reader.Take("format");
        var phase = _settings.Phase(reader.Scalar("phase"));
        var incidents = new List<Incident>();
        if (reader.Require("incidents") is { } list)
            ReadIncidents(list, incidents);
        var unanswered = new HashSet<int>();
        foreach (var item in reader.Items("unanswered") ?? [])
        {
            if (_settings.AsScalar(item, "a setting path") is { } path && _settings.Find(path) is var setting and >= 0)
                unanswered.Add(setting);
        }

        reader.Finish();
        return new IncidentScript(incidents, unanswered, phase);
    }

    private void ReadIncidents(Node node, List<Incident> incidents)
    {
        if (node is not ListNode list)
        {
            _diagnostics.Add(DocumentCodes.WrongShape, node.At, $"'incidents' holds {node.Shape}, but a list belongs here", "begin each incident with '- say:'");
            return;
        }

        foreach (var item in list.Items)
        {
            if (item is MapNode map)
                incidents.Add(ReadIncident(map));
            else
                _diagnostics.Add(DocumentCodes.WrongShape, item.At, $"an incident is a mapping, not {item.Shape}", "write '- say: …' with 'set:' and 'expect:' under it");
        }
    }

    private Incident ReadIncident(MapNode map)
    {
        var reader = new MapReader(map, IncidentKeys.Incident, _diagnostics);
        var say = reader.RequireScalar("say");
        if (say is { Text: "" })
            _diagnostics.Add(DocumentCodes.BadValue, say.At, "'say' is empty", "say in plain words what somebody did");
        var changes = new List<(int Setting, SettingValue Value)>();
        _settings.Changes(reader.RequireMapping("set"), changes);
        if (reader.Take("expect") is null)
            _diagnostics.Add(DocumentCodes.MissingKey, map.At, "'expect' is missing", "list the finding ids a sweep must give; 'expect: []' when it must give none");
        var expect = ReadExpected(reader.Items("expect") ?? []);
        var words = ReadWords(reader.Items("words") ?? []);
        var after = ReadAfter(reader.Scalar("after"));
        reader.Finish();
        return new Incident(say?.Text ?? "", changes, expect, words, after, map.At);
    }

    private List<string> ReadExpected(IReadOnlyList<Node> items)
    {
        var ids = new List<string>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var item in items)
        {
            if (_settings.AsScalar(item, "a finding id") is not { } scalar)
                continue;
            var rule = scalar.Text.AsSpan(0, Math.Max(0, scalar.Text.IndexOf(':', StringComparison.Ordinal)));
            if (rule.IsEmpty || rule.ContainsAnyExcept(RuleLetters) || scalar.Text.Length == rule.Length + 1)
                _diagnostics.Add(IncidentCodes.BadFindingId, scalar.At, $"'{scalar.Text}' is not a finding id", "write rule:subject, such as \"oscillator-on:desk/oscillator\"");
            else if (!seen.Add(scalar.Text))
                _diagnostics.Add(IncidentCodes.FindingTwice, scalar.At, $"'{scalar.Text}' is expected twice", "keep one of the two");
            else
                ids.Add(scalar.Text);
        }

        return ids;
    }

    private List<string> ReadWords(IReadOnlyList<Node> items)
    {
        var words = new List<string>();
        foreach (var item in items)
        {
            if (_settings.AsScalar(item, "what the page must say") is not { } scalar)
                continue;
            if (string.IsNullOrWhiteSpace(scalar.Text))
                _diagnostics.Add(DocumentCodes.BadValue, scalar.At, "these words are empty", "write what the volunteer's page must say, word for word");
            else
                words.Add(scalar.Text);
        }

        return words;
    }

    private TimeSpan ReadAfter(ScalarNode? scalar)
    {
        if (scalar is null)
            return TimeSpan.Zero;
        if (!Duration.TryParse(scalar.Text, out var after))
            _diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a time", "write it like 5 s, 250 ms or 2 min, at most a day");
        return after;
    }
}
