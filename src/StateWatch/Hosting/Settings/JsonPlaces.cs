using System.Text.Json;
using StateWatch.Core.Documents;

namespace StateWatch.Hosting.Settings;

/// <summary>Where each key of a JSON file stands, as configuration calls it (<c>desks:house:plan</c>).</summary>
internal sealed class JsonPlaces
{
    private const int Deepest = 16;
    private const int MostKeys = 2000;

    private static readonly JsonReaderOptions Options = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true, MaxDepth = Deepest };

    private readonly Dictionary<string, Place> _places = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> _lists = new(StringComparer.OrdinalIgnoreCase);
    private int _line = 1;
    private int _lineStart;
    private int _lookedAt;

    /// <summary>What is wrong with the text as such, or null.</summary>
    public (Place At, string Words)? Fault { get; private set; }

    /// <summary>The place of a key; line 1 of one that is not there.</summary>
    public Place Of(string path) => _places.GetValueOrDefault(path, new Place(1, 1));

    /// <summary>Whether a list of items without names stands there.</summary>
    public bool IsList(string path) => _lists.Contains(path);

    /// <summary>Whether the file has the key.</summary>
    public bool Has(string path) => _places.ContainsKey(path);

    /// <summary>Reads a file.</summary>
    public static JsonPlaces Read(ReadOnlySpan<byte> text)
    {
        var places = new JsonPlaces();
        var reader = new Utf8JsonReader(text, Options);
        try
        {
            places.Walk(ref reader, text);
        }
        catch (Exception problem) when (problem is JsonException or InvalidOperationException)
        {
            var line = (problem as JsonException)?.LineNumber ?? 0;
            var column = (problem as JsonException)?.BytePositionInLine ?? 0;
            places.Fault = problem is InvalidOperationException ? (places.PlaceOf(text, reader.TokenStartIndex), "this holds what is no text in UTF-8; save the file as UTF-8, and write letters as they are")
                : (new Place((int)line + 1, (int)column + 1), "this is not JSON: a comma, quote or bracket is missing or too many, or it is nested deeper than 16 levels");
        }

        return places;
    }

    private void Walk(ref Utf8JsonReader reader, ReadOnlySpan<byte> text)
    {
        var path = new Stack<(string Path, int Item)>();
        var at = "";
        while (reader.Read() && Fault is null)
        {
            if (_places.Count > MostKeys)
                Fault = (PlaceOf(text, reader.TokenStartIndex), $"these are more than {MostKeys:N0} keys and values; are these the right settings?");
            switch (reader.TokenType)
            {
                case JsonTokenType.PropertyName:
                    at = Join(path.Count == 0 ? "" : path.Peek().Path, reader.GetString()!);
                    if (!_places.TryAdd(at, PlaceOf(text, reader.TokenStartIndex)))
                        Fault = (PlaceOf(text, reader.TokenStartIndex), $"'{at}' stands here twice; leave one of them out");
                    break;
                case JsonTokenType.StartObject or JsonTokenType.StartArray:
                    var isList = reader.TokenType == JsonTokenType.StartArray;
                    path.Push((Next(path, at, PlaceOf(text, reader.TokenStartIndex)), isList ? 0 : -1));
                    if (isList)
                        _lists.Add(path.Peek().Path);
                    break;
                case JsonTokenType.EndObject or JsonTokenType.EndArray:
                    _ = path.Pop();
                    break;
                default:
                    // Half a pair of surrogates, or bytes that are no UTF-8, would break whoever reads the values.
                    if (reader.TokenType == JsonTokenType.String)
                        _ = reader.GetString();
                    _ = Next(path, at, PlaceOf(text, reader.TokenStartIndex));
                    break;
            }
        }

        if (text.TrimStart(" \t\r\n"u8) is not [(byte)'{' or (byte)'/', ..])
            Fault ??= (new Place(1, 1), "settings are an object: begin with '{'");
    }

    // The path of the value that begins here: of an item its number, else what its key said.
    private string Next(Stack<(string Path, int Item)> path, string at, Place place)
    {
        if (path.Count == 0 || path.Peek().Item < 0)
            return path.Count == 0 ? "" : at;
        var (list, item) = path.Pop();
        path.Push((list, item + 1));
        var here = Join(list, item.ToString(System.Globalization.CultureInfo.InvariantCulture));
        _places.TryAdd(here, place);
        return here;
    }

    private static string Join(string above, string key) => above.Length == 0 ? key : $"{above}:{key}";

    // Tokens come in order, so each looks only at what lies behind the one before.
    private Place PlaceOf(ReadOnlySpan<byte> text, long index)
    {
        var passed = text[_lookedAt..(int)index];
        _line += passed.Count((byte)'\n');
        if (passed.LastIndexOf((byte)'\n') is var newLine and >= 0)
            _lineStart = _lookedAt + newLine + 1;
        _lookedAt = (int)index;
        return new Place(_line, System.Text.Encoding.UTF8.GetCharCount(text[_lineStart.._lookedAt]) + 1);
    }
}
