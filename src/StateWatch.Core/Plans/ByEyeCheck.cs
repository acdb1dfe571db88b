using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Whether settings that are left to the eye are settings at all, and ones this desk cannot be asked for.</summary>
internal static class ByEyeCheck
{
    public static void Settings(PlanDocument document, DeskProfile profile, WorkLimit limit, DiagnosticBag diagnostics)
    {
        foreach (var item in document.ByEyeSettings.Concat(document.PhaseLines.SelectMany(phase => phase.ByEyeSettings)).Concat(document.Cues.SelectMany(cue => cue.ByEyeSettings)))
        {
            if (PathRanges.Expand(item.Path, limit) is { } paths)
                CheckOne(item.Path, paths, profile, diagnostics);
            else
                diagnostics.Add(DocumentCodes.BadValue, item.Path.At, $"'{item.Path.Text}' is not a setting path", "write it like input/31/low-cut; what is no setting is a sentence under by-eye:");
        }
    }

    private static void CheckOne(ScalarNode written, IReadOnlyList<string> paths, DeskProfile profile, DiagnosticBag diagnostics)
    {
        foreach (var path in paths)
        {
            if (profile.Find(path) >= 0)
                diagnostics.Add(PlanCodes.NeedlessByEye, written.At, $"the desk can be asked for '{path}'", "write the value alone");
            else if (SettingCatalogue.Find(Shape(path)) is null)
                diagnostics.Add(PlanCodes.UnseenSetting, written.At, $"there is no setting '{path}'", "what is no setting of a desk is a sentence under by-eye:",
                    NearestPath.Among(Shape(path), SettingCatalogue.Shapes("stage-#"), written.Text, diagnostics));
            else if (profile.FindStrip(StripOf(path)) is null)
                diagnostics.Add(PlanCodes.NoSuchStrip, written.At, $"{profile.Desk} has no {StripOf(path).Replace('/', ' ')}", null);
            else
                continue;
            return;
        }
    }

    private static string StripOf(string path)
    {
        var words = path.Split('/');
        return words[0] == "desk" ? words[0] : $"{words[0]}/{words[1]}";
    }

    // Every number as the catalogue writes it: input/#/send/mix/#/tap, socket/stage-#/gain.
    private static string Shape(string path) => string.Join('/', path.Split('/').Select(word =>
    {
        var stem = word.AsSpan().TrimEnd("0123456789");
        return stem.Length < word.Length && (stem.Length == 0 || stem[^1] == '-') ? $"{stem}#" : word;
    }));
}
