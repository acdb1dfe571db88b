using System.Text.Json;
using StateWatch.Core.Auditing.Margins;

namespace StateWatch.Core.Reports;

/// <summary>Writes what a sweep says of margins: dB with one decimal, null for no loop and for what does not apply.</summary>
internal static class MarginJson
{
    public static void Write(Utf8JsonWriter json, IReadOnlyList<LoopMargin> margins)
    {
        json.WriteStartArray("margins");
        foreach (var margin in margins)
        {
            json.WriteStartObject();
            json.WriteString("kind", margin.Kind switch
            {
                MarginKind.Now => "now",
                MarginKind.Microphone => "microphone",
                MarginKind.Rise => "rise",
                _ => "open",
            });
            json.WriteText("microphone", margin.Microphone);
            json.WriteText("feed", margin.Loudspeaker);
            json.WriteText("source", margin.Source);
            WriteNumber(json, "margin", margin.Margin);
            WriteNumber(json, "planned", margin.Planned);
            WriteNumber(json, "closer", margin.Closer);
            WriteNumber(json, "inPhase", margin.InPhase);
            WriteNumber(json, "spread", margin.Spread);
            WriteNumber(json, "openMicrophones", margin.OpenMicrophones);
            if (margin.MostOpen is { } most)
                json.WriteNumber("mostOpen", most);
            else
                json.WriteNull("mostOpen");
            WriteNumber(json, "potentialGain", margin.PotentialGain);
            WriteNumber(json, "neededGain", margin.NeededGain);
            WriteWinBack(json, margin.WinBack);
            json.WriteText("stale", margin.Stale);
            json.WriteText("planAt", margin.At?.ToString());
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteWinBack(Utf8JsonWriter json, WinBack? remedy)
    {
        if (remedy is null)
        {
            json.WriteNull("winBack");
            return;
        }

        json.WriteStartObject("winBack");
        json.WriteText("setting", remedy.Setting);
        json.WriteText("to", remedy.To);
        WriteNumber(json, "by", remedy.By);
        json.WriteEndObject();
    }

    // JSON has no endless numbers: no loop, like what does not apply, is null.
    private static void WriteNumber(Utf8JsonWriter json, string name, double? number)
    {
        if (number is { } value && double.IsFinite(value))
            json.WriteNumber(name, Math.Round(value, 1) + 0.0);
        else
            json.WriteNull(name);
    }
}
