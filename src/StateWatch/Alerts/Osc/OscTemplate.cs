using System.Text;
using StateWatch.Core.Reports;
using StateWatch.Protocol.Osc;

namespace StateWatch.Alerts.Osc;

/// <summary>
/// An OSC message of the user's: an address, and arguments each with its type. <c>s:</c> is a text (UTF-8; the standard knows only ASCII), <c>i:</c> a whole number of 32 bits,
/// <c>f:</c> a number of 32 bits; the last two take a number, a placeholder that is one, or a choice of numbers. <c>T</c>, <c>F</c>, <c>N</c> and <c>I</c> stand alone.
/// </summary>
internal sealed class OscTemplate
{
    /// <summary>The most arguments.</summary>
    public const int MostArguments = 32;

    /// <summary>The longest text that goes out, in bytes; a longer one is cut and ends in an ellipsis.</summary>
    public const int LongestText = 512;

    private const int Largest = (MostArguments * (LongestText + 8)) + 2048;

    private readonly byte[] _address;
    private readonly byte[] _tags;
    private readonly OscText?[] _texts;

    private OscTemplate(string address, List<(char Tag, OscText? Text)> arguments)
    {
        _address = Encoding.ASCII.GetBytes(address);
        _tags = [.. arguments.Select(static one => (byte)one.Tag)];
        _texts = [.. arguments.Select(static one => one.Text)];
    }

    /// <summary>Reads one.</summary>
    /// <param name="settings">As written.</param>
    /// <param name="known">The placeholders that there are.</param>
    /// <param name="faults">Gets what is wrong: the key below the message's, and the words.</param>
    /// <returns>The template; null when something is wrong.</returns>
    public static OscTemplate? Read(OscMessageSettings settings, IReadOnlyDictionary<string, OscPlaceholder> known, List<(string Key, string Words)> faults)
    {
        var before = faults.Count;
        var address = settings.Address ?? "";
        if (AddressFault(address) is { } wrong)
            faults.Add(("address", wrong));
        var written = settings.Arguments ?? [];
        if (written.Count > MostArguments)
            faults.Add(("arguments", $"these are {written.Count} arguments, and {MostArguments} is the most; leave some out"));
        var arguments = new List<(char, OscText?)>();
        for (var i = 0; i < written.Count && i < MostArguments; i++)
        {
            if (Argument(written[i], known, out var argument) is { } fault)
                faults.Add(($"arguments:{i}", fault));
            arguments.Add(argument);
        }

        return faults.Count == before ? new OscTemplate(address, arguments) : null;
    }

    /// <summary>Whether an argument has that placeholder.</summary>
    public bool Has(string placeholder) => _texts.Any(text => text?.Has(placeholder) == true);

    /// <summary>The packet.</summary>
    public byte[] Write(OscValues values)
    {
        var buffer = new byte[Largest];
        var writer = new OscWriter(buffer);
        writer.StartMessage(_address, _tags);
        for (var i = 0; i < _tags.Length; i++)
        {
            if (_texts[i]?.Of(values) is not { } text)
                continue;
            if (_tags[i] == (byte)'i')
                writer.Int32(OscNumbers.Whole(text));
            else if (_tags[i] == (byte)'f')
                writer.Float32(OscNumbers.Real(text));
            else
                writer.String(Bytes(PlainText.Clean(text)));
        }

        var error = writer.Finish(out var length);
        return error == OscError.None ? buffer[..length] : throw new InvalidOperationException($"an OSC message could not be written: {error}");
    }

    private static string? Argument(string written, IReadOnlyDictionary<string, OscPlaceholder> known, out (char Tag, OscText? Text) argument)
    {
        argument = default;
        if (written is "T" or "F" or "N" or "I")
        {
            argument = (written[0], null);
            return null;
        }

        if (written.Length < 2 || written[1] != ':' || written[0] is not ('s' or 'i' or 'f'))
            return $"'{written}' has no type; write s: and a text, i: or f: and a number, or T, F, N or I alone, such as s:{{text}}";
        if (OscText.Read(written[2..], known, out var fault) is not { } text)
            return fault;
        argument = (written[0], text);
        if (written[0] == 's' || text.IsNumber)
            return null;
        var numbers = string.Join(", ", known.Where(static one => one.Value.IsNumber).Select(static one => $"{{{one.Key}}}"));
        return $"'{written[2..]}' is not always a number; write a number, one of {numbers}, or a choice of numbers such as {{severity; urgent=127; else=0}}";
    }

    // OSC 1.0, "OSC Address Spaces and OSC Addresses": printable ASCII but space # * , / ? [ ] { } in each name.
    private static string? AddressFault(string address)
    {
        if (address.Length < 2 || address[0] != '/')
            return $"'{address}' is no OSC address; it begins with '/' and a name, such as /foyer/lamp";
        foreach (var letter in address)
        {
            if (letter is <= ' ' or > '~' or '#' or '*' or ',' or '?' or '[' or ']' or '{' or '}')
                return $"'{address}' holds '{PlainText.Clean(letter.ToString())}', which an address may not; leave it out";
        }

        return address.Length > 255 ? "an address has 255 characters at the most" : null;
    }

    private static byte[] Bytes(string text)
    {
        var bytes = Encoding.UTF8.GetBytes(text);
        if (bytes.Length <= LongestText)
            return bytes;
        var cut = LongestText - 3;
        while ((bytes[cut] & 0xC0) == 0x80)
            cut--;
        return [.. bytes[..cut], .. "…"u8];
    }
}
