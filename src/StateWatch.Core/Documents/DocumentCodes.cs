using static StateWatch.Core.Documents.DiagnosticLevel;

namespace StateWatch.Core.Documents;

/// <summary>Faults that any file of ours can have.</summary>
public static class DocumentCodes
{
    /// <summary>Over the size limit.</summary>
    public static readonly DiagnosticCode FileTooLarge = new("file-too-large", Error, "The file is larger than 4 MB.");

    /// <summary>Not UTF-8 text.</summary>
    public static readonly DiagnosticCode WrongEncoding = new("wrong-encoding", Error, "The file is not UTF-8 text.");

    /// <summary>Nothing in it.</summary>
    public static readonly DiagnosticCode EmptyFile = new("empty-file", Error, "The file holds no statement.");

    /// <summary>Indented by a tab.</summary>
    public static readonly DiagnosticCode TabIndent = new("tab-indent", Error, "YAML does not allow tabs as indentation.");

    /// <summary>Not YAML.</summary>
    public static readonly DiagnosticCode NotYaml = new("not-yaml", Error, "The text is not valid YAML.");

    /// <summary>Nested too deep.</summary>
    public static readonly DiagnosticCode TooDeep = new("too-deep", Error, "The text nests deeper than 64 levels.");

    /// <summary>Too many nodes.</summary>
    public static readonly DiagnosticCode TooMany = new("too-many-values", Error, "The text holds more values than are read.");

    /// <summary>One value or key that is a book.</summary>
    public static readonly DiagnosticCode TextTooLong = new("text-too-long", Error, "One value or key is longer than 1,000 characters.");

    /// <summary>Anchor, alias, tag, second document or control character.</summary>
    public static readonly DiagnosticCode NotInLanguage = new("not-in-language", Error,
        "The text uses a part of YAML that these files do not have (anchors, aliases, tags, several documents, control characters).");

    /// <summary>The same key twice.</summary>
    public static readonly DiagnosticCode DuplicateKey = new("duplicate-key", Error, "A key stands twice in one mapping.");

    /// <summary>A key nobody knows.</summary>
    public static readonly DiagnosticCode UnknownKey = new("unknown-key", Error, "A key is not part of the language.");

    /// <summary>A key is required.</summary>
    public static readonly DiagnosticCode MissingKey = new("missing-key", Error, "A required key is not there.");

    /// <summary>A mapping where a scalar belongs, or the like.</summary>
    public static readonly DiagnosticCode WrongShape = new("wrong-shape", Error,
        "A single value, a list or a mapping stands where another of them belongs.");

    /// <summary>A value that cannot be read.</summary>
    public static readonly DiagnosticCode BadValue = new("bad-value", Error, "A value cannot be read as what it should be.");

    /// <summary>A number outside its range.</summary>
    public static readonly DiagnosticCode OutOfRange = new("out-of-range", Error, "A number lies outside its allowed range.");

    /// <summary>Another format line.</summary>
    public static readonly DiagnosticCode WrongFormat = new("wrong-format", Error,
        "The format line names another kind of file, or a newer version.");

    /// <summary>All of them.</summary>
    public static IReadOnlyList<DiagnosticCode> All { get; } =
    [
        FileTooLarge, WrongEncoding, EmptyFile, TabIndent, NotYaml, TooDeep, TooMany, TextTooLong, NotInLanguage, DuplicateKey,
        UnknownKey, MissingKey, WrongShape, BadValue, OutOfRange, WrongFormat,
    ];
}
