namespace StateWatch.Core.Findings;

public sealed partial class FindingLedger
{
    private void SetChecks(IReadOnlyList<WatchedCheck> checks)
    {
        if (checks.DistinctBy(static check => check.Id, StringComparer.Ordinal).Count() != checks.Count)
            throw new ArgumentException("two checks have one id", nameof(checks));
        foreach (var finding in _book.Checks)
            finding.IsRetired = true;
        var before = _book.Checks.ToArray();
        _book.Checks.Clear();
        foreach (var check in checks)
        {
            var key = $"{_book.Desk}/{check.Id}";
            if (!_book.ByKey.TryGetValue(key, out var finding))
                finding = _book.Add(key, check, FindingOrigin.Check);
            else if (finding.Origin != FindingOrigin.Check)
                throw new ArgumentException($"{check.Id} is a finding of the watch itself", nameof(checks));
            finding.Check = check;
            finding.IsRetired = false;
            finding.Number = _book.Checks.Count;
            _book.Checks.Add(finding);
            if (_view.IsSettling)
                _book.Hold(finding, Holds.Settling, true);
        }

        foreach (var finding in before)
        {
            if (finding.IsRetired)
                Retire(finding);
        }
    }

    private void Retire(TrackedFinding finding)
    {
        if (finding.Condition != Condition.Normal)
            _conditions.Close(finding, _book.JudgedAnew);
        _bulk.Forget(finding);
        for (var hold = Holds.Settling; hold <= Holds.OutOfService; hold = (Holds)((int)hold << 1))
            _book.Hold(finding, hold, false);
        (finding.Shelf, finding.OutOfService, finding.Acknowledgement, finding.IsLatched) = (null, null, null, false);
        finding.Reading = finding.LastDrift = default;
        (finding.Evidence, finding.StaleReason) = (Evidence.Unseen, StaleReason.None);
        _book.Touch(finding);
        // Who was ever raised keeps its numbers, so that no id is used twice should the plan have it again.
        if (finding.Episode == 0)
            _book.ByKey.Remove(finding.Key);
    }
}
