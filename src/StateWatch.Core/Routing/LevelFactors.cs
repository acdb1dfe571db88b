using StateWatch.Core.Acoustics;
using StateWatch.Core.Profiles;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>Turns levels into factors: by a table for each desk scale, so that moving a fader costs no power function.</summary>
internal sealed class LevelFactors
{
    private readonly double[]?[] _tableOf;

    public LevelFactors(DeskProfile profile)
    {
        _tableOf = new double[]?[profile.Settings.Count];
        var tables = new Dictionary<Codec, double[]>();
        foreach (var setting in profile.Settings)
        {
            if (setting.Codec is not ScaleCodec { Steps: > 0 } scale || (scale.Kind != ValueKind.Level && scale.AfterReset.Unit != Unit.Decibel))
                continue;
            if (!tables.TryGetValue(scale, out var table))
                tables.Add(scale, table = [.. Enumerable.Range(0, scale.Steps).Select(step => Decibels.ToFactor(scale.AtStep(step)))]);
            _tableOf[setting.Id] = table;
        }
    }

    /// <summary>The factor of a setting's value; 1 for a setting that is not there, 0 for one without a value.</summary>
    public double Of(int setting, SettingValue value)
    {
        if (setting < 0)
            return 1;
        if (value.Step >= 0 && _tableOf[setting] is { } table)
            return table[value.Step];
        return value.HasValue ? Decibels.ToFactor(value.Number) : 0;
    }
}
