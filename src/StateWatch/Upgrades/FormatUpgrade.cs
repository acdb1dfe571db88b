using System.Text;
using StateWatch.Core.Documents;

namespace StateWatch.Upgrades;

/// <summary>Brings a file to the current format: only the scalars that a step names change, all other bytes stay as they are.</summary>
internal static class FormatUpgrade
{
    /// <summary>The text in the current format, or null after a diagnostic; the same text when there is nothing to do.</summary>
    public static string? Apply(SourceText source, IReadOnlyList<FormatStep> steps, IReadOnlyList<string> current, DiagnosticBag diagnostics)
    {
        var text = source.Text;
        while (true)
        {
            if (YamlText.Read(new SourceText(source.Name, text), diagnostics) is not { } root || diagnostics.HasErrors)
                return null;
            if (root.Find("format") is not ScalarNode format)
            {
                diagnostics.Add(DocumentCodes.MissingKey, root.At, "'format' is missing, so this may be any kind of file", $"begin with 'format: {current[0]}'");
                return null;
            }

            if (current.Contains(format.Text))
                return text;
            if (steps.FirstOrDefault(step => step.From == format.Text) is not { } next)
            {
                diagnostics.Add(DocumentCodes.WrongFormat, format.At, $"the format '{format.Text}' cannot be brought to a current one", $"this program writes {string.Join(", ", current)}; a newer file needs a newer program", NearestWord.Among(format.Text, current));
                return null;
            }

            text = Splice(text, [(format, next.To), .. next.Changes(root)]);
        }
    }

    // From the last place to the first, so that the places before stay where they are.
    private static string Splice(string text, IEnumerable<(ScalarNode Old, string New)> changes)
    {
        foreach (var (old, replacement) in changes.OrderByDescending(change => change.Old.At.Place.Line).ThenByDescending(change => change.Old.At.Place.Column))
        {
            var at = IndexOf(text, old.At.Place);
            at += text[at] is '"' or '\'' ? 1 : 0;
            if (!text.AsSpan(at).StartsWith(old.Text))
                throw new InvalidOperationException($"at {old.At} does not stand '{old.Text}' as written");
            text = string.Concat(text.AsSpan(0, at), replacement, text.AsSpan(at + old.Text.Length));
        }

        return text;
    }

    private static int IndexOf(string text, Place place)
    {
        var at = 0;
        for (var line = 1; line < place.Line; line++)
            at = text.IndexOf('\n', at) + 1;
        return at + place.Column - 1;
    }

    /// <summary>Puts the new text in the file's place: a temporary file beside it, flushed, then renamed.</summary>
    /// <returns>False when the file is no longer what was read; then nothing is written.</returns>
    public static bool Replace(string path, byte[] read, string text)
    {
        var bytes = Encoding.UTF8.GetBytes(text);
        // A byte-order mark is not part of the text, but of the file.
        byte[] whole = read.AsSpan().StartsWith(Encoding.UTF8.Preamble) ? [.. Encoding.UTF8.Preamble, .. bytes] : bytes;
        var temporary = $"{path}.upgrade-{Environment.ProcessId}";
        try
        {
            using (var file = new FileStream(temporary, FileMode.CreateNew, FileAccess.Write))
            {
                file.Write(whole);
                file.Flush(flushToDisk: true);
            }

            if (!File.ReadAllBytes(path).AsSpan().SequenceEqual(read))
                return false;
            if (!OperatingSystem.IsWindows())
                File.SetUnixFileMode(temporary, File.GetUnixFileMode(path));
            File.Move(temporary, path, overwrite: true);
            return true;
        }
        finally
        {
            File.Delete(temporary);
        }
    }
}
