namespace StateWatch.Core.Findings;

/// <summary>
/// Sees when many checks go off plan together, as after a recall: they become one finding, which is told instead of them until most are back. What is
/// told of a single check waits for the end of the gather it began in, so that the root is never slower than its children.
/// </summary>
internal sealed class BulkChange(LedgerBook book, Conditions conditions)
{
    private readonly List<TrackedFinding> _recent = [];

    /// <summary>The finding that is told instead.</summary>
    public TrackedFinding Root { get; } = book.Add($"{book.Desk}/bulk-change:desk",
        new WatchedCheck("bulk-change:desk", TimerClass.Immediate, IsProtected: true), FindingOrigin.Bulk);

    /// <summary>Those it stands for, whether or not they are back.</summary>
    public List<TrackedFinding> Members { get; } = [];

    /// <summary>What went off plan of late and is no member.</summary>
    public List<TrackedFinding> Recent => _recent;

    /// <summary>When the gather that is open ends.</summary>
    public TimeSpan? GatherEnds { get; set; }

    /// <summary>Until when whatever goes off plan joins.</summary>
    public TimeSpan? WindowEnds { get; set; }

    /// <summary>The keys of its members, protected checks first.</summary>
    public IReadOnlyList<string> MemberKeys() =>
        [.. Members.OrderBy(static member => !member.Check.IsProtected).ThenBy(static member => member.Key, StringComparer.Ordinal).Select(static member => member.Key)];

    /// <summary>Notes that a check went off plan.</summary>
    public void Add(TrackedFinding finding)
    {
        if (finding.Origin != FindingOrigin.Check || finding.Check.StandsAlone || book.Settles(finding.Key))
            return;
        if (WindowEnds is not null)
        {
            WindowEnds = book.Now.Clock + LedgerNumbers.BulkWindow;
            Join(finding);
            return;
        }

        // A member that was back and goes off plan long after the act is another matter.
        if ((finding.Holds & Holds.Inhibited) != Holds.None)
        {
            Members.Remove(finding);
            book.Hold(finding, Holds.Inhibited, false);
            book.Touch(Root);
        }

        AddRecent(finding);
        finding.IsGathering = true;
        GatherEnds ??= book.Now.Clock + LedgerNumbers.Gather;
    }

    /// <summary>Notes that a check is still off plan though its time to settle is over: many of those are one act too, a cue that never came.</summary>
    public void Settled(TrackedFinding finding)
    {
        finding.PendingAt = book.Now.Clock;
        Add(finding);
    }

    /// <summary>Adds one to those that went off plan of late.</summary>
    public void AddRecent(TrackedFinding finding)
    {
        if (finding.IsRecent)
            return;
        finding.IsRecent = true;
        _recent.Add(finding);
    }

    /// <summary>Lets gather and window end when it is time.</summary>
    public void Elapse()
    {
        if (GatherEnds <= book.Now.Clock)
            EndGather();
        if (WindowEnds <= book.Now.Clock)
            WindowEnds = null;
    }

    /// <summary>Forgets one finding that no plan has any more.</summary>
    public void Forget(TrackedFinding finding)
    {
        StopGathering(finding);
        finding.IsRecent = false;
        _recent.Remove(finding);
        if (Members.Remove(finding))
            book.Touch(Root);
    }

    /// <summary>Lets the root weigh as much as the gravest of its members that are off plan: another phase may have made them worse.</summary>
    public void Weigh()
    {
        if (Root.Condition != Condition.Active)
            return;
        var gravest = Root.Severity;
        foreach (var member in Members)
        {
            if (member.Condition != Condition.Normal && member.WeightAt(book.Now.Clock) > gravest)
                gravest = member.WeightAt(book.Now.Clock);
        }

        if (gravest > Root.Severity)
            conditions.Read(Root, Reading.Drift(gravest));
    }

    /// <summary>Closes the root when most of its members are back; the rest is told in one digest.</summary>
    public void CloseWhenMostAreBack()
    {
        if (Root.Condition != Condition.Active || WindowEnds is not null)
            return;
        var remain = 0;
        foreach (var member in Members)
            remain += member.Condition == Condition.Normal ? 0 : 1;
        if (Members.Count > 0 && remain * LedgerNumbers.BulkRemainOneIn >= Members.Count)
            return;
        conditions.Read(Root, Reading.Match);
        Members.Sort(LedgerBook.ByOrdinalKey);
        foreach (var member in Members)
        {
            book.Hold(member, Holds.Inhibited, false);
            member.GoesIntoDigest = true;
        }

        Members.Clear();
    }

    /// <summary>Ends the gather that is open, if any: one act, or so many findings.</summary>
    public void EndGather()
    {
        if (GatherEnds is null)
            return;
        var now = book.Now.Clock;
        GatherEnds = null;
        var (many, quick) = (0, 0);
        for (var i = _recent.Count - 1; i >= 0; i--)
        {
            var finding = _recent[i];
            StopGathering(finding);
            var age = now - finding.PendingAt;
            if (age > LedgerNumbers.BulkWindow || finding.Condition == Condition.Normal)
                Drop(i);
            else
                (many, quick) = (many + 1, age <= LedgerNumbers.Gather ? quick + 1 : quick);
        }

        var watched = (book.Checks.Count + LedgerNumbers.BulkOneIn - 1) / LedgerNumbers.BulkOneIn;
        if (many < Math.Max(LedgerNumbers.BulkAtLeast, watched) && quick < LedgerNumbers.BulkInGather)
            return;
        var last = TimeSpan.MinValue;
        _recent.Sort(LedgerBook.ByOrdinalKey);
        foreach (var finding in _recent)
        {
            last = finding.PendingAt > last ? finding.PendingAt : last;
            Join(finding);
        }

        ClearRecent();
        WindowEnds = last + LedgerNumbers.BulkWindow;
    }

    private void Join(TrackedFinding finding)
    {
        if ((finding.Holds & Holds.Inhibited) == Holds.None)
        {
            Members.Add(finding);
            book.Hold(finding, Holds.Inhibited, true, null, Root.Check.Id);
        }

        var severity = finding.WeightAt(book.Now.Clock);
        if (Root.Condition == Condition.Active && Root.Severity > severity)
            severity = Root.Severity;
        conditions.Read(Root, Reading.Drift(severity));
    }

    private void Drop(int at)
    {
        _recent[at].IsRecent = false;
        _recent[at] = _recent[^1];
        _recent.RemoveAt(_recent.Count - 1);
    }

    private void ClearRecent()
    {
        foreach (var finding in _recent)
        {
            StopGathering(finding);
            finding.IsRecent = false;
        }

        _recent.Clear();
    }

    private void StopGathering(TrackedFinding finding)
    {
        if (!finding.IsGathering)
            return;
        finding.IsGathering = false;
        book.Touch(finding);
    }
}
