using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Reports;

/// <summary>Which feeds a strip is heard in, by the routes the plan wants. A tally for reports, not signal flow: levels do not count.</summary>
internal sealed class PlannedReach
{
    private readonly ShowPlan _plan;
    private readonly Dictionary<string, List<string>> _next = new(StringComparer.Ordinal);
    private readonly Dictionary<string, HashSet<Feed>> _known = new(StringComparer.Ordinal);

    public PlannedReach(ShowPlan plan)
    {
        _plan = plan;
        Feeds = [.. plan.Feeds.Where(feed => feed.Purpose is not (Purpose.Parallel or Purpose.Effects or Purpose.Group))];
        foreach (var expectation in plan.Expectations)
            AddRoute(plan.Profile.Settings[expectation.Setting], expectation.Planned);
        foreach (var strip in plan.Strips)
        {
            if (strip.Socket is not null)
                Add(strip.Socket, strip.Strip.Path);
        }

        foreach (var effect in plan.Document.Effects)
        {
            if (effect.Return is not null)
                Add(effect.Send.Text.Replace(' ', '/'), effect.Return.Text.Replace(' ', '/'));
        }
    }

    /// <summary>The feeds that leave the desk, in the order of the plan.</summary>
    public IReadOnlyList<Feed> Feeds { get; }

    /// <summary>Feeds in which a strip such as <c>input/12</c>, <c>socket/stage-7</c> or <c>mix/3</c> is planned to be heard.</summary>
    public IReadOnlySet<Feed> FeedsOf(string strip)
    {
        if (_known.TryGetValue(strip, out var found))
            return found;
        found = [];
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var open = new Stack<string>([strip]);
        while (open.TryPop(out var path))
        {
            if (!seen.Add(path))
                continue;
            found.UnionWith(Feeds.Where(feed => feed.Buses.Contains(path, StringComparer.Ordinal) || feed.Outputs.Contains(path, StringComparer.Ordinal)));
            foreach (var next in _next.GetValueOrDefault(path) ?? [])
                open.Push(next);
        }

        return _known[strip] = found;
    }

    /// <summary>Feeds in which a wrong or unknown value of a setting could be heard at once.</summary>
    public IReadOnlySet<Feed> HeardAt(string path)
    {
        var id = _plan.Profile.Find(path);
        if (id < 0)
            return new HashSet<Feed>();
        var setting = _plan.Profile.Settings[id];
        if (setting.Kind.Class is SettingClass.Labels or SettingClass.Surface || (setting.Kind.Class == SettingClass.Grouping && setting.Kind.Suffix != "linked"))
            return new HashSet<Feed>();
        if (EdgePaths.BusOf(setting) is { } bus)
            return FeedsOf(bus);
        if (path.IndexOf("/send/", StringComparison.Ordinal) is >= 0 and var send)
        {
            var rest = path.AsSpan(send + "/send/".Length);
            return FeedsOf(rest[..rest.LastIndexOf('/')].TrimEnd('/').ToString());
        }

        if (setting.Kind.Suffix == "talk/#/on")
            return FeedsOf(TalkOf(setting));
        return setting.Kind.StripKind == "desk" ? new HashSet<Feed>(Feeds) : FeedsOf(_plan.Profile.Strips[setting.Strip].Path);
    }

    private void AddRoute(Setting setting, SettingValue planned)
    {
        var strip = _plan.Profile.Strips[setting.Strip];
        if (strip.Kind == "desk")
        {
            if (EdgePaths.BusOf(setting) is { } talkBus && planned.IsOn)
                Add(TalkOf(setting), talkBus);
            return;
        }

        if (EdgePaths.BusOf(setting) is { } bus)
        {
            if (planned.IsOn)
                Add(strip.Path, bus);
        }
        else if (setting.Kind.Suffix == "direct-out")
            Add(strip.Path, $"output/{_plan.Profile.Format(planned).Replace(' ', '-')}");
        else if (setting.Kind.Suffix is "dca/#" or "mute-group/#")
        {
            if (planned.IsOn)
                Add(setting.Path[(strip.Path.Length + 1)..], strip.Path);
        }
        else if (setting.Kind.Suffix == "send/<bus>/#/level" && planned.Kind == ValueKind.Level && !double.IsNegativeInfinity(planned.Number))
        {
            var send = setting.Path[..^"/level".Length];
            if (_plan.Profile.Find(send + "/on") < 0)
                Add(strip.Path, send[(send.IndexOf("/send/", StringComparison.Ordinal) + "/send/".Length)..]);
        }
    }

    private static string TalkOf(Setting setting) => string.Join('/', setting.Path.Split('/').Skip(1).Take(2));

    private void Add(string from, string to)
    {
        if (!_next.TryGetValue(from, out var list))
            _next[from] = list = [];
        list.Add(to);
    }
}
