using StateWatch.Core.Auditing;

namespace StateWatch.Core.Watching;

/// <content>A rule that fails is told, and takes nothing else down with it.</content>
public sealed partial class DeskWatch
{
    private readonly HashSet<string> _failing = new(StringComparer.Ordinal);
    private readonly IReadOnlyList<IAuditRule>? _rules;

    /// <summary>
    /// Called on the thread of <see cref="Next"/> with the id of a rule that threw while it judged, once for each, and what it threw: what it judges is not known from then on. Called again, with null, when
    /// after a change of phase, cue or plan it no longer does. Without anybody to hear of it, what a rule throws comes out of <see cref="Next"/>.
    /// </summary>
    public Action<string, Exception?>? RuleFailed
    {
        get;
        set
        {
            field = value;
            _followed.Audit.Failed = value is null ? null : RuleThrew;
        }
    }

    private LiveAudit NewAudit() => new(_plan.For(_standing.Phase, _standing.Cue), _standing.Baseline, _rules) { Failed = RuleFailed is null ? null : RuleThrew };

    private void RuleThrew(RuleInfo rule, Exception problem)
    {
        if (_failing.Add(rule.Id))
            RuleFailed?.Invoke(rule.Id, problem);
    }

    // Another plan may give a rule nothing to fail at.
    private void JudgeAnew(LiveAudit audit, DateOnly? day)
    {
        string[] failed = [.. _failing];
        _failing.Clear();
        audit.Judge(_follower.State, day);
        foreach (var rule in failed)
        {
            if (!_failing.Contains(rule))
                RuleFailed?.Invoke(rule, null);
        }
    }

    private AlertWords? Written(string key, int check)
    {
        try
        {
            return WatchWords.Of(_followed.Audit.Write(check));
        }
#pragma warning disable CA1031 // Whatever it is, what was found is told all the same.
        catch (Exception problem) when (RuleFailed is not null)
#pragma warning restore CA1031
        {
            RuleThrew(_followed.Audit.RuleOf(check), problem);
            return Fallback(key);
        }
    }
}
