using System.Text;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles.Codecs;

/// <summary>Free text, cut by the desk to a number of bytes and perhaps padded with spaces.</summary>
public sealed class TextCodec(string name, int length, bool padded, TextPool texts)
    : Codec(name, ValueKind.Text, WireKind.String, texts)
{
    /// <summary>The most bytes the desk keeps; 0 for no limit.</summary>
    public int Length { get; } = length;

    /// <inheritdoc/>
    public override SettingValue AfterReset => SettingValue.Text(Texts.Intern(""));

    /// <inheritdoc/>
    public override bool TryDecode(in OscArgument argument, out SettingValue value)
    {
        value = default;
        if (argument.Type is not (OscType.String or OscType.Symbol))
            return false;
        var bytes = argument.Bytes;
        var id = Texts.Intern(padded ? bytes.TrimEnd((byte)' ') : bytes);
        value = SettingValue.Text(Math.Max(0, id));
        return id >= 0;
    }

    /// <inheritdoc/>
    public override void Encode(SettingValue value, ref OscWriter writer)
    {
        // A text has at most LongestText characters, of at most three bytes each; it is padded to no more than LongestText bytes.
        Span<byte> buffer = stackalloc byte[TextPool.LongestText * 3];
        var used = Encoding.UTF8.GetBytes(Texts[value.TextId], buffer);
        if (padded && used < Length)
        {
            buffer[used..Length].Fill((byte)' ');
            used = Length;
        }

        writer.String(buffer[..used]);
    }

    /// <inheritdoc/>
    public override bool TryParse(string text, out SettingValue value, out string? problem)
    {
        var id = Texts.Intern(Cut(text));
        value = SettingValue.Text(Math.Max(0, id));
        problem = id >= 0 ? null : $"this text is longer than {TextPool.LongestText} characters";
        return id >= 0;
    }

    /// <summary>The text as the desk would keep it: cut to its length in bytes, never inside a character; trailing pad is dropped.</summary>
    public string Cut(string text)
    {
        if (Length > 0 && Encoding.UTF8.GetByteCount(text) > Length)
        {
            var kept = 0;
            var bytes = 0;
            foreach (var rune in text.EnumerateRunes())
            {
                if (bytes + rune.Utf8SequenceLength > Length)
                    break;
                bytes += rune.Utf8SequenceLength;
                kept += rune.Utf16SequenceLength;
            }

            text = text[..kept];
        }

        return padded ? text.TrimEnd(' ') : text;
    }
}
