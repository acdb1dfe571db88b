using StateWatch.Core.Auditing;
using StateWatch.Core.Plans;
using StateWatch.Core.Settings;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Services;

/// <summary>Two services of a day in virtual time: the crew does what people do, and every few seconds a sweep judges the show phase.</summary>
internal sealed class NormalService(ShowPlan doors, ShowPlan show, ulong seed, bool handsOn, bool plantFaults)
{
    private const double Length = 75 * 60;
    private const double Pause = 20 * 60;
    private readonly SortedDictionary<string, int> _alarms = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, int> _notices = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, int> _found = new(StringComparer.Ordinal);
    private readonly List<string> _missed = [];

    /// <summary>How many sweeps were judged.</summary>
    public int Sweeps { get; private set; }

    /// <summary>How often the crew did something.</summary>
    public int Moves { get; private set; }

    /// <summary>How many planned settings stood off plan, over all sweeps: what a naive comparison would have told.</summary>
    public long OffPlan { get; private set; }

    /// <summary>Sweeps in which the crew had pushed the lectern into a howl, and were told so.</summary>
    public int Howls { get; private set; }

    /// <summary>Sweeps in which anything above notice was told that nobody planted.</summary>
    public int FalseSweeps { get; private set; }

    /// <summary>What was told above notice that nobody planted: rule and how often.</summary>
    public IReadOnlyDictionary<string, int> FalseAlarms => _alarms;

    /// <summary>Notices, by rule.</summary>
    public IReadOnlyDictionary<string, int> Notices => _notices;

    /// <summary>Planted faults that the next sweep found, by rule.</summary>
    public IReadOnlyDictionary<string, int> Found => _found;

    /// <summary>Planted faults that the next sweep did not find.</summary>
    public IReadOnlyList<string> Missed => _missed;

    /// <summary>Runs both services.</summary>
    public NormalService Run()
    {
        var desk = new ServiceDesk(doors);
        var auditor = new Auditor(show);
        var crew = new Crew(desk, seed, ownSwitches: handsOn, alternates: Language.HasAlternates);
        var faults = new PlantedFaults(show);
        var numbers = new SeededNumbers(seed ^ 0x5EED);
        var kinds = new Queue<string>();
        for (var service = 0; service < 2; service++)
        {
            crew.Begin();
            var next = numbers.NextBelow(20);
            for (var second = 0; second < Length + Pause; second++)
            {
                crew.Step();
                crew.Step();
                if (second >= Length || second != next)
                    continue;
                // Sweeps at odd moments, so that fades are met in flight.
                next = second + 8 + numbers.NextBelow(9);
                PlantedFault? fault = null;
                if (plantFaults && numbers.Chance(0.3))
                {
                    if (kinds.Count == 0)
                        kinds = new Queue<string>(faults.Kinds.OrderBy(_ => numbers.Next()));
                    fault = faults.One(kinds.Dequeue(), numbers);
                }

                Sweep(desk, auditor, fault);
            }
        }

        Moves = crew.Moves;
        return this;
    }

    // Half a decibel about the limit is left to how the desk rounds its faders. Other microphones that are open in the same loop may cost it as
    // much as one more of its kind, 3 dB (10 lg 2).
    private void TakeTruth(ServiceDesk desk, List<Finding> loud, PlantedFault? fault)
    {
        if (show.Document.Couplings.Count == 0)
            return;
        var margin = LecternByHand.Margin(desk);
        // With another insert or limiter on the way the reference is stale, and makes no more than a notice in the show.
        var isStale = fault?.Changes.Any(change => show.Profile.Settings[show.Profile.Find(change.Path)].Kind.Class is SettingClass.Processing or SettingClass.Inserts) == true;
        if (margin < 2.5 && !isStale && !loud.Exists(item => item.Id == LecternByHand.Finding))
            _missed.Add($"sweep {Sweeps}: {LecternByHand.Finding}, at {margin:0.0} dB beside {fault?.Finding ?? "nothing"}");
        if (margin < 3.5 + 3)
            Howls += loud.RemoveAll(item => item.Id == LecternByHand.Finding);
    }

    private void Sweep(ServiceDesk desk, Auditor auditor, PlantedFault? fault)
    {
        var before = fault?.Changes.Select(change => (change.Path, Text: desk.Text(change.Path))).Reverse().ToList();
        foreach (var (path, text) in fault?.Changes ?? [])
            desk.SetAlone(path, text);
        // Musicians may have switched a send off where somebody turns its tap: then it harms nobody yet, and is told as what it is.
        var expected = fault?.Finding;
        if (fault is not null && fault.Finding.EndsWith("/tap", StringComparison.Ordinal) && fault.Changes[0].Path is var tap && desk.Has(tap[..^"tap".Length] + "on") && !desk.IsOn(tap[..^"tap".Length] + "on"))
            expected = $"drift:{tap}";
        var state = desk.Read();
        Sweeps++;
        OffPlan += show.Expectations.Count(item => !item.Allows(state[item.Setting]));
        var findings = auditor.Judge(state).Findings;
        var loud = findings.Where(item => item.Severity > Severity.Notice).ToList();
        TakeTruth(desk, loud, fault);
        foreach (var notice in findings.Where(item => item.Severity == Severity.Notice))
            _notices[notice.Rule.Id] = _notices.GetValueOrDefault(notice.Rule.Id) + 1;
        if (fault is not null)
        {
            if (loud.RemoveAll(item => item.Id == expected) == 1)
                _found[fault.Finding.Split(':')[0]] = _found.GetValueOrDefault(fault.Finding.Split(':')[0]) + 1;
            else
                _missed.Add($"sweep {Sweeps}: {fault.Finding}; told instead: {string.Join(", ", loud.Select(item => item.Id))}");
            // Somebody was just speaking on the circuit that was put into the room: that is true too.
            if (fault.Changes[0].Path.StartsWith("desk/talk/", StringComparison.Ordinal))
                loud.RemoveAll(item => item.Rule.Id == "talk-latched");
            foreach (var (path, text) in before!)
                desk.SetAlone(path, text);
        }

        FalseSweeps += loud.Count > 0 ? 1 : 0;
        foreach (var alarm in loud)
        {
            var key = fault is null ? alarm.Rule.Id : $"{alarm.Rule.Id} beside {fault.Finding.Split(':')[0]}";
            _alarms[key] = _alarms.GetValueOrDefault(key) + 1;
        }
    }
}
