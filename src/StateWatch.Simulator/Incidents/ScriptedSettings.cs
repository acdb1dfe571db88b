using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Simulator.Incidents;

/// <summary>Reads the settings of a desk, and their values, in the files that say what happens to it.</summary>
/// <param name="profile">The desk.</param>
/// <param name="diagnostics">Gets every fault.</param>
internal sealed class ScriptedSettings(DeskProfile profile, DiagnosticBag diagnostics)
{
    // Looking through every path of a desk takes milliseconds; a hostile file could ask for it a hundred thousand times.
    private const int MostSuggestions = 20;

    private int _suggestions;

    /// <summary>Reads settings with their new values.</summary>
    public void Changes(MapNode? map, List<(int Setting, SettingValue Value)> changes)
    {
        if (map is { Entries.Count: 0 })
            diagnostics.Add(IncidentCodes.NothingSet, map.At, "this changes no setting", "write what is changed, such as { desk/oscillator: on }");
        foreach (var (key, value) in map?.Entries ?? [])
        {
            var id = Find(key);
            if (AsScalar(value, "the new value") is not { } text || id < 0)
                continue;
            var setting = profile.Settings[id];
            if (setting.Codec.TryParse(text.Text, out var parsed, out var problem))
                changes.Add((id, parsed));
            else
            {
                var near = NearestWord.Among(text.Text, setting.Codec.Words, diagnostics);
                diagnostics.Add(DocumentCodes.BadValue, text.At, $"{setting.Path}: {problem}", near is null ? null : $"did you mean '{near}'?", near);
            }
        }
    }

    /// <summary>Reads the word of a phase, or null after diagnostics.</summary>
    public Phase? Phase(ScalarNode? scalar)
    {
        if (scalar is null)
            return null;
        if (Phases.TryParse(scalar.Text, out var phase))
            return phase;
        var near = NearestWord.Among(scalar.Text, Phases.All);
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a phase", $"write one of {string.Join(", ", Phases.All)}", near);
        return null;
    }

    /// <summary>The id of a setting, or -1 after diagnostics.</summary>
    public int Find(ScalarNode path)
    {
        var id = profile.Find(path.Text);
        if (id >= 0)
            return id;
        var near = _suggestions++ < MostSuggestions ? NearestPath.Among(path.Text, profile.Settings.Select(setting => setting.Path), path.Text, diagnostics) : null;
        diagnostics.Add(IncidentCodes.SettingNotSeen, path.At, $"the profile of the {profile.Desk} sees no setting '{path.Text}'",
            near is null ? $"the paths are under 'settings' in {profile.File}" : $"did you mean '{near}'?", near);
        return -1;
    }

    /// <summary>A single value, or null after diagnostics.</summary>
    public ScalarNode? AsScalar(Node node, string what)
    {
        if (node is ScalarNode scalar)
            return scalar;
        diagnostics.Add(DocumentCodes.WrongShape, node.At, $"{what} is a single value, not {node.Shape}", null);
        return null;
    }
}
