namespace StateWatch.Core.Settings;

/// <summary>Which kinds of value a setting may hold.</summary>
[Flags]
public enum ValueKinds
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>A level in dB.</summary>
    Level = 1 << ValueKind.Level,

    /// <summary>A number.</summary>
    Number = 1 << ValueKind.Number,

    /// <summary>On or off.</summary>
    Switch = 1 << ValueKind.Switch,

    /// <summary>A word of a list.</summary>
    Choice = 1 << ValueKind.Choice,

    /// <summary>Free text.</summary>
    Text = 1 << ValueKind.Text,

    /// <summary>A patch point.</summary>
    Point = 1 << ValueKind.Point,
}

/// <summary>One row of the catalogue, for one kind of strip: all <c>input/#/send/mix/#/tap</c> are of one kind.</summary>
/// <param name="Shape">The path with its numbers replaced by <c>#</c>.</param>
/// <param name="Suffix">The path after the strip, with the bus word replaced by <c>&lt;bus&gt;</c>: <c>send/&lt;bus&gt;/#/tap</c>.</param>
/// <param name="Class">The class phases speak of.</param>
/// <param name="Values">What it may hold.</param>
/// <param name="Words">What to call it in a sentence, such as "send tap".</param>
public sealed record SettingKind(string Shape, string Suffix, SettingClass Class, ValueKinds Values, string Words)
{
    /// <summary>The strip kind: the first word of the path.</summary>
    public string StripKind { get; } = Shape[..Shape.IndexOf('/', StringComparison.Ordinal)];
}
