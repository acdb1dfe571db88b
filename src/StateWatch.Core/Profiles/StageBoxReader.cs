using StateWatch.Core.Documents;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Profiles;

/// <summary>Reads which sockets and outputs sit on which stage box: <c>boxes: { 1: { sockets: stage 1-16, outputs: stage 1-8 } }</c>.</summary>
internal sealed class StageBoxReader(StripCounts counts, DiagnosticBag diagnostics)
{
    private readonly Dictionary<string, int> _byStrip = new(StringComparer.Ordinal);

    public StageBoxes Read(MapNode? map)
    {
        if (map is null)
            return StageBoxes.None;
        foreach (var (key, value) in map.Entries)
        {
            if (value is not MapNode body)
                diagnostics.Add(DocumentCodes.WrongShape, value.At, $"box {key.Text} is {value.Shape}, but a mapping belongs here", "write its places: { sockets: stage 1-16, outputs: stage 1-8 }");
            else if (MapReader.ReadWholeNumber(key, "a stage box", ProfileKeys.BoxNumber, diagnostics) is { } number)
                ReadBox(number, body);
        }

        return new StageBoxes(_byStrip);
    }

    private void ReadBox(int number, MapNode body)
    {
        var reader = new MapReader(body, ProfileKeys.Box, diagnostics);
        ReadPlaces(number, "socket", reader.Scalar("sockets"));
        ReadPlaces(number, "output", reader.Scalar("outputs"));
        reader.Finish();
    }

    private void ReadPlaces(int box, string kind, ScalarNode? places)
    {
        if (places is null)
            return;
        if (!NumberSet.TryParseWithWord(places.Text, out var bank, out var numbers))
        {
            diagnostics.Add(DocumentCodes.BadValue, places.At, $"'{places.Text}' is not a bank with numbers", "write it like stage 1-16", NumberSet.Respell(places.Text, counts.Banks(kind)));
            return;
        }

        if (!counts.Banks(kind).Contains(bank))
        {
            diagnostics.Add(PlanCodes.NoSuchStrip, places.At, $"this desk has no {kind}s in a bank '{bank}'", "its banks stand under 'strips'", NumberSet.Respell(places.Text, counts.Banks(kind)));
            return;
        }

        foreach (var number in numbers)
        {
            if (number > counts.Bank(kind, bank))
                diagnostics.Add(PlanCodes.NoSuchStrip, places.At, $"there are {counts.Bank(kind, bank)} {kind}s in the bank {bank}, so none has the number {number}", null);
            else if (!_byStrip.TryAdd($"{kind}/{bank}-{number}", box))
                diagnostics.Add(DocumentCodes.BadValue, places.At, $"{kind} {bank} {number} sits on box {_byStrip[$"{kind}/{bank}-{number}"]} already", "name each place on one box");
            else
                continue;
            return;
        }
    }
}
