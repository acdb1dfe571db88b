using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>What people call one setting of a strip.</summary>
internal static class SettingWords
{
    /// <summary>Without the strip: <c>fader</c>, <c>send level to wedges 3 (mix 3)</c>, <c>membership of DCA 2 (Choir)</c>.</summary>
    public static string Of(AuditFacts facts, Setting setting)
    {
        var strip = facts.Profile.Strips[setting.Strip];
        var words = setting.Kind.Words;
        var parts = setting.Path.Split('/');
        if (strip.Kind == "desk")
            words = setting.Kind.Suffix.Contains('#') ? $"{words} {parts[2]}" : words;
        else if (setting.Kind.Suffix is "insert/#" or "insert/#/in")
            words = $"{words} {parts[3]}";
        else if (setting.Kind.Suffix is "dca/#" or "mute-group/#")
            words = facts.Profile.FindStrip($"{parts[2]}/{parts[3]}") is { } group ? $"membership of {facts.Words(group)}" : $"{words} {parts[3]}";
        var bus = EdgePaths.BusOf(setting) ?? BusIn(setting.Path);
        return bus is null ? words : $"{words} to {facts.BusWords(bus)}";
    }

    private static string? BusIn(string path)
    {
        var at = path.IndexOf("/send/", StringComparison.Ordinal);
        if (at < 0)
            return null;
        var rest = path[(at + "/send/".Length)..];
        return rest[..rest.LastIndexOf('/')];
    }
}
