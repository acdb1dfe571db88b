using StateWatch.Core.Documents;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Profiles;

/// <summary>Reads what a desk does that no setting tells: <c>behaviour: { mute-stops-pre-fader: true, dca-moves-pre-fader: false, pan-law: -3 dB }</c>.</summary>
internal static class BehaviourReader
{
    private static readonly (string Word, PanLaw Law)[] Laws = [("-3 dB", PanLaw.ConstantPower), ("-4.5 dB", PanLaw.Compromise), ("-6 dB", PanLaw.Linear), ("0 dB", PanLaw.Balance)];

    // Half, half of the power, all: what people call -6, -3 and 0 dB.
    private static readonly (string Word, double Factor)[] Sums = [("-6 dB", 0.5), ("-3 dB", Math.Sqrt(0.5)), ("0 dB", 1)];

    /// <summary>The pan laws by what each side gets in the middle.</summary>
    public static IEnumerable<string> PanLaws => Laws.Select(item => item.Word);

    /// <summary>What each side may contribute to a mono bus.</summary>
    public static IEnumerable<string> MonoSums => Sums.Select(item => item.Word);

    public static DeskBehaviour Read(MapNode? map, DiagnosticBag diagnostics)
    {
        var usual = DeskBehaviour.Usual;
        if (map is null)
            return usual;
        var reader = new MapReader(map, ProfileKeys.Behaviour, diagnostics);
        var behaviour = new DeskBehaviour(
            Flag(reader, "mute-stops-pre-fader", usual.MuteStopsPreFader), Flag(reader, "dca-moves-pre-fader", usual.DcaMovesPreFader),
            OneOf(reader.Scalar("pan-law"), Laws, "a pan law", "what each side gets in the middle", diagnostics) ?? usual.PanLaw,
            OneOf(reader.Scalar("mono-sum"), Sums, "a mono sum", "what each side gets in a mono bus", diagnostics) ?? usual.MonoSum);
        reader.Finish();
        return behaviour;
    }

    private static bool Flag(MapReader reader, string key, bool usual) => reader.Map.Entries.Any(entry => entry.Key.Text == key) ? reader.Flag(key) : usual;

    private static T? OneOf<T>(ScalarNode? scalar, (string Word, T Value)[] known, string what, string meaning, DiagnosticBag diagnostics)
        where T : struct
    {
        if (scalar is null)
            return null;
        foreach (var (word, value) in known)
        {
            if (word == scalar.Text)
                return value;
        }

        var words = known.Select(item => item.Word).ToList();
        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not {what}", $"write {meaning}: {string.Join(", ", words)}", NearestWord.Among(scalar.Text, words));
        return null;
    }
}
