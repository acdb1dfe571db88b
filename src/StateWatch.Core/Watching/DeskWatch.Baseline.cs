using StateWatch.Core.Desks;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <content>The levels from which guards measure: how loud things were when the phase ended in which levels are found.</content>
public sealed partial class DeskWatch
{
    // A soundcheck on the evening before is this show's; that of last week is another's. Common practice, no source.
    private static readonly TimeSpan BaselineLasts = TimeSpan.FromHours(24);

    private bool HasGuards => _followed.Audit.Plan.Guards.Count > 0;

    // Called while the phase before still holds.
    private void TakeBaseline(Phase next, Moment now)
    {
        var found = _plan.Document.Baseline;
        if (next <= found)
        {
            _standing = WithoutBaseline();
            return;
        }

        if (_standing.Phase > found)
        {
            if (_standing.AwaitsBaseline && next != _standing.Phase)
                MissBaseline(now, $"the desk was not read before {next.Word()} began");
            ForgetOldBaseline(now);
            return;
        }

        _standing = WithoutBaseline();
        if (!HasGuards)
            return;
        if (_follower.Phase == FollowPhase.Following)
            KeepBaseline(now, $"at the end of {_standing.Phase.Word()}");
        else
            _standing = _standing with { AwaitsBaseline = true };
    }

    // The desk was away or being read when the phase ended: what it has when it was read is the nearest that anybody will ever know.
    private void TakeLateBaseline(Moment now)
    {
        var late = now.Wall - _standing.Since;
        KeepBaseline(now, $"{Math.Max(0, late.TotalSeconds):0} s after {_standing.Phase.Word()} began, when the desk was read");
        Switch(now, CloseReason.PhaseChanged, settle: null, "baseline");
    }

    private void KeepBaseline(Moment now, string when)
    {
        var levels = _followed.Audit.TakeBaseline();
        if (levels.Count == 0)
        {
            MissBaseline(now, "no level of a guarded source could be seen");
            return;
        }

        _standing = WithoutBaseline() with { Baseline = levels, BaselineAt = now.Wall };
        Happened(now, ShowEventKind.BaselineTaken, $"{levels.Count} levels {when}", null);
    }

    private void ForgetOldBaseline(Moment now)
    {
        if (_standing.Baseline.Count > 0 && !(now.Wall - _standing.BaselineAt <= BaselineLasts))
            MissBaseline(now, $"the levels that are known are older than {BaselineLasts.TotalHours:0} h");
    }

    private void MissBaseline(Moment now, string why)
    {
        _standing = WithoutBaseline();
        Happened(now, ShowEventKind.BaselineMissed, $"guards measure from the plan: {why}", null);
    }

    private ShowStanding WithoutBaseline() => _standing with { Baseline = [], BaselineAt = null, AwaitsBaseline = false };
}
