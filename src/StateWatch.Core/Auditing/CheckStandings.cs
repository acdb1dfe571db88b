using System.Numerics;
using StateWatch.Core.Desks;

namespace StateWatch.Core.Auditing;

/// <summary>
/// What every check says of a state, kept up to date: only checks that something reached are looked at, in the order in which they are
/// judged, so that each is looked at once. Allocates nothing but for claims beyond what there ever were.
/// </summary>
/// <param name="checks">The checks.</param>
internal sealed class CheckStandings(RuleChecks checks)
{
    private readonly ulong[] _due = new ulong[(checks.Count + 63) / 64];
    private readonly Verdict[] _verdicts = new Verdict[checks.Count];
    private readonly Severity[] _severities = new Severity[checks.Count];
    private readonly Severity[] _lasting = new Severity[checks.Count];
    private readonly Claims _claims = new(checks.Facts.Profile.Settings.Count, checks.Count);
    private readonly List<int> _claimed = [];
    private readonly int[] _changed = new int[checks.Count];
    private readonly Severity[] _before = new Severity[checks.Count];
    private readonly EdgeDistance[] _distances = new EdgeDistance[checks.Count];
    private readonly int[] _moved = new int[checks.Count];
    private int _changedCount;
    private int _movedCount;

    /// <summary>What a check says.</summary>
    public Verdict VerdictOf(int check) => _verdicts[check];

    /// <summary>How urgently a check is told; silent when it is not: not violated, explained by an earlier one, or of no weight in this phase.</summary>
    public Severity SeverityOf(int check) => _severities[check];

    /// <summary>How urgently a check that is told would be told if it lasts, where people do in a show for a moment what it finds.</summary>
    public Severity LastingSeverityOf(int check) => _lasting[check];

    /// <summary>The checks whose severity the last look changed, rising.</summary>
    public ReadOnlySpan<int> Changed => _changed.AsSpan(0, _changedCount);

    /// <summary>The severity of a changed check before the last look.</summary>
    public Severity SeverityBefore(int check) => _before[check];

    /// <summary>Where the state lies, seen from the edge of what a check allows; of one that cannot tell, nowhere.</summary>
    public EdgeDistance DistanceOf(int check) => _distances[check];

    /// <summary>The checks of which the last look changed anything: verdict, severity, now or when it lasts, or distance; rising.</summary>
    public ReadOnlySpan<int> Moved => _moved.AsSpan(0, _movedCount);

    /// <summary>Gets a check that threw while it was looked at, which then cannot tell; null lets what was thrown through.</summary>
    public Action<int, Exception>? Failed { get; set; }

    /// <summary>How many checks the last look looked at.</summary>
    public int Looked { get; private set; }

    /// <summary>Notes that every check must be looked at.</summary>
    public void MarkAll()
    {
        _due.AsSpan().Fill(ulong.MaxValue);
        if ((checks.Count & 63) is not 0 and var rest)
            _due[^1] = (1UL << rest) - 1;
    }

    /// <summary>Notes that a setting or a derived fact changed.</summary>
    public void Mark(int settingOrFact)
    {
        foreach (var check in checks.DecidedBy(settingOrFact))
            _due[check >> 6] |= 1UL << check;
    }

    /// <summary>Looks at every check that something reached.</summary>
    public void Look(DeskState state)
    {
        _changedCount = _movedCount = Looked = 0;
        for (var word = 0; word < _due.Length; word++)
        {
            // A check may reach later ones, never earlier ones.
            while (_due[word] != 0)
            {
                var check = (word << 6) + BitOperations.TrailingZeroCount(_due[word]);
                _due[word] &= _due[word] - 1;
                Look(check, state);
            }
        }
    }

    private void Look(int number, DeskState state)
    {
        Looked++;
        var (verdict, distance, severity, lasting) = Decide(number, state);
        var moved = verdict != _verdicts[number] || distance != _distances[number];
        (_verdicts[number], _distances[number]) = (verdict, distance);
        Claim(number);
        if (moved || severity != _severities[number] || lasting != _lasting[number])
            _moved[_movedCount++] = number;
        _lasting[number] = lasting;
        if (severity == _severities[number])
            return;
        _before[number] = _severities[number];
        _severities[number] = severity;
        _changed[_changedCount++] = number;
    }

    // What it claims is left in the list of claims.
    private (Verdict Verdict, EdgeDistance Distance, Severity Severity, Severity Lasting) Decide(int number, DeskState state)
    {
        _claimed.Clear();
        try
        {
            var check = checks[number];
            if (!IsFresh(number, state))
                return default;
            if (!check.IsViolated(state))
                return (Verdict.Kept, check.FromEdge(state, isViolated: false), Severity.Silent, Severity.Silent);
            var distance = check.FromEdge(state, isViolated: true);
            // One fault is told once: what an earlier rule said of a setting explains its drift.
            if (check.YieldsToOthers && _claims.IsClaimedBefore(check.Subject, number))
                return (Verdict.Violated, distance, Severity.Silent, Severity.Silent);
            if (check.ClaimsSubject)
                _claimed.Add(check.Subject);
            check.AddExplained(state, _claimed);
            var severity = FindingSeverity.Of(checks.Facts, check, state);
            // What people do for a moment is a notice and never more.
            var lasts = severity == Severity.Notice && check.CountsWhenItLasts;
            return (Verdict.Violated, distance, severity, lasts ? FindingSeverity.Of(checks.Facts, check, state, isLasting: true) : severity);
        }
#pragma warning disable CA1031 // Whatever a rule throws, the others go on.
        catch (Exception problem) when (Failed is not null)
#pragma warning restore CA1031
        {
            _claimed.Clear();
            Failed(number, problem);
            return default;
        }
    }

    private bool IsFresh(int number, DeskState state)
    {
        foreach (var input in checks.InputsOf(number))
        {
            if (!state.IsFresh(input))
                return false;
        }

        return true;
    }

    private void Claim(int number)
    {
        if (_claimed.Count == 0 && !_claims.HasAny(number))
            return;
        if (_claims.Are(number, _claimed))
            return;
        while (_claims.HasAny(number))
            MarkLater(_claims.TakeOne(number), number);
        foreach (var setting in _claimed)
        {
            _claims.Add(number, setting);
            MarkLater(setting, number);
        }
    }

    private void MarkLater(int setting, int than)
    {
        foreach (var check in checks.YieldingAt(setting))
        {
            if (check > than)
                _due[check >> 6] |= 1UL << check;
        }
    }
}
