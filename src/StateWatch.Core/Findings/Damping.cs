namespace StateWatch.Core.Findings;

/// <summary>Keeps what comes and goes from being told each time. It hides repeats, never what there is.</summary>
internal sealed class Damping(LedgerBook book)
{
    /// <summary>Counts a raise or a relapse.</summary>
    public void Stir(TrackedFinding finding)
    {
        var now = book.Now.Clock;
        finding.Restlessness = RestlessnessOf(finding, now) + 1;
        finding.RestlessAt = now;
        if (finding.Restlessness < LedgerNumbers.DampAt || (finding.Holds & Holds.Damped) != Holds.None)
            return;
        (finding.DampedAt, finding.NextLook) = (now, now + LedgerNumbers.DampedLook);
        book.Hold(finding, Holds.Damped, true);
    }

    /// <summary>Looks whether a damped finding has come to rest, when it is time to.</summary>
    public void Look(TrackedFinding finding)
    {
        var now = book.Now.Clock;
        if ((finding.Holds & Holds.Damped) == Holds.None || now < finding.NextLook)
            return;
        var damped = now - finding.DampedAt;
        // Looks keep step with the beginning, whatever time was passed over.
        finding.NextLook = finding.DampedAt + (LedgerNumbers.DampedLook * (damped.Ticks / LedgerNumbers.DampedLook.Ticks + 1));
        var isCalm = finding.Evidence == Evidence.Fresh && now - finding.SteadySince >= LedgerNumbers.SteadyFor
            && RestlessnessOf(finding, now) <= LedgerNumbers.ReleaseAt;
        if (isCalm || damped >= LedgerNumbers.DampedAtMost)
        {
            book.Hold(finding, Holds.Damped, false);
        }
        else if (damped.Ticks % LedgerNumbers.UnstableReminder.Ticks == 0)
        {
            finding.IsReminderDue = true;
            book.Touch(finding);
        }
    }

    /// <summary>How restless a finding is at a time.</summary>
    public static double RestlessnessOf(TrackedFinding finding, TimeSpan now) =>
        finding.Restlessness * Math.Pow(2, -((now - finding.RestlessAt) / LedgerNumbers.RestlessHalfLife));
}
