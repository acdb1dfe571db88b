using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Links;

namespace StateWatch.Core.Reports;

/// <summary>The whole pre-show sweep over a link that can only ask: read everything once, judge, report. It sends no tone.</summary>
public static class Sweep
{
    /// <summary>Sweeps a desk.</summary>
    /// <param name="subject">What to sweep.</param>
    /// <param name="reader">The link.</param>
    /// <param name="onProgress">Told how many of how many questions are answered; may be null.</param>
    /// <param name="cancel">Stops the read; what is unread is then reported as unseen.</param>
    public static SweepResult Run(SweepSubject subject, IDeskReader reader, Action<int, int>? onProgress = null, CancellationToken cancel = default)
    {
        var plan = subject.Plan;
        var auditor = new Auditor(plan);
        var state = new DeskState(plan.Profile);
        var read = new FullRead(plan.Profile, state, reader, auditor.Inputs);
        var report = read.Run(onProgress, cancel);
        var judged = reader.Clock.GetTimestamp();
        var known = report.End is ReadEnd.Complete or ReadEnd.Partial or ReadEnd.FellSilent;
        var audit = known ? auditor.Judge(state, subject.Day) : new AuditResult([], [], 0, [], []) { Ratios = RatioReading.Unread(plan) };
        var auditTime = reader.Clock.GetElapsedTime(judged);
        var unseen = new List<UnseenSetting>();
        foreach (var expectation in plan.Expectations)
        {
            if (!state.IsFresh(expectation.Setting) || !known)
                unseen.Add(new UnseenSetting(plan.Profile.Settings[expectation.Setting].Path, known ? Reason(state.ReasonUnseen(expectation.Setting)) : Reason(report.End)));
        }

        return new SweepResult(subject, report, audit, plan.Expectations.Count, plan.Expectations.Count - unseen.Count, unseen,
            reader.Counters, read.Decoded, auditTime);
    }

    private static string Reason(UnseenReason reason) => reason switch
    {
        UnseenReason.NoReply => "no reply",
        UnseenReason.NotUnderstood => "answer not understood",
        UnseenReason.OutOfDate => "out of date",
        _ => "not asked",
    };

    private static string Reason(ReadEnd end) => end == ReadEnd.AnotherDesk ? "another desk answered" : "desk silent";
}
