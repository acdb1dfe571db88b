using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>A processor, and how many channels it has.</summary>
/// <param name="Name">Its name, as the desk spells it.</param>
/// <param name="Channels">How many strips it can process at once, from 1.</param>
public sealed record UnitLine(ScalarNode Name, int Channels)
{
    /// <summary>Reads <c>units: { Hush A: 1, Twin A: 2 }</c>.</summary>
    internal static List<UnitLine> Read(MapNode? map, DiagnosticBag diagnostics)
    {
        var lines = new List<UnitLine>();
        foreach (var (name, value) in map?.Entries ?? [])
        {
            if (value is not ScalarNode channels)
                diagnostics.Add(DocumentCodes.WrongShape, value.At, $"unit '{name.Text}' is {value.Shape}", "write unit: how many channels it has");
            else if (MapReader.ReadWholeNumber(channels, "the channels of a unit", PlanShapes.Channels, diagnostics) is { } number)
                lines.Add(new UnitLine(name, number));
        }

        return lines;
    }
}
