using StateWatch.Core.Profiles;

namespace StateWatch.Core.Desks;

/// <summary>What is read and asked in rounds, as endpoints.</summary>
internal sealed class WantedEndpoints
{
    private readonly DeskProfile _profile;
    private bool[] _has;

    /// <summary>Begins with what some settings need.</summary>
    public WantedEndpoints(DeskProfile profile, IEnumerable<int> settings)
    {
        _profile = profile;
        _has = new bool[profile.Endpoints.Count];
        Replace(settings);
    }

    /// <summary>All of them, in the order of the settings.</summary>
    public int[] All { get; private set; } = [];

    /// <summary>Those that were not there before the last change.</summary>
    public IReadOnlyList<int> Added { get; private set; } = [];

    /// <summary>Whether one is wanted.</summary>
    public bool Has(int endpoint) => _has[endpoint];

    /// <summary>Wants what other settings need.</summary>
    public void Replace(IEnumerable<int> settings)
    {
        var before = _has;
        All = [.. settings.Select(setting => _profile.Settings[setting].Endpoint).Distinct()];
        _has = new bool[before.Length];
        foreach (var endpoint in All)
            _has[endpoint] = true;
        Added = [.. All.Where(endpoint => !before[endpoint])];
    }
}
