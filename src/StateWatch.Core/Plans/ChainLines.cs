using StateWatch.Core.Acoustics;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>What a plan says of the amplifier, loudspeaker and room behind a feed.</summary>
/// <param name="Chain">The figures.</param>
/// <param name="At">The plan line.</param>
public sealed record LoudspeakerLine(LoudspeakerChain Chain, Origin At)
{
    /// <summary>Reads <c>loudspeaker: { sensitivity: 98 dB, amplifier: 32 dB, critical-distance: 5 m }</c>; null when there is none, or after a diagnostic.</summary>
    internal static LoudspeakerLine? Read(MapReader owner)
    {
        if (owner.Mapping("loudspeaker") is not { } map)
            return null;
        var reader = new MapReader(map, CouplingTables.Loudspeaker, owner.Diagnostics);
        double? Value(string key, Measure measure) => measure.Read(reader.RequireScalar(key), reader.Table[key], reader.Diagnostics);
        var sensitivity = Value("sensitivity", Measure.LoudspeakerSensitivity);
        var amplifier = Value("amplifier", Measure.Amplifier);
        var critical = Value("critical-distance", Measure.Length);
        reader.Finish();
        return sensitivity is { } level && amplifier is { } gain && critical is { } distance ? new LoudspeakerLine(new LoudspeakerChain(level, gain, distance), map.At) : null;
    }
}

/// <summary>What a plan says of a microphone.</summary>
/// <param name="Chain">The figures.</param>
/// <param name="At">The plan line.</param>
public sealed record MicrophoneLine(MicrophoneChain Chain, Origin At)
{
    /// <summary>Reads <c>microphone: { sensitivity: 2.5 mV, pattern: cardioid }</c>; null when there is none, or after a diagnostic.</summary>
    internal static MicrophoneLine? Read(MapReader owner)
    {
        if (owner.Mapping("microphone") is not { } map)
            return null;
        var reader = new MapReader(map, CouplingTables.Microphone, owner.Diagnostics);
        var sensitivity = Measure.MicrophoneSensitivity.Read(reader.RequireScalar("sensitivity"), reader.Table["sensitivity"], reader.Diagnostics);
        var word = reader.Scalar("pattern");
        reader.Finish();
        if (!MicrophonePattern.TryParse(word?.Text ?? reader.Table["pattern"].Default!, out var pattern))
        {
            owner.Diagnostics.Add(DocumentCodes.BadValue, word!.At, $"'{word.Text}' is not a pattern", $"write one of {string.Join(", ", MicrophonePattern.Words)}",
                NearestWord.Among(word.Text, MicrophonePattern.Words));
            return null;
        }

        return sensitivity is { } value ? new MicrophoneLine(new MicrophoneChain(value, pattern), map.At) : null;
    }
}
