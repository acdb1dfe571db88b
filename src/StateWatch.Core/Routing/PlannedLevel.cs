using StateWatch.Core.Acoustics;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Routing;

/// <summary>
/// The level of one input at some buses, by the ways the plan makes and nothing else: the power sum over ways of all gains on each. Compared
/// with the same sum of the planned values. Mutes do not count: they are no level, and move all the time.
/// </summary>
internal sealed class PlannedLevel
{
    // More ways than anybody plans; they could double with every bus.
    private const int MostWays = 64;

    private readonly List<Term> _terms = [];
    private readonly List<int> _ends = [];
    private readonly SortedSet<string> _missing = new(StringComparer.Ordinal);
    private readonly double _planned;

    /// <summary>Finds the ways of an input to some buses.</summary>
    public PlannedLevel(ShowPlan plan, PlannedRoutes routes, PlannedStrip strip, IReadOnlyList<string> buses)
    {
        Walk(plan, routes, strip, strip.Strip.Path, buses, []);
        if (_missing.Count > 0)
            return;
        _planned = Power(new PlannedValues(plan));
        if (_planned <= 0)
            _missing.Add(_ends.Count == 0 ? "a way there" : "a level above -inf");
    }

    /// <summary>What keeps it from being compared: paths of stages without a planned value, or words; empty when it can be.</summary>
    public IReadOnlyCollection<string> Missing => _missing;

    /// <summary>Settings it depends on.</summary>
    public IEnumerable<int> Settings => _terms.SelectMany(term => new[] { term.Switch, term.Level }).Where(id => id >= 0).Distinct();

    /// <summary>How far the live level lies above the planned one, in dB; -inf when nothing arrives. Allocates nothing.</summary>
    public double Moved(DeskState state) => Decibels.OfPower(Power(new LiveValues(state)) / _planned);

    private double Power<T>(T values)
        where T : struct, IValues
    {
        var power = 0.0;
        var at = 0;
        foreach (var end in _ends)
        {
            var level = 0.0;
            for (; at < end; at++)
            {
                var term = _terms[at];
                if (term.Switch >= 0 && !values.Of(term.Switch).IsOn)
                    level += term.Closes ? double.NegativeInfinity : 0;
                else if (term.Level >= 0)
                    level += values.Of(term.Level).Number;
            }

            power += double.IsNegativeInfinity(level) ? 0 : Math.Pow(10, level / 10);
        }

        return power;
    }

    private void Walk(ShowPlan plan, PlannedRoutes routes, PlannedStrip strip, string at, IReadOnlyList<string> buses, List<(string From, string To, Expectation Edge)> way)
    {
        if (buses.Contains(at))
        {
            AddWay(plan, strip, way);
            return;
        }

        foreach (var (bus, edge) in routes.EdgesFrom(at))
        {
            if (_ends.Count >= MostWays || bus == strip.Strip.Path || way.Any(step => step.From == bus))
                continue;
            way.Add((at, bus, edge));
            Walk(plan, routes, strip, bus, buses, way);
            way.RemoveAt(way.Count - 1);
        }
    }

    private void AddWay(ShowPlan plan, PlannedStrip strip, List<(string From, string To, Expectation Edge)> way)
    {
        if (strip.Socket is not null)
            AddLevel(plan, -1, $"{strip.Socket}/gain");
        AddLevel(plan, -1, $"{strip.Strip.Path}/trim");
        foreach (var (from, _, edge) in way)
        {
            var setting = plan.Profile.Settings[edge.Setting];
            if (IsAfterFader(plan, setting))
                AddFader(plan, from);
            var level = EdgePaths.LevelOf(plan.Profile, setting);
            _terms.Add(new Term(edge.Setting, level, Closes: true));
            Need(plan, level);
        }

        AddFader(plan, way[^1].To);
        _ends.Add(_terms.Count);
    }

    // An assign leaves after the fader. A send whose tap nobody plans could leave anywhere; one whose tap the profile does not map is taken after the fader.
    private bool IsAfterFader(ShowPlan plan, Setting edge)
    {
        if (edge.Kind.Suffix != "send/<bus>/#/on" || plan.Profile.Find(edge.Path[..^"on".Length] + "tap") is not (>= 0 and var tap))
            return true;
        Need(plan, tap);
        return plan.For(tap) is { } planned && plan.Profile.Format(planned.Planned) is "post-fader" or "post-pan";
    }

    private void AddFader(ShowPlan plan, string strip)
    {
        AddLevel(plan, -1, $"{strip}/fader");
        for (var number = 1; number <= plan.Profile.Counts.Strips("dca"); number++)
        {
            if (plan.For(plan.Profile.Find($"{strip}/dca/{number}")) is { Planned.IsOn: true } member)
                AddLevel(plan, member.Setting, $"dca/{number}/fader");
        }
    }

    private void AddLevel(ShowPlan plan, int member, string path)
    {
        var id = plan.Profile.Find(path);
        if (id < 0)
            return;
        _terms.Add(new Term(member, id, Closes: false));
        Need(plan, id);
    }

    private void Need(ShowPlan plan, int setting)
    {
        if (setting >= 0 && plan.For(setting) is null)
            _missing.Add(plan.Profile.Settings[setting].Path);
    }

    private interface IValues
    {
        SettingValue Of(int setting);
    }

    private readonly struct PlannedValues(ShowPlan plan) : IValues
    {
        public SettingValue Of(int setting) => plan.For(setting)!.Planned;
    }

    private readonly struct LiveValues(DeskState state) : IValues
    {
        public SettingValue Of(int setting) => state[setting];
    }

    // A level, and the switch it hangs on: off, the way is closed or the level does not act.
    private readonly record struct Term(int Switch, int Level, bool Closes);
}
