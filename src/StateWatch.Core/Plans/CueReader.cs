using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Reads the plan's <c>cues:</c>: shapes and words only, no desk needed.</summary>
internal sealed class CueReader(StripKeysReader keys, DiagnosticBag diagnostics)
{
    /// <summary>The most cues of one plan; each is compiled by a check.</summary>
    public const int Most = 500;

    private static readonly TimeSpan LongestSettle = TimeSpan.FromMinutes(10);

    public List<CueLine> Read(MapNode? map)
    {
        var cues = new List<CueLine>();
        foreach (var (key, value) in map?.Entries ?? [])
        {
            if (string.IsNullOrWhiteSpace(key.Text))
                diagnostics.Add(DocumentCodes.BadValue, key.At, "a cue has no name", "write it as people call it, such as Sermon: { open: [Lectern] }");
            else if (value is not MapNode body)
                diagnostics.Add(DocumentCodes.WrongShape, value.At, $"cue '{key.Text}' is {value.Shape}, but a mapping belongs here", $"write {key.Text}: {{ open: [Lectern] }}");
            else if (cues.Count == Most)
            {
                diagnostics.Add(DocumentCodes.OutOfRange, key.At, $"this is cue {Most + 1}, but a plan has at most {Most}", "put acts into plans of their own, each with extends:");
                break;
            }
            else
                cues.Add(ReadOne(key, body));
        }

        return cues;
    }

    private CueLine ReadOne(ScalarNode key, MapNode body)
    {
        var reader = new MapReader(body, PlanKeys.Cue, diagnostics);
        var open = Names(reader, "open");
        var closed = Names(reader, "closed");
        var effects = reader.Scalar("effects");
        var words = reader.Table.WordsOf("effects");
        if (effects is not null && !words.Contains(effects.Text))
        {
            diagnostics.Add(DocumentCodes.BadValue, effects.At, $"'{effects.Text}' is not a state of all effects", $"write {string.Join(" or ", words)}; single effects stand under open: or closed:", NearestWord.Among(effects.Text, words));
            effects = null;
        }

        var (settings, byEye) = ByEyeReader.Part(reader.Mapping("settings")?.Entries ?? [], diagnostics);
        var inputs = Inputs(reader.Mapping("inputs"));
        var settle = Settle(reader.Scalar("settle"));
        var message = MessageReader.Read(reader);
        reader.Finish();
        return new CueLine(key, open, closed, effects, settings, inputs, settle) { ByEyeSettings = byEye, Message = message };
    }

    private List<ScalarNode> Names(MapReader reader, string key)
    {
        var names = keys.ReadNames(reader, key);
        var seen = new HashSet<string>(names.Count, StringComparer.Ordinal);
        names.RemoveAll(name =>
        {
            if (seen.Add(name.Text))
                return false;
            diagnostics.Add(PlanCodes.Redundant, name.At, $"'{name.Text}' already stands in this list", "leave it out");
            return true;
        });
        return names;
    }

    private List<StripLine> Inputs(MapNode? map)
    {
        var lines = new List<StripLine>();
        foreach (var (key, value) in map?.Entries ?? [])
        {
            if (value is not MapNode body)
            {
                diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{key.Text}' is {value.Shape}, but a mapping belongs here", $"write {key.Text}: {{ fader: -5 dB }}");
                continue;
            }

            var reader = new MapReader(body, StripTables.CueInput, diagnostics);
            var said = keys.Read(reader);
            reader.Finish();
            if (NumberSet.TryParse(key.Text, out var numbers))
                lines.Add(new StripLine(key, numbers, said));
            else
                diagnostics.Add(DocumentCodes.BadValue, key.At, $"'{key.Text}' is not a set of numbers", "write it like 7, 1-17 or 1-4, 7");
        }

        return lines;
    }

    private TimeSpan Settle(ScalarNode? scalar)
    {
        if (scalar is null)
            return CueLine.DefaultSettle;
        // A bare number would be milliseconds, and nobody means those.
        if (!scalar.Text.EndsWith('s') || !ValueText.TryParseNumber(scalar.Text, Unit.Millisecond, out var milliseconds) || !(milliseconds >= 0))
            diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a time", "write it like 12 s");
        else if (milliseconds > LongestSettle.TotalMilliseconds)
            diagnostics.Add(DocumentCodes.OutOfRange, scalar.At, $"{scalar.Text} is longer than {LongestSettle.TotalMinutes:0} minutes", null);
        else
            return TimeSpan.FromMilliseconds(milliseconds);
        return CueLine.DefaultSettle;
    }
}
