namespace StateWatch.Core.Findings;

public sealed partial class FindingLedger
{
    /// <summary>A sink does not take anything for now: nothing more is handed over for it.</summary>
    /// <returns>Whether there is such a sink.</returns>
    public bool SinkLost(string sink, Moment now)
    {
        Reach(now);
        var number = NumberOf(sink);
        if (number < 0)
            return false;
        _book.Sinks[number].IsUp = false;
        return true;
    }

    /// <summary>A sink takes things again: it is told the difference between what it knows and what there is.</summary>
    /// <param name="sink">Its name.</param>
    /// <param name="hasLostWaiting">Whether what was handed over for it and not yet delivered will never be sent.</param>
    /// <param name="now">The moment.</param>
    /// <returns>Whether there is such a sink.</returns>
    public bool SinkRecovered(string sink, bool hasLostWaiting, Moment now)
    {
        Reach(now);
        var number = NumberOf(sink);
        if (number < 0)
            return false;
        _book.Sinks[number].IsUp = true;
        foreach (var finding in _book.ByKey.Values)
        {
            if (hasLostWaiting)
                finding.Sinks[number].Offered = finding.Sinks[number].Told;
            if (finding.Level.Transition > 0 || finding.Sinks[number].Passed > 0)
                _book.Touch(finding);
        }

        return true;
    }

    /// <summary>A sink has taken an announcement, which may be of an earlier run. Older ones than the last are ignored.</summary>
    public void Delivered(Announcement announcement, Moment now)
    {
        Reach(now);
        var number = NumberOf(announcement.Sink);
        if (number < 0)
            return;
        if (announcement.Digest is null)
        {
            Took(announcement.Key, number, announcement.Level);
            return;
        }

        foreach (var line in announcement.Digest)
        {
            if (line.Passed == 0)
                Took(line.Key, number, line.Level);
        }
    }

    private void Took(string key, int number, Level level)
    {
        if (!_book.ByKey.TryGetValue(key, out var finding) || level.Transition < finding.Sinks[number].Told.Transition)
            return;
        finding.Sinks[number].Told = level;
        _book.MarkChanged(finding);
    }

    private int NumberOf(string sink)
    {
        for (var number = 0; number < _book.Sinks.Count; number++)
        {
            if (string.Equals(_book.Sinks[number].Name, sink, StringComparison.Ordinal))
                return number;
        }

        return -1;
    }
}
