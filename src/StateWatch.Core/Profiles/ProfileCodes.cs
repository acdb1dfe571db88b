using StateWatch.Core.Documents;
using static StateWatch.Core.Documents.DiagnosticLevel;

namespace StateWatch.Core.Profiles;

/// <summary>Faults that only a desk profile can have.</summary>
public static class ProfileCodes
{
    /// <summary>Not in the catalogue.</summary>
    public static readonly DiagnosticCode UnknownSetting = new("unknown-setting", Error,
        "A setting path is not in the catalogue of settings.");

    /// <summary>Names a codec that is not there.</summary>
    public static readonly DiagnosticCode UnknownCodec = new("unknown-codec", Error, "An argument names a codec that the profile does not define.");

    /// <summary>The codec gives another kind of value.</summary>
    public static readonly DiagnosticCode CodecMismatch = new("codec-mismatch", Error,
        "A codec gives a kind of value that the setting cannot hold.");

    /// <summary>One setting mapped twice.</summary>
    public static readonly DiagnosticCode SettingTwice = new("setting-mapped-twice", Error, "One setting is mapped by two lines.");

    /// <summary>One argument mapped twice.</summary>
    public static readonly DiagnosticCode ArgumentTwice = new("argument-mapped-twice", Error,
        "One argument (or bit) of one address belongs to two settings.");

    /// <summary>A placeholder that is not in the path, or has no count.</summary>
    public static readonly DiagnosticCode UnknownPlaceholder = new("unknown-placeholder", Error,
        "A placeholder stands for nothing that is counted under strips or slots, or is not in the setting path.");

    /// <summary>A number form that cannot be read or has no spelling.</summary>
    public static readonly DiagnosticCode BadNumberForm = new("bad-number-form", Error, "A number form in braces cannot be read, or gives a negative number.");

    /// <summary>An address that OSC does not allow.</summary>
    public static readonly DiagnosticCode BadAddress = new("bad-address", Error, "An OSC address holds characters that OSC 1.0 does not allow.");

    /// <summary>The question could be a set form.</summary>
    public static readonly DiagnosticCode QuestionCouldSet = new("question-could-set", Error,
        "Asking for a setting would send a message that the desk could take as a command.");

    /// <summary>A codec's table that is not rising, or too short.</summary>
    public static readonly DiagnosticCode BadTable = new("bad-table", Error, "A codec's table is not rising, or has fewer than two points.");

    /// <summary>Two words, one spelling.</summary>
    public static readonly DiagnosticCode WordTwice = new("word-spelled-twice", Error, "Two words of a codec have one spelling on the wire, or one word stands twice.");

    /// <summary>A codec that says nothing, or several things.</summary>
    public static readonly DiagnosticCode UnclearCodec = new("unclear-codec", Error, "A codec does not say what kind of value it gives, or says it twice.");

    /// <summary>Too many settings.</summary>
    public static readonly DiagnosticCode TooManySettings = new("too-many-settings", Error, "The profile maps more settings than are watched.");

    /// <summary>A codec nobody uses.</summary>
    public static readonly DiagnosticCode UnusedCodec = new("unused-codec", Warning, "A codec is defined but no setting uses it.");

    /// <summary>All of them.</summary>
    public static IReadOnlyList<DiagnosticCode> All { get; } =
    [
        UnknownSetting, UnknownCodec, CodecMismatch, SettingTwice, ArgumentTwice, UnknownPlaceholder, BadNumberForm, BadAddress,
        QuestionCouldSet, BadTable, WordTwice, UnclearCodec, TooManySettings, UnusedCodec,
    ];
}
