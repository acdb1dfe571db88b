using System.Globalization;
using System.Text;
using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Reports;

/// <summary>Explains one setting of a plan: what counts, which lines say something about it, and where the desk is asked for it.</summary>
public static class SettingExplanation
{
    /// <summary>Writes the explanation.</summary>
    /// <param name="plan">The compiled plan.</param>
    /// <param name="setting">Setting id.</param>
    public static string Write(ShowPlan plan, int setting)
    {
        var profile = plan.Profile;
        var info = profile.Settings[setting];
        var ladder = plan.StatementsOf(setting);
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"{info.Path}: {info.Kind.Words} of {new AuditFacts(plan).Words(profile.Strips[info.Strip])}\n");
        var counts = plan.For(setting);
        var atCue = counts is null ? AtCue(plan, info.Path) : null;
        if (atCue is not null)
            text.Append(CultureInfo.InvariantCulture, $"  {atCue}\n");
        else if (ladder.Count == 0)
            text.Append("  no line of the plan says anything about it: any value will do\n");
        else if (counts is null)
            text.Append(CultureInfo.InvariantCulture, $"  not judged in phase {plan.Phase.Word()}\n");
        else
            text.Append(CultureInfo.InvariantCulture, $"  planned {AllowedText.Of(counts, profile)}\n");
        for (var i = 0; i < ladder.Count; i++)
        {
            var statement = ladder[i];
            text.Append(CultureInfo.InvariantCulture,
                $"  {(i == 0 ? "counts  " : "outdone ")} {statement.At}: {PlainText.Clean(AllowedText.Of(statement, profile))} ({Ranks.Words(statement.Rank)})\n");
        }

        text.Append(CultureInfo.InvariantCulture, $"  phase {plan.Phase.Word()}{(plan.Cue is { } cue ? $", cue {PlainText.Clean(cue.Name)}" : "")}: {(counts is { Rank: >= Ranks.Cue } ? "what the cue says" : $"class {info.Kind.Class.Word()}")} {(plan.LockOf(setting) switch
        {
            _ when atCue is not null => "is left to the rules cue-not-open and cue-not-closed, which no phase frees",
            PhaseLock.Locked => "is locked, so any deviation is told",
            PhaseLock.Guarded => "is guarded, so a deviation of a number is a notice",
            _ => "is free, so a deviation is nobody's business",
        })}\n");
        if (plan.HandsOn(setting) is { } who)
            text.Append(CultureInfo.InvariantCulture, $"  hands-on: {PlainText.Clean(who)} may move it in soundcheck and show{(plan.LockOf(setting) == PhaseLock.Free ? ", so here a deviation is nobody's business" : "")}\n");
        var endpoint = profile.Endpoints[info.Endpoint];
        var slot = endpoint.Slots.First(item => item.Setting == setting);
        text.Append(CultureInfo.InvariantCulture,
            $"  asked at {Encoding.UTF8.GetString(endpoint.Address)}, argument {slot.Argument + 1}{(slot.Bit >= 0 ? $" bit {slot.Bit}" : "")} ({info.At})\n");
        return text.ToString();
    }

    // Mutes that a cue leaves to its rules.
    private static string? AtCue(ShowPlan plan, string path)
    {
        if (plan.Cue is not { } cue || !path.EndsWith("/on", StringComparison.Ordinal) || plan.Profile.FindStrip(path[..^"/on".Length]) is not { } strip)
            return null;
        var name = PlainText.Clean(cue.Name);
        if (cue.ClosingOf(strip.Id) is { } closing)
            return $"closed at cue {name} ({closing.Said.At}): muted, in an active mute group, its fader down, or a DCA of it muted or down";
        return cue.OpeningOf(strip.Id) is { } opening
            ? $"one of {string.Join(", ", opening.Strips.Select(item => PlainText.Clean(item.Name)))} is open at cue {name} ({opening.Said.At}), so this one alone need not be"
            : null;
    }
}
