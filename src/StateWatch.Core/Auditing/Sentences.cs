namespace StateWatch.Core.Auditing;

/// <summary>Makes sentences of parts.</summary>
internal static class Sentences
{
    /// <summary>The text with a capital at its front.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
