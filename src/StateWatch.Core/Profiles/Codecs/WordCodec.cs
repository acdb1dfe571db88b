using System.Text;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles.Codecs;

/// <summary>
/// A list of words, each with its spelling on the wire (a number or a string): choices such as <c>pre-fader</c>, and points such as
/// <c>stage 12</c>.
/// </summary>
public sealed class WordCodec : Codec
{
    private readonly Dictionary<int, int> _wordByWire = [];
    private readonly Dictionary<int, int> _wireByWord = [];
    private readonly Dictionary<int, byte[]> _bytesByWord = [];
    private readonly List<int> _words = [];

    /// <summary>An empty list; add words with <see cref="TryAdd"/>.</summary>
    public WordCodec(string name, ValueKind kind, WireKind wire, TextPool texts)
        : base(name, kind, wire, texts)
    {
    }

    /// <inheritdoc/>
    public override SettingValue AfterReset
    {
        get
        {
            var none = Texts.Intern("none");
            return Make(_wireByWord.ContainsKey(none) ? none : _words.Count > 0 ? _words[0] : 0);
        }
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Words => _words.Select(id => Texts[id]);

    /// <summary>Adds a word with its spelling on the wire.</summary>
    /// <returns>Null, or what it collides with.</returns>
    public string? TryAdd(string word, string wire)
    {
        var wordId = Texts.Intern(word);
        int wireId;
        if (Wire == WireKind.String)
            wireId = Texts.Intern(wire);
        else if (!int.TryParse(wire, out wireId))
            return $"'{wire}' is not a whole number";
        if ((wordId < 0 || wireId < 0 && Wire == WireKind.String) && Texts.IsFull)
            return $"the profile holds more than {TextPool.Capacity:N0} words";
        if (wordId < 0 || wireId < 0 && Wire == WireKind.String)
            return $"the word is longer than {TextPool.LongestText} characters";
        if (_wordByWire.TryGetValue(wireId, out var other))
            return $"'{Texts[other]}' is already spelled '{wire}' on the wire";
        if (!_wireByWord.TryAdd(wordId, wireId))
            return $"'{word}' is listed twice";
        _wordByWire.Add(wireId, wordId);
        _words.Add(wordId);
        if (Wire == WireKind.String)
            _bytesByWord.Add(wordId, Encoding.UTF8.GetBytes(wire));
        return null;
    }

    /// <inheritdoc/>
    public override bool TryDecode(in OscArgument argument, out SettingValue value)
    {
        value = default;
        int wire;
        if (Wire == WireKind.String)
        {
            if (argument.Type is not (OscType.String or OscType.Symbol))
                return false;
            wire = Texts.Find(argument.Bytes);
        }
        else
        {
            if (argument.Type is OscType.True or OscType.False || !argument.TryGetNumber(out var number) || number != Math.Truncate(number) || Math.Abs(number) > int.MaxValue)
                return false;
            wire = (int)number;
        }

        if (!_wordByWire.TryGetValue(wire, out var word))
            return false;
        value = Make(word);
        return true;
    }

    /// <inheritdoc/>
    public override void Encode(SettingValue value, ref OscWriter writer)
    {
        switch (Wire)
        {
            case WireKind.String:
                writer.String(_bytesByWord[value.TextId]);
                break;
            case WireKind.Float:
                writer.Float32(_wireByWord[value.TextId]);
                break;
            default:
                writer.Int32(_wireByWord[value.TextId]);
                break;
        }
    }

    /// <inheritdoc/>
    public override bool TryParse(string text, out SettingValue value, out string? problem)
    {
        var id = Texts.Intern(text);
        if (id >= 0 && _wireByWord.ContainsKey(id))
        {
            value = Make(id);
            problem = null;
            return true;
        }

        value = default;
        problem = _words.Count <= 12
            ? $"'{text}' is not one of {string.Join(", ", Words)}"
            : $"'{text}' is not one of the {_words.Count} this desk knows here, such as {string.Join(", ", Words.Take(3))}";
        return false;
    }

    private SettingValue Make(int id) => Kind == ValueKind.Point ? SettingValue.Point(id) : SettingValue.Choice(id);
}
