using StateWatch.Core.Acoustics;
using StateWatch.Core.Auditing.Flows;
using StateWatch.Core.Auditing.Margins;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Routing;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Capturing;

/// <summary>
/// One loop on a live desk, from a microphone's socket to a loudspeaker's outputs: what it does now, and what it would do with nothing muted.
/// Everything is read once; from then on only what lies on the ways between the two.
/// </summary>
public sealed class LoopWatch
{
    private readonly LoopViews.View _now;
    private readonly LoopViews.View _open;
    private readonly Dictionary<int, SettingValue> _unmuted = [];
    private readonly Dictionary<int, SettingValue> _noted = [];
    private readonly LoopEnds _ends;

    /// <summary>Prepares a loop; call <see cref="Take"/> before anything is asked.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="map">Its signal flow.</param>
    /// <param name="microphone">A planned input.</param>
    /// <param name="loudspeaker">One of <see cref="ShowPlan.Loudspeakers"/>.</param>
    public LoopWatch(ShowPlan plan, RoutingMap map, PlannedStrip microphone, Loudspeaker loudspeaker)
    {
        (Plan, Map, Microphone, Loudspeaker) = (plan, map, microphone, loudspeaker);
        Setup = LoopSetup.Of(plan, microphone, loudspeaker);
        Outputs = [.. LoopSetup.OutputsOf(plan.Profile, plan.Feeds[loudspeaker.Feed], loudspeaker.Position).Select(plan.Profile.FindStrip).OfType<Strip>()];
        (_now, _open) = (new LoopViews.View(map), new LoopViews.View(map));
        _ends = LoopEnds.Of(plan, map, microphone, loudspeaker);
        foreach (var (setting, open) in OpenMutes.Of(map))
            _unmuted[setting] = open;
        Meters = new LoopMeters(this);
        Everything = [.. _now.Routing.Inputs.Concat(Setup.Settings).Concat(LoopChecks.Settings(plan.Profile)).Concat(Meters.Settings).Distinct()];
    }

    /// <summary>The plan.</summary>
    public ShowPlan Plan { get; }

    /// <summary>Its signal flow.</summary>
    public RoutingMap Map { get; }

    /// <summary>The microphone.</summary>
    public PlannedStrip Microphone { get; }

    /// <summary>The loudspeaker.</summary>
    public Loudspeaker Loudspeaker { get; }

    /// <summary>The loudspeaker's outputs.</summary>
    public IReadOnlyList<Strip> Outputs { get; }

    /// <summary>What shapes the sound of the loop.</summary>
    public LoopSetup Setup { get; }

    /// <summary>The level meters at both ends.</summary>
    public LoopMeters Meters { get; }

    /// <summary>Settings to read once before <see cref="Take"/>.</summary>
    public IReadOnlyList<int> Everything { get; }

    /// <summary>Settings on the ways, muted or not, that the last <see cref="Take"/> found: to be read again and again.</summary>
    public IReadOnlyList<int> OnTheWay { get; private set; } = [];

    /// <summary>Strips on those ways, the microphone's first.</summary>
    public IReadOnlyList<int> StripsOnTheWay { get; private set; } = [];

    /// <summary>Settings that a way may depend on and that were not seen by the last <see cref="Take"/>.</summary>
    public IReadOnlyList<int> Unseen { get; private set; } = [];

    /// <summary>Fingerprint of the setup as it was noted; null when a part of it was not seen, or the desk tells nothing of it.</summary>
    public string? NotedSetup { get; private set; }

    /// <summary>Paths of what shapes the loop and is other than it was noted. Gates and compressors are bypassed on purpose.</summary>
    public IReadOnlyList<string> Moved =>
        [.. _noted.Where(item => _now.State[item.Key] != item.Value).Select(item => Plan.Profile.Settings[item.Key].Path).Order(StringComparer.Ordinal)];

    /// <summary>
    /// Gain from socket to loudspeaker as it is, in dB; -inf when nothing arrives. Of several outputs the loudest counts; ways of the same output add by power, as in
    /// margins: where they happen to add in phase, the loss that follows is too small, never too large.
    /// </summary>
    public double Gain => GainOf(_now);

    /// <summary>The same with nothing muted.</summary>
    public double Unmuted => GainOf(_open);

    /// <summary>The state as it was last read.</summary>
    internal DeskState State => _now.State;

    /// <summary>How far the loudspeaker's outputs are apart with nothing muted, in dB; 0 for one of them.</summary>
    internal double Lopsided
    {
        get
        {
            var levels = _ends.Columns.Select(column => At(_open, _ends.Nodes, column)).ToList();
            return levels.Count < 2 || levels.Max() == 0 ? 0 : levels.Min() == 0 ? double.PositiveInfinity : Decibels.OfFactor(levels.Max() / levels.Min());
        }
    }

    /// <summary>The gain of the show as the plan has it, in dB; -inf when the plan makes no way.</summary>
    public double PlannedGain()
    {
        var state = new DeskState(Plan.Profile);
        foreach (var setting in Plan.Profile.Settings)
            state.Apply(setting.Id, setting.Reset);
        foreach (var (setting, value) in PlannedState.Of(Plan))
            state.Apply(setting, value);
        var planned = new LoopWatch(Plan, Map, Microphone, Loudspeaker);
        planned.Take(state);
        return planned.Unmuted;
    }

