using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>
/// Why a strip is closed, and how to open it: what holds it, in words, and what to do with the fader down first. A mute group or DCA
/// opens others too, so theirs go down with it.
/// </summary>
internal sealed class ClosedWords
{
    private const string Why = "It is silent when it should be heard.";

    private readonly AuditFacts _facts;
    private readonly Strip _strip;
    private readonly List<string> _held = [];
    private readonly List<string> _acts = [];

    // A mute group or DCA that is closed for all its members, and what opens it.
    private Strip? _shared;
    private string _release = "";

    public ClosedWords(AuditFacts facts, Strip strip, StripGates gates, DeskState state)
    {
        _facts = facts;
        _strip = strip;
        foreach (var (setting, member) in gates.Closing(id => state[id]))
            Add(facts.Profile.Settings[setting], member);
    }

    private string Who => _facts.Words(_strip);

    private string Place => AuditFacts.Place(_strip);

    private string Held => string.Join(" and ", _held);

    /// <summary>The words for a strip that must be open itself.</summary>
    public FindingWords OfOne(string cue)
    {
        var cause = _shared ?? _strip;
        return new FindingWords($"{Who} is {Held}; it should be open at cue {cue}", Why, $"{Act(Place)}.", cause.Path, _facts.Words(cause))
        {
            Short = new ShortWords($"{Who} is {(_held.Count > 2 ? $"{_held[0]} and {_held.Count - 1} ways more" : Held)}, should be open", "nothing of it is heard",
                _acts.Count > 1 ? "Faders down first, then undo them one by one" : Act("it"), _shared is null ? "Faders down first, then open them, one at a time" : $"Faders down first, then {_release}"),
        };
    }

    private string Act(string it)
    {
        if (_acts.Count == 0)
            return $"Fader fully down first, then bring {it} up slowly";
        if (_acts is [var only] && _shared is null)
            return $"Fader down first, then {only.Replace(Place, it, StringComparison.Ordinal)} and bring it up slowly";
        return $"{(_shared is null ? "Fader" : "Faders of its members")} down first, then {string.Join(" and ", _acts)}, and bring {it} up slowly";
    }

    /// <summary>The words for several, any one of which would do.</summary>
    public static FindingWords OfSeveral(IReadOnlyList<ClosedWords> all, CueOpening opening, string cue)
    {
        var few = all.Take(3).ToList();
        var more = all.Count > few.Count ? $" and {all.Count - few.Count} more" : "";
        var names = string.Join(", ", few.Select(one => one.Who)) + more;
        return new FindingWords($"None of {names} is open; one should be at cue {cue}", $"{Why} {Sentences.Capital(string.Join(", ", few.Select(one => $"{one.Place} is {one.Held}")))}.",
            "Fader down first, then open the one in use and bring it up slowly.", $"{cue}/{opening.Said.Text}", $"{opening.Said.Text} at cue {cue}")
        {
            Short = new ShortWords($"None of {string.Join(", ", few.Select(one => one._facts.NameOf(one._strip) ?? one.Place))}{more} is open", "nothing of it is heard",
                "Fader down first, then open the one in use", "Faders down first, then open those in use"),
        };
    }

    private void Add(Setting setting, int member)
    {
        var control = _facts.Profile.Strips[setting.Strip];
        if (member < 0)
        {
            _held.Add(setting.Kind.Suffix == "on" ? "muted" : "closed by its fader");
            if (setting.Kind.Suffix == "on")
                _acts.Add($"unmute {Place}");
            return;
        }

        var name = _facts.Words(control);
        _held.Add(setting.Kind.Suffix == "fader" ? $"closed by the fader of {name}" : $"muted by {name}");
        // Where it was not planned, it leaves; else the group is released, for all its members.
        if (_facts.Plan.For(member) is { Planned.IsOn: false })
        {
            _acts.Add($"take {Place} {(control.Kind == "dca" ? "off" : "out of")} {name}");
            return;
        }

        _acts.Add(setting.Kind.Suffix switch
        {
            "active" => $"release {name}",
            "on" => $"unmute {name}",
            _ => $"bring {name} up",
        });
        if (_shared is null)
            (_shared, _release) = (control, _acts[^1]);
    }
}
