using System.Text;
using System.Text.Json;

namespace StateWatch.Core.Reports;

/// <summary>Writes texts that came from a desk or file: half a surrogate pair is no text and would make the writer throw.</summary>
internal static class JsonTexts
{
    public static void WriteText(this Utf8JsonWriter json, string name, string? text)
    {
        if (text is null)
            json.WriteNull(name);
        else
            json.WriteString(name, Whole(text));
    }

    public static void WriteTexts(this Utf8JsonWriter json, string name, IEnumerable<string> texts)
    {
        json.WriteStartArray(name);
        foreach (var text in texts)
            json.WriteStringValue(Whole(text));
        json.WriteEndArray();
    }

    private static string Whole(string text)
    {
        if (!text.Any(char.IsSurrogate))
            return text;
        var whole = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
            whole.Append(rune.ToString());
        return whole.ToString();
    }
}
