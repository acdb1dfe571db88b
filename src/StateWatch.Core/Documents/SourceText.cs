using System.Text;

namespace StateWatch.Core.Documents;

/// <summary>The text of one plan, profile or other file, with its name for messages.</summary>
public sealed class SourceText
{
    /// <summary>The largest file that is read, in bytes (4 MB).</summary>
    public const int MaxBytes = 4 * 1024 * 1024;

    private static readonly UTF8Encoding StrictUtf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private List<int>? _starts;

    /// <summary>Wraps text that is known to be clean, such as a test's or an embedded file.</summary>
    public SourceText(string name, string text)
    {
        Name = name;
        Text = text;
    }

    /// <summary>File name as the user gave it.</summary>
    public string Name { get; }

    /// <summary>The whole text.</summary>
    public string Text { get; }

    /// <summary>Decodes hostile bytes: UTF-8 (a byte-order mark is dropped), at most <see cref="MaxBytes"/>.</summary>
    /// <returns>The text, or null after a diagnostic.</returns>
    public static SourceText? FromBytes(string name, ReadOnlySpan<byte> bytes, DiagnosticBag diagnostics)
    {
        if (bytes.Length > MaxBytes)
            return Refuse(DocumentCodes.FileTooLarge, $"this file has more than {MaxBytes:N0} bytes, which is the most that is read",
                "a plan or profile is a page or two of text: is this the right file?");
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || bytes.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
            return Refuse(DocumentCodes.WrongEncoding, "this file is UTF-16", "save it as UTF-8");
        if (bytes.Contains((byte)0))
            return Refuse(DocumentCodes.WrongEncoding, "this file holds zero bytes, so it is not text",
                "is this the right file? Plans and profiles are UTF-8 text");
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
            bytes = bytes[3..];
        // A second mark would join the first key, where nobody sees it.
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
            return Refuse(DocumentCodes.WrongEncoding, "this file begins with two byte-order marks", "save it as UTF-8 without a mark");
        try
        {
            return new SourceText(name, StrictUtf8.GetString(bytes));
        }
        catch (DecoderFallbackException problem)
        {
            var line = 1 + bytes[..Math.Clamp(problem.Index, 0, bytes.Length)].Count((byte)'\n');
            diagnostics.Add(DocumentCodes.WrongEncoding, new Origin(name, new Place(line, 1)),
                "this line is not valid UTF-8", "save the file as UTF-8");
            return null;
        }

        SourceText? Refuse(DiagnosticCode code, string message, string advice)
        {
            diagnostics.Add(code, new Origin(name, new Place(1, 1)), message, advice);
            return null;
        }
    }

    /// <summary>The text of one line without its line break, or empty when there is no such line.</summary>
    /// <param name="line">Line number, from 1.</param>
    public ReadOnlySpan<char> Line(int line)
    {
        // Hundreds of faults may stand in a file of a million lines.
        _starts ??= FindStarts();
        if (line < 1 || line > _starts.Count)
            return [];
        var rest = Text.AsSpan(_starts[line - 1]);
        var stop = rest.IndexOf('\n');
        return (stop < 0 ? rest : rest[..stop]).TrimEnd('\r');
    }

    private List<int> FindStarts()
    {
        var starts = new List<int> { 0 };
        for (var at = Text.IndexOf('\n', StringComparison.Ordinal); at >= 0; at = Text.IndexOf('\n', at + 1))
            starts.Add(at + 1);
        return starts;
    }
}
