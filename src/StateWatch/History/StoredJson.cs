using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using StateWatch.Core.Findings;
using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>
/// How records are written into the history: JSON with words for everything that has some, infinities too. A new property of a stored record needs a
/// migration where its absence means something else than the default of its type.
/// </summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, UseStringEnumConverter = true, IgnoreReadOnlyProperties = true,
    NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull, Converters = [typeof(WholeText)])]
[JsonSerializable(typeof(FindingRecord))]
[JsonSerializable(typeof(LedgerState))]
[JsonSerializable(typeof(ShowStanding))]
[JsonSerializable(typeof(AlertWords))]
[JsonSerializable(typeof(Alert))]
internal sealed partial class StoredJson : JsonSerializerContext;

/// <summary>Texts that came from a desk or a file: half a surrogate pair is no text, and would keep everything else of its commit from being stored.</summary>
internal sealed class WholeText : JsonConverter<string>
{
    public override string Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetString()!;

    public override void Write(Utf8JsonWriter writer, string value, JsonSerializerOptions options) => writer.WriteStringValue(Of(value));

    public override string ReadAsPropertyName(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetString()!;

    public override void WriteAsPropertyName(Utf8JsonWriter writer, string value, JsonSerializerOptions options) => writer.WritePropertyName(Of(value));

    /// <summary>The text with U+FFFD for half pairs, and for the character zero, which is the end of a text in many places.</summary>
    public static string ForColumn(string text) => Of(text).Replace('\0', '\uFFFD');

    private static string Of(string text)
    {
        if (!text.AsSpan().ContainsAnyInRange('\uD800', '\uDFFF'))
            return text;
        var whole = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
            whole.Append(rune.ToString());
        return whole.ToString();
    }
}
