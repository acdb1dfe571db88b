using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace StateWatch.Core.Reports;

/// <summary>How every report for machines is written (RFC 8259, UTF-8): indented, with the same line breaks everywhere, ending with one. The same report always gives the same bytes.</summary>
public static class ReportJson
{
    // Quotes in names stay readable; whoever puts this into a page escapes it there.
    private static readonly JsonWriterOptions Page = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static readonly JsonWriterOptions OneLine = Page with { Indented = false };

    /// <summary>A report as text.</summary>
    /// <param name="write">Writes the root.</param>
    public static string Write(Action<Utf8JsonWriter> write)
    {
        var output = new ArrayBufferWriter<byte>(16 * 1024);
        Write(output, write);
        return Encoding.UTF8.GetString(output.WrittenSpan);
    }

    /// <summary>A report into a buffer.</summary>
    /// <param name="output">The buffer.</param>
    /// <param name="write">Writes the root.</param>
    public static void Write(IBufferWriter<byte> output, Action<Utf8JsonWriter> write)
    {
        using (var json = new Utf8JsonWriter(output, Page))
            write(json);
        output.Write("\n"u8);
    }

    /// <summary>A report into a stream.</summary>
    /// <param name="output">The stream.</param>
    /// <param name="write">Writes the root.</param>
    public static void Write(Stream output, Action<Utf8JsonWriter> write)
    {
        using (var json = new Utf8JsonWriter(output, Page))
            write(json);
        output.WriteByte((byte)'\n');
    }

    /// <summary>One line of a journal, without its line break.</summary>
    /// <param name="write">Writes the root.</param>
    public static string Line(Action<Utf8JsonWriter> write)
    {
        var output = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(output, OneLine))
            write(json);
        return Encoding.UTF8.GetString(output.WrittenSpan);
    }
}
