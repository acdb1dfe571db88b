using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Routing;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>
/// Loops through the air of one plan: what microphones do at loudspeakers, against the plan and against couplings. Tell it which settings
/// changed, then update; facts that changed are noted beside those of the signal flow.
/// </summary>
internal sealed class LoopFlow
{
    private readonly LoopViews _views;
    private readonly LoopGains _now;
    private readonly LoopGains _open;
    private readonly LoopGains _approved;
    private readonly PendingSet _waiting;
    private readonly bool[] _decides;
    private readonly bool[] _shapes;
    private readonly DerivedFacts _facts;

    /// <summary>Prepares a plan's loops; touch all and update before anything is asked.</summary>
    public LoopFlow(ShowPlan plan, RoutingMap map, DerivedFacts facts)
    {
        Plan = plan;
        IsApplicable = plan.Microphones.Count > 0 && plan.Loudspeakers.Count > 0;
        _facts = facts;
        _views = new LoopViews(plan, map);
        _now = new LoopGains(plan, map);
        _open = new LoopGains(plan, map);
        _approved = new LoopGains(plan, map);
        Hot = new HotLoops(plan, _views, _open, _approved, _facts);
        Coupled = new CoupledLoops(plan, _now, _open, _approved);
        References = new LoopReferences(plan);
        Tight = new TightLoops(Coupled, References, plan.Couplings.Count, _facts);
        Trials = new LoopTrials(_views, Coupled, _now, _open, new LoopGains(plan, map));
        OpenFact = _facts.Reserve(1);
        _waiting = new PendingSet(plan.Profile.Settings.Count);
        _decides = new bool[plan.Profile.Settings.Count];
        _shapes = new bool[plan.Profile.Settings.Count];
        if (!IsApplicable)
            return;
        foreach (var setting in _views.Settings)
            _decides[setting] = true;
        foreach (var setting in References.Settings)
            _shapes[setting] = true;
        // So that planned ways are there to be walked, and margins as planned to be told.
        var nothing = new DeskState(plan.Profile);
        foreach (var setting in _views.Settings)
            _views.Take(setting, nothing);
        Compute();
    }

    /// <summary>The plan.</summary>
    public ShowPlan Plan { get; }

    /// <summary>Whether there are microphones and loudspeakers at all.</summary>
    public bool IsApplicable { get; }

    /// <summary>What is hotter than planned.</summary>
    public HotLoops Hot { get; }

    /// <summary>What has a coupling.</summary>
    public CoupledLoops Coupled { get; }

    /// <summary>Couplings that are short of margin.</summary>
    public TightLoops Tight { get; }

    /// <summary>How far couplings can be trusted.</summary>
    public LoopReferences References { get; }

    /// <summary>What would win back margin.</summary>
    public LoopTrials Trials { get; }

    /// <summary>Every setting that loops depend on.</summary>
    public IReadOnlyList<int> Settings => _views.Settings;

    /// <summary>The number of the fact that any loop changed: for how many microphones are open.</summary>
    public int OpenFact { get; }

    /// <summary>Notes that a setting has another value, or is fresh or no longer so.</summary>
    public void Touch(int setting)
    {
        if (_decides[setting] || _shapes[setting])
            _waiting.Add(setting);
    }

    /// <summary>Notes that every setting may have another value.</summary>
    public void TouchAll()
    {
        for (var setting = 0; setting < _decides.Length; setting++)
            Touch(setting);
    }

    /// <summary>Computes what the noted changes reach. Allocates nothing but for lists that outgrow what they ever held, and where the setup of a measured loop may have changed.</summary>
    /// <param name="state">The state.</param>
    /// <param name="day">The day where the show is, by which references expire; null when no day counts.</param>
    public void Update(DeskState state, DateOnly? day)
    {
        if (!IsApplicable)
            return;
        var (moved, reshaped) = (false, References.SetDay(day));
        foreach (var setting in _waiting.Take())
        {
            moved |= _decides[setting] && _views.Take(setting, state);
            reshaped |= _shapes[setting];
        }

        if (reshaped)
            References.Update(state);
        if (moved)
        {
            Compute();
            Hot.Update();
            _facts.Mark(OpenFact);
        }

        if (moved || reshaped)
            Tight.Update(_now.Microphones);
    }

    private void Compute()
    {
        _views.Update();
        _now.Read(_views.Now.Routing.Graph);
        _open.Read(_views.Open.Routing.Graph);
        _approved.Read(_views.Approved.Routing.Graph);
        Coupled.Update();
    }

    /// <summary>Microphones that are open at a loudspeaker now, loudest first.</summary>
    public IEnumerable<int> OpenAt(int loudspeaker) => Enumerable.Range(0, _now.Microphones).Where(microphone => _now.Total(microphone, loudspeaker) > 0)
        .OrderByDescending(microphone => _now.Total(microphone, loudspeaker)).ThenBy(microphone => microphone);

    /// <summary>The settings on the planned ways of a coupling: what must be seen to tell its margin. Empty when the plan makes no way.</summary>
    public int[] SettingsOf(int line)
    {
        var ends = _open.EndsOf(Coupled.MicrophoneOf(line), Plan.Couplings[line].Loudspeaker);
        var (finder, stages) = (new WayFinder(_views.Approved.Routing), new StageReader(_views.Approved.Routing, _views.Approved.State));
        var ways = ends.Nodes.SelectMany(node => finder.Find(node, ends.Columns, stages)).ToList();
        var found = new SortedSet<int>(ways.SelectMany(way => way.Steps).SelectMany(step => step.Stages).Select(stage => stage.Setting).Where(setting => setting >= 0));
        return [.. found];
    }
}
