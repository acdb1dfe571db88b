using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Watching;

/// <summary>What people are told of findings, remembered for as long as they stand.</summary>
internal sealed class WatchWords
{
    private readonly Dictionary<string, AlertWords> _said;

    public WatchWords(IReadOnlyDictionary<string, AlertWords>? said) => _said = said is null ? new(StringComparer.Ordinal) : new(said, StringComparer.Ordinal);

    /// <summary>What was said last of a finding; null when nothing was.</summary>
    public AlertWords? Last(string key) => _said.GetValueOrDefault(key);

    /// <summary>Remembers what is said of a finding.</summary>
    public AlertWords Remember(string key, AlertWords words) => _said[key] = words;

    /// <summary>Forgets a finding that is over.</summary>
    public void Forget(string key) => _said.Remove(key);

    /// <summary>What is said of a check that is told.</summary>
    public static AlertWords Of(Finding finding) => new(finding.Rule.Id, finding.Words.What, finding.Words.Why, finding.Words.Do)
    {
        Strip = finding.Strip,
        Name = finding.Name,
        Setting = finding.Setting,
        Planned = finding.Planned,
        Live = finding.Live,
        PlanAt = finding.PlanAt?.ToString(),
    };

    /// <summary>What is said of a check of which only its rule is known any more.</summary>
    public static AlertWords Of(RuleInfo rule, string subject) =>
        new(rule.Id, $"{subject}: {rule.Title}", "It was found before the watch was started anew, or is not fresh now.", "Look at the setting on the desk.") { Setting = subject };

    /// <summary>What is said of a check that is cleared and of which only its rule is known any more.</summary>
    public static AlertWords Over(RuleInfo rule, string subject) => new(rule.Id, $"{subject}: {rule.Title}", "It is over.", "Nothing needs to be done.") { Setting = subject };

    /// <summary>What is said of a desk that does not answer.</summary>
    public static AlertWords Unreachable(string address, FollowEvent why, string identity) => why == FollowEvent.AnotherDesk
        ? new("source-unreachable", $"another desk answers at {address}: {identity}", "Nothing can be said of the desk that was planned.", "Look which desk is on that address, and whether the plan names the right one.")
        : new("source-unreachable", $"the desk at {address} does not answer", "Nothing that happens on it is seen; what was found before may have changed since.",
            "Look at its power and its network cable, and at the switch between.");

    /// <summary>What is said of a desk that was not read whole in time.</summary>
    public static AlertWords Incomplete(string address, int unread) =>
        new("incomplete-view", $"the desk at {address} was not read whole within 30 s", $"{unread} settings of the plan have no fresh value; what is wrong there is not seen.",
            "Look whether its network is slow or lossy, and whether the profile asks for what this desk does not have.");

    /// <summary>What is said of many findings that came together.</summary>
    public static AlertWords Bulk(int members, string first) =>
        new("bulk-change", $"{members} settings went off plan together, among them {first}", "It looks like one act: a recall, a paste, another show file.",
            "Ask who is at the desk; when nobody meant it, recall the right state.");
}