    /// <summary>Takes a full reading.</summary>
    public void Take(DeskState state)
    {
        foreach (var id in Everything)
            Set(id, state);
        Update();
        var stages = new StageReader(_open.Routing, _open.State);
        var settings = new WaySettings(_open.Routing, _open.State, stages);
        var finder = new WayFinder(_open.Routing);
        var steps = _ends.Nodes.SelectMany(node => finder.Find(node, _ends.Columns, stages)).SelectMany(way => way.Steps).ToList();
        StripsOnTheWay = [.. steps.SelectMany(step => (int[])[step.From, Map.Edges[step.Edge].To]).Select(node => Map.Nodes[node].Strip).Where(strip => strip >= 0).Prepend(Microphone.Strip.Id).Distinct()];
        OnTheWay = [.. steps.SelectMany(step => settings.On(step.Edge)).Concat(steps.SelectMany(step => GroupsOf(step.From))).Distinct().Order()];
        Unseen = settings.Unseen(_ends.Nodes, _ends.Columns);
    }

    /// <summary>Notes the setup of the show, before gates and compressors are bypassed.</summary>
    public void NoteSetup()
    {
        NotedSetup = Setup.Fingerprint(_now.State);
        foreach (var id in Setup.Settings.Where(id => Plan.Profile.Settings[id].Kind.Suffix is not ("gate/on" or "gate/key" or "comp/on")))
            _noted[id] = _now.State[id];
    }

    /// <summary>Takes a reading of what lies on the ways.</summary>
    /// <param name="at">When it was read.</param>
    /// <param name="state">The reading.</param>
    /// <param name="end">How it ended.</param>
    public LoopSample Follow(TimeSpan at, DeskState state, ReadEnd end)
    {
        if (end is ReadEnd.Silent or ReadEnd.FellSilent)
            return new LoopSample(at, Gain, Unmuted, "The desk fell silent: mute at the amplifiers or by hand. Nobody can follow the gain.");
        if (end is ReadEnd.AnotherDesk)
            return new LoopSample(at, Gain, Unmuted, "Another desk answers now.");
        foreach (var id in OnTheWay)
        {
            if (!state.IsFresh(id))
                return new LoopSample(at, Gain, Unmuted, $"{Plan.Profile.Settings[id].Path} was not seen, and the gain depends on it.");
        }

        foreach (var id in OnTheWay)
            Set(id, state);
        Update();
        return new LoopSample(at, Gain, Unmuted);
    }

    /// <summary>The gain setting of the socket a strip draws from, or -1.</summary>
    internal int SocketGain(StripStages strip) => _now.Routing.SocketGainOf(strip, _now.State);

    /// <summary>Whether a strip's signal arrives at the loudspeaker now.</summary>
    internal bool IsOpen(StripStages strip) => _ends.Columns.Any(column => At(_now, strip.Nodes, column) > 0);

    /// <summary>The feeds, other than the loudspeaker, at which the microphone arrives when only what lies on the ways to the loudspeaker is unmuted.</summary>
    internal List<string> OpenBesides()
    {
        var view = new LoopViews.View(Map);
        foreach (var id in _now.Routing.Inputs)
            view.Set(id, OnTheWay.Contains(id) ? _open.State[id] : _now.State[id]);
        view.Update();
        var found = new List<string>();
        for (var feed = 0; feed < Plan.Feeds.Count; feed++)
        {
            if (Plan.Feeds[feed].Purpose is Purpose.Group or Purpose.Parallel or Purpose.Effects)
                continue;
            var others = Map.ColumnsOf(feed).Except(_ends.Columns).ToList();
            if (others.Exists(column => At(view, _ends.Nodes, column) > 0))
                found.Add(Plan.Feeds[feed].Key);
        }

        return found;
    }

    // Who joins a group that nobody joined before moves with it.
    private IEnumerable<int> GroupsOf(int node)
    {
        var strip = Map.Strips.FirstOrDefault(strip => strip.Nodes.Contains(node));
        return strip is null ? [] : strip.Dcas.SelectMany(group => (int[])[group.Member, group.On, group.Fader]).Concat(strip.MuteGroups.SelectMany(group => (int[])[group.Member, group.Active])).Where(id => id >= 0);
    }

    private double GainOf(LoopViews.View view) => Decibels.OfPower(_ends.GainIn(view.Routing.Graph).Power);

    private static double At(LoopViews.View view, int[] nodes, int column) => new LoopEnds(nodes, [column]).GainIn(view.Routing.Graph).Total;

    // An unseen mute stays unseen, so that a way that hangs on it is told.
    private void Set(int id, DeskState state)
    {
        _now.Set(id, state[id]);
        _open.Set(id, state.IsFresh(id) && _unmuted.TryGetValue(id, out var value) ? value : state[id]);
    }

    private void Update()
    {
        _now.Update();
        _open.Update();
    }
}
