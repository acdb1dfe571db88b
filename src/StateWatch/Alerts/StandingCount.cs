using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Alerts;

/// <summary>Counts findings that stand: those that nobody has acknowledged or put aside by severity, the others as such.</summary>
internal sealed class StandingCount
{
    private readonly int[] _bySeverity = new int[4];

    public int Urgent => _bySeverity[(int)Severity.Urgent];

    public int Warning => _bySeverity[(int)Severity.Warning];

    public int Notice => _bySeverity[(int)Severity.Notice];

    public int Acknowledged { get; private set; }

    public int Held { get; private set; }

    /// <summary>All that nobody has acknowledged or put aside.</summary>
    public int Open => Urgent + Warning + Notice;

    /// <summary>The gravest of those; null when there is none.</summary>
    public Severity? Worst => Urgent > 0 ? Severity.Urgent : Warning > 0 ? Severity.Warning : Notice > 0 ? Severity.Notice : null;

    public static StandingCount Of(IEnumerable<Level> levels)
    {
        var count = new StandingCount();
        foreach (var level in levels)
            count.Add(level);
        return count;
    }

    private void Add(Level level)
    {
        if (level.Kind == LevelKind.Acknowledged)
            Acknowledged++;
        else if (level.Kind == LevelKind.Held)
            Held++;
        else if (level.IsOpen)
            _bySeverity[(int)level.Severity]++;
    }
}
