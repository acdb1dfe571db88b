using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Finds the settings that <c>hands-on:</c> names: sends into a feed, a setting of every strip of a kind, every setting of a word or class.</summary>
internal sealed class HandsOnCompiler(DeskProfile profile, PlanNames names)
{
    /// <summary>Who may move each setting, by setting id, as the line's number from 1; 0 for nobody. Null when the plan has no such lines.</summary>
    public byte[]? Compile(IReadOnlyList<HandsOnLine> lines)
    {
        if (lines.Count == 0)
            return null;
        var hands = new byte[profile.Settings.Count];
        for (var i = 0; i < lines.Count; i++)
        {
            foreach (var word in lines[i].What)
            {
                if (!Mark(word.Text, hands, (byte)Math.Min(i + 1, byte.MaxValue)))
                    names.Unknown(word, "feed with sends, setting or setting class on this desk called", Known(word.Text), "write a feed's key, a word such as eq or levels, or a kind and a word such as input fader");
            }
        }

        return hands;
    }

    private bool Mark(string word, byte[] hands, byte who)
    {
        var buses = names.BusesOf(word);
        var blank = word.IndexOf(' ', StringComparison.Ordinal);
        var kind = buses is null && blank > 0 ? word[..blank] : null;
        if (buses is null && kind is not null && !SettingCatalogue.StripKinds.Contains(kind))
            return false;
        var fits = buses is null ? Fits(kind is null ? word : word[(blank + 1)..]) : null;
        var any = false;
        foreach (var setting in profile.Settings)
        {
            if (fits is null ? !IsSendInto(setting, buses!) : (kind is not null && setting.Kind.StripKind != kind) || !fits(setting.Kind))
                continue;
            any = true;
            if (hands[setting.Id] == 0)
                hands[setting.Id] = who;
        }

        return any;
    }

    // A plan key before a class, and a class before the last word of a path: 'on' is the strip's own, not that of its equaliser.
    private static Func<SettingKind, bool> Fits(string word)
    {
        if (StripKeysReader.FindSuffix(word) is { } suffix)
            return kind => kind.Suffix == suffix;
        if (SettingClasses.TryParse(word, out var settingClass))
            return kind => kind.Class == settingClass;
        return kind => LastWord(kind.Suffix) == word;
    }

    private static string LastWord(string suffix) => suffix[(suffix.LastIndexOf('/') + 1)..];

    private static bool IsSendInto(Setting setting, IReadOnlyList<string> buses)
    {
        if (setting.Kind.Suffix is not ("send/<bus>/#/level" or "send/<bus>/#/pan" or "send/<bus>/#/on"))
            return false;
        var path = setting.Path.AsSpan();
        var bus = path[(path.IndexOf("/send/") + "/send/".Length)..path.LastIndexOf('/')];
        foreach (var known in buses)
        {
            if (bus.SequenceEqual(known))
                return true;
        }

        return false;
    }

    // Words that mark something, written with the kind that stands before.
    private IEnumerable<string> Known(string word)
    {
        var blank = word.IndexOf(' ', StringComparison.Ordinal);
        var words = StripKeysReader.OwnKeys.Concat(SettingClasses.All).Concat(profile.Settings.Select(setting => LastWord(setting.Kind.Suffix)).Where(last => last != "#")).Distinct().ToList();
        if (blank <= 0)
            return words.Concat(names.Feeds.Select(feed => feed.Key));
        return SettingCatalogue.StripKinds.SelectMany(kind => words.Select(last => $"{kind} {last}")).Where(known => Mark(known, new byte[profile.Settings.Count], 1)).ToList();
    }
}
