using System.Globalization;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Schemas;

/// <summary>What a row says, in words: for descriptions in schemas and for the reference.</summary>
public static class KeyText
{
    /// <summary>Meaning, range, unit, default and example of a key, in sentences.</summary>
    public static string Describe(KeyInfo row)
    {
        var values = Values(row.Shape);
        return $"{row.Words}{(values.Length == 0 ? "" : $" {char.ToUpperInvariant(values[0])}{values[1..]}.")}{(row.Default is null ? "" : $" Default: {row.Default}.")} Example: {row.Key}: {row.Example}";
    }

    /// <summary>What may stand under a key, in a few words with range and unit; empty where the meaning says it all.</summary>
    public static string Values(ValueShape shape) => shape switch
    {
        WholeShape whole => $"{whole.Least} to {whole.Most}",
        QuantityShape quantity => Range(quantity),
        FlagShape => "true or false",
        WordShape { Words.Count: 1 } => "",
        WordShape words => words.Words is ["true", ..] ? "" : $"one of {string.Join(", ", words.Words)}",
        SettingShape setting => Kinds(setting.Kinds),
        ListShape { Item: WordShape words } => $"some of {string.Join(", ", words.Words)}",
        ListShape { Item: SettingShape setting } => Kinds(setting.Kinds),
        MapShape { Key: WholeShape key } => $"numbers {key.Least} to {key.Most}",
        MapShape { Value: WholeShape count } => $"each {count.Least} to {count.Most}",
        EitherShape { Shapes: [WholeShape count, ..] } => $"{count.Least} to {count.Most}",
        _ => "",
    };

    private static string Range(QuantityShape quantity)
    {
        var unit = quantity.Unit == Unit.None ? "" : $" {quantity.Unit.Word()}";
        var least = quantity.Least.ToString(CultureInfo.InvariantCulture);
        if (double.IsInfinity(quantity.Most))
            return quantity.Unit == Unit.None ? $"{least} or more, in dB, ms, Hz or %; a bare number counts for all of them" : $"{least}{unit} or more";
        return $"{least}{unit} to {quantity.Most.ToString(CultureInfo.InvariantCulture)}{unit}";
    }

    private static string Kinds(ValueKinds kinds) => kinds switch
    {
        ValueKinds.Switch => "on or off",
        ValueKinds.Level => "a level in dB within the desk's range, or -inf",
        ValueKinds.Number => "a number within the desk's range",
        ValueKinds.Level | ValueKinds.Number => "a number within the desk's range",
        _ => "",
    };
}
