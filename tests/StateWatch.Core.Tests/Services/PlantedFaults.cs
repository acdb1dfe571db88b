using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Services;

/// <summary>One fault that somebody makes in a service.</summary>
/// <param name="Finding">The id of the finding a sweep must give.</param>
/// <param name="Changes">What is changed.</param>
internal sealed record PlantedFault(string Finding, IReadOnlyList<(string Path, string Text)> Changes);

/// <summary>Makes real faults of many kinds at strips that a plan has; here the plan is the oracle.</summary>
internal sealed class PlantedFaults
{
    private readonly ShowPlan _plan;
    private readonly string _freeSocket;
    private readonly Dictionary<string, List<PlantedFault>> _byKind = new(StringComparer.Ordinal);

    public PlantedFaults(ShowPlan plan)
    {
        _plan = plan;
        var used = plan.Expectations.Where(item => item.Planned.Kind == ValueKind.Point).Select(item => plan.Profile.Format(item.Planned)).ToHashSet(StringComparer.Ordinal);
        _freeSocket = Enumerable.Range(1, plan.Profile.Counts.Bank("socket", "stage")).Reverse().Select(number => $"stage {number}").First(socket => !used.Contains(socket));
        foreach (var expectation in plan.Expectations)
            Consider(plan.Profile.Settings[expectation.Setting], expectation);
        foreach (var (path, word, rule) in ((string, string, string)[])[("desk/oscillator", "on", "oscillator-on"), ("desk/solo-in-place", "on", "solo-in-place-armed"), ("desk/external-mute", "on", "external-mute-on"), ("desk/clock-locked", "off", "clock-unlocked"), ("desk/input-bank", "recorder", "playback-as-inputs"), ("desk/talk/1/to/main-1", "on", "talkback-public")])
            Add(rule, path, word);
        foreach (var strip in plan.Strips)
            ConsiderStrip(strip);
        foreach (var parked in plan.Parked)
            Add("parked-open", [($"{parked.Path}/assign/main/1", "on"), ($"{parked.Path}/on", "on")], $"{parked.Path}/on");
        foreach (var (feed, stream) in plan.Feeds.Where(feed => feed.Purpose == Purpose.Stream).SelectMany(feed => feed.Buses.Select(bus => (feed, bus))))
            Add(plan.Independent.Any(pair => pair.Feed == feed) ? "feed-depends" : "stream-follows-room", [($"main/1/send/{stream}/level", "0 dB"), ($"main/1/send/{stream}/on", "on")], $"main/1/send/{stream}/on");
    }

    public IEnumerable<string> Kinds => _byKind.Keys;

    public PlantedFault One(string kind, SeededNumbers numbers) => _byKind[kind][numbers.NextBelow(_byKind[kind].Count)];

    private void Consider(Setting setting, Expectation expectation)
    {
        var strip = _plan.Profile.Strips[setting.Strip];
        var path = setting.Path;
        var on = expectation.Planned.Kind == ValueKind.Switch && expectation.Planned.IsOn;
        var planned = _plan.Profile.Format(expectation.Planned);
        // Of a linked pair one side alone tells a second story; that is another fault.
        var alone = _plan.For(_plan.Profile.Find($"{strip.Path}/linked")) is not { Planned.IsOn: true };
        switch (setting.Kind.Suffix)
        {
            case "mute-group/#" when on && strip.Kind == "input": Add("mute-group-member-missing", path, "off"); break;
            case "mute-group/#" when strip.Kind == "input": Add("mute-group-member-unplanned", path, "on"); break;
            case "dca/#" when on && strip.Kind == "input" && !IsOpenMic(strip): Add("dca-member-missing", path, "off"); break;
            case "dca/#" when on && IsOpenMic(strip): Add("open-mic-without-dca", path, "off"); break;
            case "dca/#" when !on && strip.Kind == "input": Add("dca-member-unplanned", path, "on"); break;
            case "limiter/in" when on: Add("limiter-out", path, "off"); break;
            case "phantom" when on: Add("phantom-missing", path, "off"); break;
            case "phantom" when !on: Add("phantom-unexpected", path, "on"); break;
            case "low-cut" when on && alone && IsOpenMic(strip): Add("low-cut-off", path, "off"); break;
            case "insert/#" when planned != "none": Add("insert-missing", [(path, planned == "Polish" ? "Glue" : "Polish")], path); break;
            case "source" when strip.Kind == "input" && planned != "none" && alone: Add("source-missing", path, "none"); Add("source-wrong", path, _freeSocket); break;
            case "source" when strip.Kind == "output": Add("output-source-missing", path, "none"); break;
            case "automix" when on: Add("automix-member-missing", path, "off"); break;
            case "recall-safe" when on: Add("recall-would-undo", path, "off"); break;
            case "direct-out/tap": Add("direct-out-post-fader", path, "post-fader"); break;
            case "leg/#" or "box/#/leg/#": Add("stage-box-leg-down", path, "off"); break;
            case "send/<bus>/#/tap" when strip.Kind == "input" && _plan.For(_plan.Profile.Find(path[..^"tap".Length] + "on")) is { Planned.IsOn: true } && FeedOf(path) is { } feed:
                if (feed is Purpose.Monitor or Purpose.InEars)
                    Add("monitor-post-fader", path, "post-fader");
                else if (feed == Purpose.Effects)
                    Add("effects-pre-fader", path, "pre-fader");
                break;
        }
    }

    private void ConsiderStrip(PlannedStrip strip)
    {
        var path = strip.Strip.Path;
        if (strip.Privacy == Privacy.Click)
            Add("click-public", $"{path}/assign/main/1", "on");
        if (strip.Privacy == Privacy.Talk)
            Add("talkback-public", $"{path}/assign/main/1", "on");
        if (!strip.OpenMic)
            return;
        foreach (var subs in _plan.Feeds.Where(feed => feed.Purpose == Purpose.Subs).SelectMany(feed => feed.Buses))
            Add("subs-on-open-mic", [($"{path}/send/{subs}/level", "-5 dB"), ($"{path}/send/{subs}/on", "on")], $"{path}/send/{subs}/on");
    }

    private bool IsOpenMic(Strip strip) => _plan.Strips.Any(item => item.Strip == strip && item.OpenMic);

    private Purpose? FeedOf(string sendPath)
    {
        var bus = string.Join('/', sendPath.Split('/')[3..5]);
        return _plan.Feeds.FirstOrDefault(feed => feed.Buses.Contains(bus))?.Purpose;
    }

    private void Add(string rule, string path, string text) => Add(rule, [(path, text)], path);

    private void Add(string rule, IReadOnlyList<(string Path, string Text)> changes, string subject)
    {
        if (changes.Any(change => _plan.Profile.Find(change.Path) < 0))
            return;
        if (!_byKind.TryGetValue(rule, out var faults))
            _byKind.Add(rule, faults = []);
        faults.Add(new PlantedFault($"{rule}:{subject}", changes));
    }
}
