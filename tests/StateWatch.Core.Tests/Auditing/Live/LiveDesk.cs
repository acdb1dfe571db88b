using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Tests.Auditing.Live;

/// <summary>A desk that is followed, and the same desk judged anew.</summary>
internal sealed class LiveDesk
{
    private readonly LiveAudit _whole;
    private readonly Severity[] _before;
    private readonly (Verdict, Severity, EdgeDistance)[] _said;
    private readonly List<int> _reported = [];
    private readonly List<int> _moved = [];

    public LiveDesk(ShowPlan plan)
    {
        Plan = plan;
        State = new DeskState(plan.Profile);
        foreach (var setting in plan.Profile.Settings)
            State.Apply(setting.Id, setting.Reset);
        foreach (var (setting, value) in PlannedState.Of(plan))
            State.Apply(setting, value);
        Live = new LiveAudit(plan);
        _whole = new LiveAudit(plan);
        Live.Judge(State);
        _before = [.. Enumerable.Range(0, Live.Count).Select(Live.SeverityOf)];
        _said = [.. Enumerable.Range(0, Live.Count).Select(check => (Live.VerdictOf(check), Live.SeverityOf(check), Live.DistanceOf(check)))];
    }

    public ShowPlan Plan { get; }

    public DeskState State { get; }

    public LiveAudit Live { get; }

    /// <summary>Sets a setting as people write it, and notes it.</summary>
    public void Set(string path, string text)
    {
        State.Set(path, text);
        Live.Changed(Plan.Profile.Find(path));
    }

    /// <summary>Judges what changed, and holds every single check and what is reported of it to a judgement of everything.</summary>
    public void JudgeAndCompare(string when)
    {
        Live.Judge(State);
        _whole.AllChanged();
        _whole.Judge(State);
        _reported.Clear();
        _moved.Clear();
        for (var check = 0; check < Live.Count; check++)
        {
            if (Live.VerdictOf(check) != _whole.VerdictOf(check) || Live.SeverityOf(check) != _whole.SeverityOf(check))
                Assert.Fail($"{when}: {NameOf(check)} is {Live.VerdictOf(check)}, {Live.SeverityOf(check)}; judged anew {_whole.VerdictOf(check)}, {_whole.SeverityOf(check)}");
            // No assertion: this is looked at a hundred million times.
            if (Live.DistanceOf(check) != _whole.DistanceOf(check))
                Assert.Fail($"{when}: {NameOf(check)} is {Live.DistanceOf(check)} from its edge; judged anew {_whole.DistanceOf(check)}");
            if (_before[check] != Live.SeverityOf(check))
                _reported.Add(check);
            var said = (Live.VerdictOf(check), Live.SeverityOf(check), Live.DistanceOf(check));
            if (_said[check] != said)
                _moved.Add(check);
            _said[check] = said;
        }

        Assert.Equal(_reported, Live.Reports.ToArray());
        Assert.Equal(_moved, Live.Moved.ToArray());
        foreach (var check in _reported)
        {
            Assert.Equal(_before[check], Live.SeverityBefore(check));
            _before[check] = Live.SeverityOf(check);
        }
    }

    /// <summary>Holds the whole verdict with all words to that of a new auditor.</summary>
    public void CompareWithFresh(string when)
    {
        var (live, fresh) = (Lines(Live.Result()), Lines(new Auditor(Plan).Judge(State)));
        var different = live.Except(fresh, StringComparer.Ordinal).Select(line => "live: " + line).Concat(fresh.Except(live, StringComparer.Ordinal).Select(line => "fresh: " + line)).Take(6).ToList();
        Assert.True(live.SequenceEqual(fresh, StringComparer.Ordinal), $"{when}:\n{string.Join('\n', different)}");
    }

    public string NameOf(int check) => $"{Live.RuleOf(check).Id}:{Plan.Profile.Settings[Live.SubjectOf(check)].Path}";

    private static List<string> Lines(AuditResult result) =>
    [
        $"evaluated {result.Evaluated}",
        .. result.Findings.Select(finding => finding.ToString()),
        .. result.Causes.Select(cause => $"{cause.Id} {cause.Text} {cause.Severity} [{string.Join(' ', cause.Findings.Select(item => item.Id))}] [{string.Join(' ', cause.Told.Select(item => item.Id))}]"),
        .. result.CannotTell.Select(item => $"{item.Rule} {item.Subject} [{string.Join(' ', item.Missing)}]"),
        .. result.NotApplicable.Select(rule => rule.Id),
        .. result.Ratios.Select(ratio => ratio.ToString()),
    ];
}
