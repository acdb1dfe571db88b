using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Holds planned inserts to the plan's <c>units:</c>: no unit that is not listed, none on more strips than it has channels, none half used.</summary>
internal sealed class UnitCheck(ShowPlan plan, PlanNames names, DiagnosticBag diagnostics)
{
    private readonly Dictionary<string, List<Expectation>> _places = new(StringComparer.Ordinal);
    private readonly IReadOnlyList<UnitLine> _units = plan.Document.Units;

    /// <summary>Every planned place of an insert by the name of its unit, in order of settings.</summary>
    public static void Collect(ShowPlan plan, Dictionary<string, List<Expectation>> places)
    {
        var none = plan.Profile.Texts.Intern("none");
        foreach (var expectation in plan.Expectations)
        {
            if (plan.Profile.Settings[expectation.Setting].Kind.Suffix != "insert/#" || expectation.Planned.TextId == none)
                continue;
            var unit = plan.Profile.Format(expectation.Planned);
            if (!places.TryGetValue(unit, out var list))
                places.Add(unit, list = []);
            list.Add(expectation);
        }
    }

    public void Run(bool audit)
    {
        if (_units.Count == 0)
            return;
        Collect(plan, _places);
        var known = _units.Select(unit => unit.Name.Text).ToHashSet(StringComparer.Ordinal);
        foreach (var (unit, places) in _places)
        {
            if (!known.Contains(unit))
                names.Unknown(new ScalarNode(places[0].At, unit, plain: true), "unit", known, "list it under units, with how many channels it has");
        }

        foreach (var unit in _units)
        {
            var places = _places.GetValueOrDefault(unit.Name.Text) ?? [];
            if (places.Count > unit.Channels)
                diagnostics.Add(PlanCodes.UnitOverbooked, places[unit.Channels].At,
                    $"{unit.Name.Text} has {Sentences.Count(unit.Channels, "channel")} ({unit.Name.At.Place}), but {places.Count} strips take it: {Strips(places)}", Need(unit.Channels));
            else if (audit && unit.Channels == 2 && places.Count == 1)
                diagnostics.Add(PlanCodes.HalfUsed, places[0].At, $"{unit.Name.Text} has two channels, but only {Strips(places)} takes it: half of it is not used", Need(2));
        }
    }

    private string Strips(List<Expectation> places) => string.Join(", ", places.Take(8).Select(place => NameOf(StripOf(place)))) + (places.Count > 8 ? " …" : "");

    private Strip StripOf(Expectation place) => plan.Profile.Strips[plan.Profile.Settings[place.Setting].Strip];

    private string NameOf(Strip strip) => plan.Strips.FirstOrDefault(item => item.Strip == strip)?.Name ?? strip.Path.Replace('/', ' ');

    // How many units of this size all strips need that take one: six vocals and four talkers need five that have two channels.
    private string Need(int channels)
    {
        var alike = _units.Where(unit => unit.Channels == channels).ToList();
        var roles = alike.SelectMany(unit => _places.GetValueOrDefault(unit.Name.Text) ?? []).Select(StripOf).Distinct()
            .GroupBy(strip => plan.Strips.FirstOrDefault(item => item.Strip == strip)?.Role is { Length: > 0 } role ? role : strip.Kind)
            .Select(group => (Role: group.Key, Count: group.Count())).ToList();
        var need = (roles.Sum(role => role.Count) + channels - 1) / channels;
        var size = channels switch { 1 => "one-channel", 2 => "two-channel", _ => channels.ToString(CultureInfo.InvariantCulture) + "-channel" };
        return $"{string.Join(" and ", roles.Select(role => $"{role.Count} {role.Role}"))} need {Sentences.Count(need, $"{size} unit")}; {alike.Count} {(alike.Count == 1 ? "is" : "are")} listed";
    }
}
