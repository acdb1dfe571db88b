using StateWatch.Core.Documents;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Profiles;

/// <summary>Reads what a desk does that no setting tells: <c>behaviour: { mute-stops-pre-fader: true, dca-moves-pre-fader: false, pan-law: -3 dB }</c>.</summary>
internal static class BehaviourReader
{
    private static readonly (string Word, PanLaw Law)[] Laws = [("-3 dB", PanLaw.ConstantPower), ("-4.5 dB", PanLaw.Compromise), ("-6 dB", PanLaw.Linear), ("0 dB", PanLaw.Balance)];

    /// <summary>The pan laws by what each side gets in the middle.</summary>
    public static IEnumerable<string> PanLaws => Laws.Select(item => item.Word);

    public static DeskBehaviour Read(MapNode? map, DiagnosticBag diagnostics)
    {
        var usual = DeskBehaviour.Usual;
        if (map is null)
            return usual;
        var reader = new MapReader(map, ProfileKeys.Behaviour, diagnostics);
        var behaviour = new DeskBehaviour(
            Flag(reader, "mute-stops-pre-fader", usual.MuteStopsPreFader), Flag(reader, "dca-moves-pre-fader", usual.DcaMovesPreFader), Law(reader.Scalar("pan-law"), diagnostics) ?? usual.PanLaw);
        reader.Finish();
        return behaviour;
    }

    private static bool Flag(MapReader reader, string key, bool usual) => reader.Map.Entries.Any(entry => entry.Key.Text == key) ? reader.Flag(key) : usual;

    private static PanLaw? Law(ScalarNode? scalar, DiagnosticBag diagnostics)
    {
        if (scalar is null)
            return null;
        foreach (var (word, law) in Laws)
        {
            if (word == scalar.Text)
                return law;
        }

        diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a pan law", $"write what each side gets in the middle: {string.Join(", ", PanLaws)}", NearestWord.Among(scalar.Text, PanLaws));
        return null;
    }
}
