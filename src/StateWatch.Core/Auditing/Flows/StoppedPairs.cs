namespace StateWatch.Core.Auditing.Flows;

/// <summary>Which pairs each stage stops; a fact changes with its list. Allocates only when a list outgrows what it ever held.</summary>
internal sealed class StoppedPairs
{
    private readonly DerivedFacts _facts;
    private readonly int _firstFact;
    private readonly Dictionary<int, int> _placeOf = [];
    private readonly List<int>[] _pairs;
    private readonly List<int>[] _stages;

    /// <summary>Makes an empty list for every stage and pair.</summary>
    /// <param name="facts">Where changes are noted.</param>
    /// <param name="stages">Setting ids of the stages.</param>
    /// <param name="pairs">How many pairs there are.</param>
    public StoppedPairs(DerivedFacts facts, IReadOnlyCollection<int> stages, int pairs)
    {
        _facts = facts;
        _firstFact = facts.Reserve(stages.Count);
        foreach (var stage in stages)
            _placeOf.Add(stage, _placeOf.Count);
        _pairs = [.. stages.Select(_ => new List<int>(pairs))];
        _stages = [.. Enumerable.Range(0, pairs).Select(_ => new List<int>())];
    }

    /// <summary>The number of the fact of what a stage stops.</summary>
    public int FactOf(int stage) => _firstFact + _placeOf[stage];

    /// <summary>The pairs a stage stops, rising.</summary>
    public IReadOnlyList<int> By(int stage) => _pairs[_placeOf[stage]];

    /// <summary>Takes in what stops a pair now.</summary>
    /// <param name="pair">The pair.</param>
    /// <param name="settings">Setting ids in any order, more than once or not; those that are no stage do not count. Used up.</param>
    public void Set(int pair, List<int> settings)
    {
        settings.Sort();
        var count = 0;
        for (var i = 0; i < settings.Count; i++)
        {
            if (_placeOf.TryGetValue(settings[i], out var place) && (count == 0 || settings[count - 1] != place))
                settings[count++] = place;
        }

        settings.RemoveRange(count, settings.Count - count);
        var stages = _stages[pair];
        foreach (var place in stages)
        {
            if (settings.BinarySearch(place) < 0)
                Change(place, pair, false);
        }

        foreach (var place in settings)
        {
            if (stages.BinarySearch(place) < 0)
                Change(place, pair, true);
        }

        stages.Clear();
        stages.AddRange(settings);
    }

    private void Change(int place, int pair, bool isStopped)
    {
        var at = _pairs[place].BinarySearch(pair);
        if (isStopped)
            _pairs[place].Insert(~at, pair);
        else
            _pairs[place].RemoveAt(at);
        _facts.Mark(_firstFact + place);
    }
}
