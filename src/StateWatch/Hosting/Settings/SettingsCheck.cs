using StateWatch.Core.Documents;
using StateWatch.Core.Reports;

namespace StateWatch.Hosting.Settings;

/// <summary>Holds every key and value that was said to <see cref="SettingsKeys"/>.</summary>
internal static class SettingsCheck
{
    private const int MostFaults = 100;

    /// <summary>All faults, in the order of the keys.</summary>
    public static List<SettingsFault> Faults(SettingsSource source)
    {
        var faults = new List<SettingsFault>();
        if (source.Fault is { } broken)
        {
            faults.Add(broken);
            return faults;
        }

        var secrets = Secrets(source.Configuration);
        foreach (var section in source.Configuration.GetChildren())
        {
            if (source.VariableOf(section.Path) is not { } variable || !secrets.Contains(variable))
                Look(source, section, faults);
        }

        return faults;
    }

    // A variable that a sink's setting names holds a secret and is no setting itself.
    private static HashSet<string> Secrets(IConfiguration configuration) =>
        [.. configuration.AsEnumerable().Where(static pair => pair.Key.EndsWith("Variable", StringComparison.OrdinalIgnoreCase) && pair.Value is not null).Select(static pair => pair.Value!)];

    private static void Look(SettingsSource source, IConfigurationSection section, List<SettingsFault> faults)
    {
        if (faults.Count >= MostFaults)
            return;
        var (key, isSection) = (SettingsKeys.Find(section.Path), SettingsKeys.IsSection(section.Path));
        var children = section.GetChildren().ToList();
        if (key is null && !isSection)
            Add(Unknown(section));
        else if (source.IsList(section.Path) != SettingsKeys.IsList(section.Path) && children.Count > 0)
            Add(SettingsKeys.IsList(section.Path) ? "this is a list: write it in square brackets" : "this is no list: write each item with its name before it, in braces");
        else if (isSection && children.Count == 0 && section.Value is { Length: > 0 })
            Add($"this holds further keys ({string.Join(", ", SettingsKeys.Beside(section.Path + ":x").DefaultIfEmpty("names of your own"))}), not a value");
        else if (!isSection && children.Count > 0)
            Add($"this takes one value: {key!.Shape.Words}");
        else if (!isSection && key!.Shape.Refusal(section.Value ?? "") is { } refusal)
            Add(refusal);
        else if (isSection && key is not null && key.Shape.Refusal(section.Key) is { } name)
            Add(name);
        else
        {
            foreach (var child in children)
                Look(source, child, faults);
        }

        void Add(string words) => faults.Add(new SettingsFault(source.PlaceOf(section.Path), PlainText.Clean(section.Path, 200), PlainText.Clean(words, 600)));
    }

    private static string Unknown(IConfigurationSection section)
    {
        var known = SettingsKeys.Beside(section.Path).ToList();
        var near = NearestWord.Among(section.Key, known);
        return $"there is no key '{section.Key}' here; {(near is null ? $"known are {string.Join(", ", known)}" : $"did you mean '{near}'?")}";
    }
}
