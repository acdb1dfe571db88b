using System.Globalization;
using System.Text;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Capturing;

/// <summary>A captured coupling as the line that belongs under <c>couplings:</c> of a plan.</summary>
/// <param name="Microphone">The input's name.</param>
/// <param name="Feed">The loudspeaker, as in <see cref="Loudspeaker.Words"/>.</param>
/// <param name="Loss">In dB, <see cref="Least"/> to <see cref="Most"/>.</param>
/// <param name="Day">The day where the show is.</param>
/// <param name="By">Who measured it.</param>
/// <param name="Room"><c>empty</c>, <c>full</c> or null.</param>
/// <param name="Setup">Fingerprint of the loop's setup, or null when the desk does not tell it.</param>
public sealed record CouplingText(string Microphone, string Feed, double Loss, DateOnly Day, string By, string? Room, string? Setup)
{
    /// <summary>The smallest loss a plan takes, in dB.</summary>
    public const double Least = -20;

    /// <summary>The largest loss a plan takes, in dB.</summary>
    public const double Most = 120;

    private static readonly string[] Words = ["true", "false", "yes", "no", "on", "off", "null", "y", "n"];

    /// <summary>Whether a plan takes this loss.</summary>
    public bool IsInRange => Rounded >= Least && Rounded <= Most;

    /// <summary>The loss as written, in dB: to tenths, towards the smaller, which is the worse.</summary>
    public double Rounded => Math.Floor(Loss * 10 + 1e-6) / 10;

    /// <summary>The line, as a list item of block style with a mapping of flow style.</summary>
    public string Write()
    {
        var text = new StringBuilder("  - { mic: ").Append(Scalar(Microphone)).Append(", feed: ").Append(Scalar(Feed));
        text.Append(CultureInfo.InvariantCulture, $", loss: {Rounded:0.#} dB, measured: {Day:yyyy-MM-dd}, by: ").Append(Scalar(By));
        if (Room is not null)
            text.Append(", room: ").Append(Room);
        if (Setup is not null)
            text.Append(", setup: ").Append(IsLikeNumber(Setup) ? $"\"{Setup}\"" : Setup);
        return text.Append(" }\n").ToString();
    }

    // Whatever YAML could take for something else stands in double quotes (YAML 1.2.2, 7.3.1).
    private static string Scalar(string text)
    {
        if (IsPlain(text))
            return text;
        var quoted = new StringBuilder("\"");
        foreach (var letter in text)
        {
            if (letter is '"' or '\\')
                quoted.Append('\\').Append(letter);
            else if (char.IsControl(letter) || letter is '\u2028' or '\u2029' or '\ufeff')
                quoted.Append(CultureInfo.InvariantCulture, $"\\u{(int)letter:x4}");
            else
                quoted.Append(letter);
        }

        return quoted.Append('"').ToString();
    }

    private static bool IsPlain(string text)
    {
        foreach (var letter in text)
        {
            if (!char.IsLetterOrDigit(letter) && letter is not (' ' or '.' or '_' or '/' or '-'))
                return false;
        }

        return text.Length > 0 && char.IsLetter(text[0]) && (char.IsLetterOrDigit(text[^1]) || text[^1] == '.') && Words.All(word => !word.Equals(text, StringComparison.OrdinalIgnoreCase));
    }

    private static bool IsLikeNumber(string text) => text.All(letter => char.IsAsciiDigit(letter) || letter is 'e' or 'E');
}
