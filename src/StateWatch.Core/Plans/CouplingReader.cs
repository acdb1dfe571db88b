using System.Globalization;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Reads the plan's <c>couplings:</c>: shapes, ranges and days only, no desk needed.</summary>
internal sealed class CouplingReader(DiagnosticBag diagnostics)
{
    public List<CouplingLine> Read(IReadOnlyList<Node>? items)
    {
        var lines = new List<CouplingLine>();
        foreach (var item in items ?? [])
        {
            if (item is not MapNode map)
                diagnostics.Add(DocumentCodes.WrongShape, item.At, $"a coupling is {item.Shape}, but a mapping belongs here", "write { mic: Lectern, feed: wedges 3, loss: 32 dB, measured: 2026-11-22, by: … }, or { mic: Lectern, feed: room, distance: 6 m }");
            else if ((map.Find("loss") is null && map.Find("distance") is not null ? ReadEstimate(map) : ReadMeasured(map)) is { } line)
                lines.Add(line);
        }

        return lines;
    }

    private CouplingLine? ReadMeasured(MapNode map)
    {
        var reader = Reader(map, CouplingTables.Measured, CouplingTables.Estimate);
        var (mic, feed) = (reader.RequireScalar("mic"), reader.RequireScalar("feed"));
        var written = reader.Scalar("loss");
        if (map.Find("loss") is null)
            diagnostics.Add(DocumentCodes.MissingKey, map.At, "this coupling says neither how much was measured nor how far apart both are", "add loss: 32 dB, measured: and by:, or distance: 6 m for an estimate");
        var loss = Measure.Loss.Read(written, reader.Table["loss"], diagnostics);
        var isMeasured = written is not null;
        var day = isMeasured ? reader.RequireScalar("measured") : reader.Scalar("measured");
        var by = isMeasured ? reader.RequireScalar("by") : reader.Scalar("by");
        var (room, setup) = (reader.Scalar("room"), reader.Scalar("setup"));
        reader.Finish();
        if (by is not null && string.IsNullOrWhiteSpace(by.Text))
            diagnostics.Add(DocumentCodes.BadValue, by.At, "'by' is empty", $"say who measured it, such as by: {reader.Table["by"].Example}");
        if (room is not null && !reader.Table.WordsOf("room").Contains(room.Text))
            diagnostics.Add(DocumentCodes.BadValue, room.At, $"'{room.Text}' does not say who was in the room", "write empty or full", NearestWord.Among(room.Text, reader.Table.WordsOf("room")));
        var print = setup is null ? null : ReadSetup(setup);
        if (day is null || ReadDay(day) is not { } date || loss is not { } value || by is null || mic is null || feed is null)
            return null;
        return new CouplingLine(mic, feed, map.At) { Measured = new MeasuredLoss(value, date, day.At, by.Text.Trim(), room?.Text, print) };
    }

    private CouplingLine? ReadEstimate(MapNode map)
    {
        var reader = Reader(map, CouplingTables.Estimate, CouplingTables.Measured);
        var (mic, feed) = (reader.RequireScalar("mic"), reader.RequireScalar("feed"));
        var distance = Measure.Length.Read(reader.RequireScalar("distance"), reader.Table["distance"], diagnostics);
        var off = reader.Scalar("angle");
        var angle = off is null ? 0 : Measure.Angle.Read(off, reader.Table["angle"], diagnostics);
        var gain = reader.Mapping("acoustic-gain");
        var listening = gain is null ? null : ReadListening(gain);
        reader.Finish();
        return mic is null || feed is null || distance is not { } metres || angle is not { } degrees ? null
            : new CouplingLine(mic, feed, map.At) { Geometry = new CouplingGeometry(metres, degrees, listening) };
    }

    private ListeningDistances? ReadListening(MapNode map)
    {
        var reader = new MapReader(map, CouplingTables.AcousticGain, diagnostics);
        double? Length(string key) => Measure.Length.Read(reader.RequireScalar(key), reader.Table[key], diagnostics);
        var (mic, listener, loudspeaker, near) = (Length("talker-to-mic"), Length("talker-to-listener"), Length("loudspeaker-to-listener"), Length("as-if-at"));
        reader.Finish();
        return mic is { } ds && listener is { } d0 && loudspeaker is { } d2 && near is { } ead ? new ListeningDistances(ds, d0, d2, ead) : null;
    }

    // A line is one or the other: what belongs to the other kind is told in words of its own.
    private MapReader Reader(MapNode map, KeyTable table, KeyTable other)
    {
        var own = new List<MapEntry>(map.Entries.Count);
        foreach (var entry in map.Entries)
        {
            if (table.Find(entry.Key.Text) is not null || other.Find(entry.Key.Text) is null)
                own.Add(entry);
            else
                diagnostics.Add(DocumentCodes.UnknownKey, entry.Key.At, $"'{entry.Key.Text}' is no key of {(table == CouplingTables.Measured ? "a measured" : "an estimated")} coupling",
                    "a coupling is measured (loss, measured, by) or estimated (distance); write two lines for both: the measured one outweighs the other");
        }

        return new MapReader(own.Count == map.Entries.Count ? map : new MapNode(map.At, own), table, diagnostics);
    }

    private DateOnly? ReadDay(ScalarNode scalar)
    {
        if (DateOnly.TryParseExact(scalar.Text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
            return day;
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a day", "write year-month-day, such as 2026-11-22: the day it was measured");
        return null;
    }

    private string? ReadSetup(ScalarNode scalar)
    {
        if (scalar.Text.Length == 8 && scalar.Text.All(char.IsAsciiHexDigit))
            return scalar.Text.ToLowerInvariant();
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not the fingerprint of a setup", "copy the eight hexadecimal digits that were printed when it was measured, or leave setup: out");
        return null;
    }
}
