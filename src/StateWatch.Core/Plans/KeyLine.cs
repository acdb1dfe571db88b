using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>What one or several keys of the desk do.</summary>
/// <param name="Key">The numbers as written.</param>
/// <param name="Numbers">The numbers.</param>
/// <param name="Does">What they do, as the desk spells it.</param>
public sealed record KeyLine(ScalarNode Key, IReadOnlyList<int> Numbers, ScalarNode Does)
{
    /// <summary>Reads <c>keys: { 1: mute group 1, 7-8: nothing }</c>.</summary>
    internal static List<KeyLine> Read(MapNode? map, DiagnosticBag diagnostics)
    {
        var lines = new List<KeyLine>();
        foreach (var (key, value) in map?.Entries ?? [])
        {
            if (value is not ScalarNode does)
                diagnostics.Add(DocumentCodes.WrongShape, value.At, $"what key {key.Text} does is {value.Shape}", "write number: what the key does, as the desk spells it");
            else if (NumberSet.TryParse(key.Text, out var numbers))
                lines.Add(new KeyLine(key, numbers, does));
            else
                diagnostics.Add(DocumentCodes.BadValue, key.At, $"'{key.Text}' is not a set of numbers", "write it like 7, 1-4 or 1-4, 7");
        }

        return lines;
    }

    /// <summary>Says what each key does.</summary>
    internal static void Say(IReadOnlyList<KeyLine> lines, DeskProfile profile, StatementTable table, DiagnosticBag diagnostics)
    {
        foreach (var line in lines)
        {
            foreach (var number in line.Numbers)
            {
                var id = profile.Find($"desk/key/{number}");
                if (id >= 0)
                    table.SayById(id, line.Does, line.Does.Text, Ranks.Narrowed(Ranks.Strip, line.Numbers.Count));
                else
                {
                    diagnostics.Add(PlanCodes.NoSuchStrip, line.Key.At, $"the profile of {profile.Desk} maps no key {number}", "leave it out, or map desk/key/{k} in the profile");
                    break;
                }
            }
        }
    }
}
