using System.Globalization;
using System.Runtime.CompilerServices;

namespace StateWatch.Core.Documents;

/// <summary>How much a diagnostic matters.</summary>
public enum DiagnosticLevel
{
    /// <summary>Good to know; changes no exit code.</summary>
    Notice,

    /// <summary>The file works but something in it is probably not meant.</summary>
    Warning,

    /// <summary>The file cannot be used.</summary>
    Error,
}

/// <summary>A kind of fault in a file, with an identifier that stays the same for ever.</summary>
/// <param name="Id">Stable identifier, such as <c>unknown-key</c>.</param>
/// <param name="Level">How much it matters.</param>
/// <param name="Meaning">One sentence for the reference.</param>
public sealed record DiagnosticCode(string Id, DiagnosticLevel Level, string Meaning);

/// <summary>One fault in a file: what, where, why and what to do.</summary>
/// <param name="Code">The kind of fault.</param>
/// <param name="At">Where it stands.</param>
/// <param name="Message">What is wrong, in one sentence without a full stop.</param>
/// <param name="Advice">What to do, or null.</param>
/// <param name="Suggestion">The text to put in place of the whole value or key that stands there, or null when none is near.</param>
public sealed record Diagnostic(DiagnosticCode Code, Origin At, string Message, string? Advice = null, string? Suggestion = null);

/// <summary>Collects every fault found, so that all are told at once.</summary>
public sealed class DiagnosticBag
{
    /// <summary>The most that are kept; a hostile file cannot fill the memory.</summary>
    public const int Capacity = 500;

    private readonly List<Diagnostic> _items = [];

    /// <summary>Everything found, in order of discovery.</summary>
    public IReadOnlyList<Diagnostic> Items => _items;

    /// <summary>Whether any of them forbids using the file.</summary>
    public bool HasErrors => ErrorCount > 0;

    /// <summary>How many of them forbid using a file; a reader compares with what was there before it began.</summary>
    public int ErrorCount { get; private set; }

    /// <summary>How many more were found than are kept.</summary>
    public int Dropped { get; private set; }

    /// <summary>Whether what is added from now on is only counted.</summary>
    public bool IsFull => _items.Count >= Capacity;

    /// <summary>The letters that may still be compared to find suggestions: a hostile file could ask for one a hundred thousand times.</summary>
    public int Comparable { get; set; } = 10_000_000;

    /// <summary>Adds one.</summary>
    public void Add(DiagnosticCode code, Origin at, string message, string? advice = null, string? suggestion = null)
    {
        if (code.Level == DiagnosticLevel.Error)
            ErrorCount++;
        if (IsFull)
            Dropped++;
        else
            _items.Add(new Diagnostic(code, at, message, advice, suggestion));
    }

    /// <summary>Adds one, whose message is not even written when the bag is full.</summary>
    public void Add(DiagnosticCode code, Origin at, [InterpolatedStringHandlerArgument("")] ref DiagnosticMessage message, string? advice = null, string? suggestion = null) =>
        Add(code, at, message.Take(), advice, suggestion);
}

/// <summary>Writes the message of a fault, unless nobody would read it.</summary>
[InterpolatedStringHandler]
public ref struct DiagnosticMessage
{
    private DefaultInterpolatedStringHandler _text;

    /// <summary>Begins a message.</summary>
    public DiagnosticMessage(int literalLength, int formattedCount, DiagnosticBag bag, out bool isRead)
    {
        isRead = !bag.IsFull;
        if (isRead)
            _text = new DefaultInterpolatedStringHandler(literalLength, formattedCount, CultureInfo.InvariantCulture);
    }

    /// <summary>Adds what stands between two holes.</summary>
    public void AppendLiteral(string text) => _text.AppendLiteral(text);

    /// <summary>Adds a value.</summary>
    public void AppendFormatted<T>(T value) => _text.AppendFormatted(value);

    /// <summary>Adds a value with a format.</summary>
    public void AppendFormatted<T>(T value, string? format) => _text.AppendFormatted(value, format);

    /// <summary>Adds characters.</summary>
    public void AppendFormatted(ReadOnlySpan<char> value) => _text.AppendFormatted(value);

    internal string Take() => _text.ToStringAndClear();
}
