namespace StateWatch.Hosting.Settings;

/// <summary>One key that settings may have. <c>*</c> stands for a name of the user's, or for the number of an item.</summary>
/// <param name="Path">Such as <c>desks:*:plan</c>.</param>
/// <param name="Shape">What may stand there.</param>
/// <param name="Meaning">What it is for, in one line.</param>
internal sealed record SettingsKey(string Path, ValueForm Shape, string Meaning)
{
    /// <summary>What counts without it, for people; null when it is required or nothing does.</summary>
    public string? Default { get; init; }
}

/// <summary>What a value may be.</summary>
/// <param name="Words">For people: what may stand there.</param>
internal abstract record ValueForm(string Words)
{
    /// <summary>What is wrong with a text and what to write, or null.</summary>
    public abstract string? Refusal(string text);
}

/// <summary>Any text.</summary>
internal sealed record TextForm(string Words, int Longest = 1000) : ValueForm(Words)
{
    public override string? Refusal(string text) => text.Length == 0 ? $"it is empty; write {Words}, or leave the key out"
        : text.Length > Longest ? $"it has more than {Longest:N0} characters"
        : text.Any(char.IsControl) ? "it holds a control character; leave it out"
        : null;
}

/// <summary>A name that becomes part of keys, topics and metrics.</summary>
internal sealed record NameForm() : ValueForm("letters, digits, '-', '_' and '.', at most 40")
{
    public override string? Refusal(string text) =>
        text.Length is > 0 and <= 40 && text.All(static letter => char.IsLetterOrDigit(letter) || letter is '-' or '_' or '.')
            ? null
            : $"'{text}' cannot be part of a finding's key; write {Words}";
}

/// <summary>One of some words.</summary>
internal sealed record ChoiceForm(params string[] Choices) : ValueForm(string.Join(", ", Choices))
{
    public override string? Refusal(string text)
    {
        if (Choices.Contains(text, StringComparer.Ordinal))
            return null;
        var near = Core.Documents.NearestWord.Among(text, Choices);
        return $"'{text}' is none of {Words}{(near is null ? "" : $"; did you mean '{near}'?")}";
    }
}

/// <summary>A whole number with a unit.</summary>
internal sealed record WholeForm(long Least, long Most, string Unit = "") : ValueForm($"{Least:N0} to {Most:N0}{(Unit.Length == 0 ? "" : " ")}{Unit}")
{
    public override string? Refusal(string text) =>
        long.TryParse(text, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var value) && value >= Least && value <= Most
            ? null
            : $"'{text}' is not a whole number of {Words}";
}

/// <summary>A host and a port to send to.</summary>
internal sealed record HostForm() : ValueForm("host:port")
{
    public override string? Refusal(string text) =>
        Core.Profiles.HostAndPort.TryParse(text, out _, out _) ? null : $"'{text}' is not host:port; write it like 192.0.2.10:9000";
}

/// <summary>An address of this machine and a port to listen at.</summary>
internal sealed record ListenForm() : ValueForm("address:port, numbers only")
{
    public override string? Refusal(string text) =>
        System.Net.IPEndPoint.TryParse(text, out var point) && point.Port > 0 && text.Contains(':', StringComparison.Ordinal)
            ? null
            : $"'{text}' is not an address and port of this machine; write it like 127.0.0.1:9480";
}
