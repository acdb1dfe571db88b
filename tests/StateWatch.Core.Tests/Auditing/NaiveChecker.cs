using System.Globalization;

namespace StateWatch.Core.Tests.Auditing;

/// <summary>
/// A second, naive reading of the plan language, as far as the shipped shows use it: a dictionary from setting path to the texts that are
/// allowed, filled in order of precedence by overwriting. It knows the desk only as a list of setting paths, and shares no code with the
/// compiler or the auditor.
/// </summary>
internal sealed class NaiveChecker
{
    private readonly Dictionary<string, HashSet<string>> _allowed = new(StringComparer.Ordinal);
    private readonly List<string> _parked = [];
    private readonly List<string> _openMics = [];
    private readonly HashSet<string> _publicBuses = new(StringComparer.Ordinal);
    private readonly List<string> _monoBuses = [];
    private readonly List<NaiveStrip> _strips = [];
    private readonly Dictionary<string, string> _said = new(StringComparer.Ordinal);
    private readonly List<string> _returns = [];
    private readonly Dictionary<string, string?> _sockets = new(StringComparer.Ordinal);
    private readonly HashSet<string> _publicOutputs = new(StringComparer.Ordinal);
    private readonly NaiveDesk _desk;
    private ILookup<string, (string Path, string To)>? _edges;
    private readonly HashSet<string> _paths;
    private readonly object _plan;
    private readonly Dictionary<string, List<string>> _busesOf = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _tapOf = new(StringComparer.Ordinal);

    public NaiveChecker(string planText, NaiveDesk desk, IEnumerable<string> settingPaths, string phase, string? cue = null)
    {
        _desk = desk;
        _paths = [.. settingPaths];
        _plan = NaiveYaml.Read(planText);
        CollectNames();
        SayDesk();
        SayNumberedNames("dcas", "dca");
        SayNumberedNames("mute-groups", "mute-group");
        foreach (var (numbers, task) in NaiveYaml.Map(NaiveYaml.Find(_plan, "keys")))
        {
            foreach (var number in Numbers(numbers))
                Must($"desk/key/{number}", (string)task);
        }

        SayFeeds();
        SayGroups();
        SayEffects();
        SayInputs();
        SayTalk();
        SaySettings(NaiveYaml.Find(_plan, "settings"));
        if (phase == "show")
            ForgetMutes();
        foreach (var path in NaiveYaml.Text(_plan, "parked") == "rest" ? _parked : [])
            Must(path, "off");
        SaySettings(NaiveYaml.Find(NaiveYaml.Find(NaiveYaml.Find(_plan, "phases"), phase), "settings"));
        if (cue is not null)
            SayCue(NaiveYaml.Find(NaiveYaml.Find(_plan, "cues"), cue)!);
    }

    /// <summary>What the cue says of open and closed, or null without a cue.</summary>
    public NaiveCue? Cue { get; private set; }

    /// <summary>The open microphones, as <c>input/15</c>.</summary>
    public IReadOnlyList<string> OpenMics => _openMics;

    /// <summary>The buses that the public hears, as <c>matrix/2</c>.</summary>
    public IReadOnlySet<string> PublicBuses => _publicBuses;

    /// <summary>The plan as plain YAML.</summary>
    public object Plan => _plan;

    /// <summary>What the plan says of a setting, as written; null when it says nothing.</summary>
    public string? Said(string path) => _said.GetValueOrDefault(path);

    /// <summary>The inputs of a role with their sockets, as <c>input/29</c> and <c>stage-29</c>.</summary>
    public IEnumerable<(string Strip, string Socket)> WithRole(string role) =>
        _strips.Where(strip => strip.Role == role && _sockets.GetValueOrDefault(strip.Path) is not null).Select(strip => (strip.Path, _sockets[strip.Path]!));

    /// <summary>The inputs of a role, as <c>input/29</c>.</summary>
    public IEnumerable<string> InRole(string role) => _strips.Where(strip => strip.Role == role).Select(strip => strip.Path);

    /// <summary>Assigns and sends that are planned on, by the strip they leave: their path and the bus they lead to.</summary>
    public ILookup<string, (string Path, string To)> Edges => _edges ??= _allowed.Where(pair => pair.Value.Contains("on")).Select(pair => (pair.Key, Parts: pair.Key.Split('/')))
        .Where(edge => edge.Parts is [_, _, "assign", _, _] or [_, _, "send", _, _, "on"])
        .ToLookup(edge => $"{edge.Parts[0]}/{edge.Parts[1]}", edge => (edge.Key, $"{edge.Parts[3]}/{edge.Parts[4]}"), StringComparer.Ordinal);

    /// <summary>The buses of a feed, as <c>matrix/2</c>.</summary>
    public IReadOnlyList<string> BusesOf(string feed) => _busesOf[feed];

    /// <summary>How many channels a unit has; one when the plan does not list it.</summary>
    public int ChannelsOf(string unit) => NaiveYaml.Text(NaiveYaml.Find(_plan, "units"), unit) is { } text ? int.Parse(text) : 1;

    /// <summary>The buses that carry one signal made of stereo sources.</summary>
    public IReadOnlyList<string> MonoBuses => _monoBuses;

    /// <summary>The outputs that the public hears, as <c>output/stage-1</c>.</summary>
    public IReadOnlySet<string> PublicOutputs => _publicOutputs;

    /// <summary>Every planned setting with the canonical texts it may have.</summary>
    public IReadOnlyDictionary<string, HashSet<string>> Allowed => _allowed;

    /// <summary>The planned settings of a desk that differ from the plan.</summary>
    public List<string> Differing(IReadOnlyDictionary<string, string> desk) =>
        [.. _allowed.Where(pair => !pair.Value.Contains(desk[pair.Key])).Select(pair => pair.Key)];

    private static int[] Numbers(string text)
    {
        var numbers = new List<int>();
        foreach (var part in text.Split(','))
        {
            var ends = part.Trim().Split('-');
            for (var number = int.Parse(ends[0]); number <= int.Parse(ends[^1]); number++)
                numbers.Add(number);
        }

        return [.. numbers];
    }

    // "mix 1-4" -> mix/1 …; "stage 1-2" with a dash -> stage-1 …
    private static List<string> Each(string text, char between)
    {
        var words = text.Split(' ');
        return [.. Numbers(words[1]).Select(number => $"{words[0]}{between}{number}")];
    }

    private static string Name(string template, int index) => template
        .Replace("{n}", (index + 1).ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal)
        .Replace("{side}", index % 2 == 0 ? "L" : "R", StringComparison.Ordinal);

    private void CollectNames()
    {
        foreach (var (key, feed) in NaiveYaml.Map(NaiveYaml.Find(_plan, "feeds")))
        {
            _busesOf[key] = Each(NaiveYaml.Text(feed, "bus")!, '/');
            if ((NaiveYaml.Text(feed, "purpose") ?? key) is "room" or "subs" or "front-fill" or "stream" or "overflow" or "hearing-loop" or "record")
            {
                _publicBuses.UnionWith(_busesOf[key]);
                _publicOutputs.UnionWith(NaiveYaml.Pairs(NaiveYaml.Find(feed, "out")).SelectMany(item => Each(item.Name, '-')).Select(output => $"output/{output}"));
            }

            if (NaiveYaml.Text(feed, "mono") == "true")
                _monoBuses.AddRange(_busesOf[key]);
            KeepTap(feed, _busesOf[key]);
        }

        foreach (var (_, effect) in NaiveYaml.Map(NaiveYaml.Find(_plan, "effects")))
        {
            var buses = Each(NaiveYaml.Text(effect, "send")!, '/');
            _busesOf[NaiveYaml.Text(effect, "name")!] = buses;
            KeepTap(effect, buses);
        }

        foreach (var (number, group) in NaiveYaml.Map(NaiveYaml.Find(_plan, "groups")))
            _busesOf[NaiveYaml.Text(group, "name")!] = [$"group/{number}"];
    }

    private void KeepTap(object line, List<string> buses)
    {
        foreach (var bus in buses)
        {
            if (NaiveYaml.Text(line, "tap") is { } tap)
                _tapOf[bus] = tap;
        }
    }

    private void SayDesk()
    {
        foreach (var path in (string[])["desk/oscillator", "desk/solo-in-place", "desk/external-mute"])
            Must(path, "off");
        Must("desk/clock-locked", "on");
        Must("desk/input-bank", "stage");
    }

    private void SayNumberedNames(string section, string kind)
    {
        foreach (var (number, name) in NaiveYaml.Map(NaiveYaml.Find(_plan, section)))
            Must($"{kind}/{number}/name", (string)name);
    }

    private void SayFeeds()
    {
        foreach (var (key, feed) in NaiveYaml.Map(NaiveYaml.Find(_plan, "feeds")))
        {
            var buses = _busesOf[key];
            for (var i = 0; i < buses.Count; i++)
            {
                Must($"{buses[i]}/name", Name(NaiveYaml.Text(feed, "name")!, i));
                if (NaiveYaml.Text(feed, "fader") is { } fader)
                    Must($"{buses[i]}/fader", fader);
                if (NaiveYaml.Text(feed, "stereo") == "true")
                    Must($"{buses[i]}/linked", "on");
            }

            // The room's one bus is stereo and leaves by two outputs; every other bus leaves by one.
            var signals = buses is ["main/1"] ? ["main 1 left", "main 1 right"] : buses.Select(bus => bus.Replace('/', ' ')).ToList();
            var outputs = NaiveYaml.Pairs(NaiveYaml.Find(feed, "out")).SelectMany(item => Each(item.Name, '-')).ToList();
            var delays = NaiveYaml.Pairs(NaiveYaml.Find(feed, "delay"));
            var limiters = NaiveYaml.Pairs(NaiveYaml.Find(feed, "limiter"));
            for (var i = 0; i < outputs.Count; i++)
            {
                Must($"output/{outputs[i]}/source", signals[i % signals.Count]);
                if (delays.Count > 0)
                    Must($"output/{outputs[i]}/delay", delays[i % delays.Count].Name);
                if (limiters.Count > 0)
                    Must($"output/{outputs[i]}/limiter/in", limiters[i % limiters.Count].Name == "in" ? "on" : "off");
            }

            var from = NaiveYaml.Pairs(NaiveYaml.Find(feed, "from"));
            if (from.Count == 0)
                continue;
            foreach (var path in _paths)
            {
                foreach (var bus in buses)
                {
                    if (path.EndsWith($"/send/{bus}/on", StringComparison.Ordinal))
                        Must(path, "off");
                }
            }

            foreach (var (name, value) in from)
            {
                foreach (var source in _busesOf[name])
                {
                    foreach (var bus in buses)
                        Send(source, bus, value);
                }
            }
        }
    }

    private void SayGroups()
    {
        foreach (var (number, group) in NaiveYaml.Map(NaiveYaml.Find(_plan, "groups")))
        {
            _strips.Add(new NaiveStrip($"group/{number}", NaiveYaml.Text(group, "name")!, "", "", null));
            Close($"group/{number}", null);
            SayKeys($"group/{number}", group, 0, null);
            SayTo($"group/{number}", group);
        }

        // A feed that takes from groups says more than what is closed here.
        SayFromAgain();
    }

    private void SayFromAgain()
    {
        foreach (var (key, feed) in NaiveYaml.Map(NaiveYaml.Find(_plan, "feeds")))
        {
            foreach (var (name, value) in NaiveYaml.Pairs(NaiveYaml.Find(feed, "from")))
            {
                foreach (var source in _busesOf[name])
                {
                    foreach (var bus in _busesOf[key])
                        Send(source, bus, value);
                }
            }
        }
    }

    private void SayEffects()
    {
        foreach (var (_, effect) in NaiveYaml.Map(NaiveYaml.Find(_plan, "effects")))
        {
            var strip = NaiveYaml.Text(effect, "return")!.Replace(' ', '/');
            _returns.Add(strip);
            _strips.Add(new NaiveStrip(strip, NaiveYaml.Text(effect, "name")!, "", "", null));
            Close(strip, null);
            SayKeys(strip, effect, 0, null);
            SayTo(strip, effect);
        }
    }

    private void SayInputs()
    {
        var lines = NaiveYaml.Map(NaiveYaml.Find(_plan, "inputs"));
        for (var input = 1; _paths.Contains($"input/{input}/on"); input++)
        {
            // Wide ranges first, so that narrow ones overwrite them.
            var mine = lines.Where(line => Numbers(line.Key).Contains(input)).OrderByDescending(line => Numbers(line.Key).Length).ToList();
            if (mine.Count == 0)
            {
                foreach (var path in _paths.Where(path => path.StartsWith($"input/{input}/assign/", StringComparison.Ordinal)
                    || (path.StartsWith($"input/{input}/send/", StringComparison.Ordinal) && path.EndsWith("/on", StringComparison.Ordinal))))
                    Must(path, "off");
                _parked.Add($"input/{input}/on");
                continue;
            }

            var strip = $"input/{input}";
            string? socket = null;
            string? role = null;
            var (name, stem, oneOf) = ("", "", default(string));
            foreach (var (numbers, line) in mine)
            {
                if (NaiveYaml.Text(line, "name") is { } template)
                    (name, stem) = (Name(template, Array.IndexOf(Numbers(numbers), input)), template.Contains('{', StringComparison.Ordinal) ? template[..template.IndexOf('{', StringComparison.Ordinal)].Trim() : "");
                if (NaiveYaml.Text(line, "one-of") == "true")
                    oneOf = numbers;
                role = NaiveYaml.Text(line, "role") ?? role;
                if (NaiveYaml.Text(line, "from") is { } from)
                    socket = Each(from, '-')[Array.IndexOf(Numbers(numbers), input)];
            }

            _strips.Add(new NaiveStrip(strip, name, role!, stem, oneOf));
            _sockets[strip] = socket;
            Close(strip, socket);
            if (socket is not null)
                Must($"{strip}/source", socket.Replace('-', ' '));
            var roleLine = NaiveYaml.Find(NaiveYaml.Find(_plan, "roles"), role!);
            SayKeys(strip, roleLine, 0, socket);
            if (socket is not null && NaiveYaml.Text(roleLine, "open-mic") == "true")
                _openMics.Add(strip);
            SayTo(strip, roleLine);
            foreach (var (numbers, line) in mine)
                SayKeys(strip, line, Array.IndexOf(Numbers(numbers), input), socket);
            foreach (var (_, line) in mine)
                SayTo(strip, line);
        }
    }

    private void Close(string strip, string? socket)
    {
        foreach (var path in _paths)
        {
            if (!path.StartsWith(strip + "/", StringComparison.Ordinal))
                continue;
            var rest = path[(strip.Length + 1)..].Split('/');
            if (rest[0] is "dca" or "mute-group" or "linked" or "automix" or "assign")
                Must(path, "off");
            else if (rest is ["source"])
                Must(path, "none");
            else if (rest is ["send", _, _, "on"])
                Must(path, "off");
            else if (rest is ["send", _, _, "tap"] && _tapOf.TryGetValue($"{rest[1]}/{rest[2]}", out var tap))
                Must(path, tap);
        }

        if (socket is not null && _paths.Contains($"socket/{socket}/phantom"))
            Must($"socket/{socket}/phantom", "off");
    }

    private void SayKeys(string strip, object? line, int index, string? socket)
    {
        foreach (var (key, value) in NaiveYaml.Map(line))
        {
            switch (key)
            {
                case "name": Must($"{strip}/name", Name((string)value, index)); break;
                case "stereo": Must($"{strip}/linked", "on"); break;
                case "dca": Must($"{strip}/dca/{NumberOf("dcas", (string)value)}", "on"); break;
                case "mute-groups":
                    foreach (var (name, _) in NaiveYaml.Pairs(value))
                        Must($"{strip}/mute-group/{NumberOf("mute-groups", name)}", "on");
                    break;
                case "insert":
                    Must($"{strip}/insert/1", (string)value);
                    Must($"{strip}/insert/1/in", "on");
                    break;
                case "fader" or "trim" or "polarity" or "low-cut" or "automix" or "colour" or "on" or "direct-out": Must($"{strip}/{key}", (string)value); break;
                case "eq" or "gate" or "comp": Must($"{strip}/{key}/on", (string)value); break;
                case "gain" or "phantom" or "pad": Must($"socket/{socket}/{key}", (string)value); break;
                case "role" or "from" or "to" or "open-mic" or "private" or "purpose" or "send" or "tap" or "return" or "only" or "never" or "must-carry" or "minus" or "one-of" or "pickup" or "microphone": break;
                default: throw new NotSupportedException($"the naive checker does not know '{key}'");
            }
        }
    }

    private string NumberOf(string section, string name) => NaiveYaml.Map(NaiveYaml.Find(_plan, section)).Single(pair => (string)pair.Value == name).Key;

    private void SayTo(string strip, object? line)
    {
        foreach (var (target, value) in NaiveYaml.Pairs(NaiveYaml.Find(line, "to")))
        {
            var name = target;
            int[]? only = null;
            if (!_busesOf.ContainsKey(name))
            {
                var blank = target.LastIndexOf(' ');
                name = target[..blank];
                only = Numbers(target[(blank + 1)..]);
            }

            for (var i = 0; i < _busesOf[name].Count; i++)
            {
                if (only is null || only.Contains(i + 1))
                    Send(strip, _busesOf[name][i], value);
            }
        }
    }

    private void Send(string strip, string bus, string value)
    {
        var assign = $"{strip}/assign/{bus}";
        if (_paths.Contains(assign))
        {
            Must(assign, value);
            return;
        }

        Must($"{strip}/send/{bus}/on", value == "off" ? "off" : "on");
        if (value is not ("on" or "off"))
            Must($"{strip}/send/{bus}/level", value);
    }

    private void SayTalk()
    {
        foreach (var (number, line) in NaiveYaml.Map(NaiveYaml.Find(_plan, "talk")))
        {
            foreach (var path in _paths.Where(path => path.StartsWith($"desk/talk/{number}/to/", StringComparison.Ordinal)))
                Must(path, "off");
            foreach (var (name, _) in NaiveYaml.Pairs(NaiveYaml.Find(line, "to")))
            {
                foreach (var bus in _busesOf[name])
                    Must($"desk/talk/{number}/to/{bus.Replace('/', '-')}", "on");
            }
        }
    }

    private void SaySettings(object? section)
    {
        foreach (var (text, value) in NaiveYaml.Map(section))
        {
            var paths = new List<string> { "" };
            foreach (var segment in text.Split('/'))
                paths = [.. paths.SelectMany(path => Spell(segment).Select(word => path.Length == 0 ? word : $"{path}/{word}"))];
            foreach (var path in paths)
                Must(path, (string)value);
        }
    }

    private static IEnumerable<string> Spell(string segment)
    {
        var lead = segment.StartsWith("stage-", StringComparison.Ordinal) ? "stage-" : "";
        var rest = segment[lead.Length..];
        return rest.All(character => char.IsAsciiDigit(character) || character == '-') ? Numbers(rest).Select(number => $"{lead}{number}") : [segment];
    }

    // Its inputs, then its settings, then what is open; what is closed or one of several is left to the rules.
    private void SayCue(object cue)
    {
        Cue = new NaiveCue(cue, _strips, _returns);
        foreach (var strip in Cue.Closed.Concat(Cue.Alternatives.SelectMany(set => set)))
            _allowed.Remove($"{strip}/on");
        foreach (var (numbers, line) in NaiveYaml.Map(NaiveYaml.Find(cue, "inputs")).OrderByDescending(line => Numbers(line.Key).Length))
        {
            foreach (var input in Numbers(numbers))
            {
                SayKeys($"input/{input}", line, Array.IndexOf(Numbers(numbers), input), _sockets[$"input/{input}"]);
                SayTo($"input/{input}", line);
            }
        }

        SaySettings(NaiveYaml.Find(cue, "settings"));
        foreach (var strip in Cue.Open)
            Must($"{strip}/on", "on");
    }

    private void ForgetMutes()
    {
        foreach (var path in _allowed.Keys.ToList())
        {
            if (path.Split('/') is [not "desk", _, "on" or "active"])
                _allowed.Remove(path);
        }
    }

    private void Must(string path, string value)
    {
        _said[path] = value;
        _allowed[path] = _paths.Contains(path)
            ? NaiveValues.Allowed(_desk, path, value, NaiveYaml.Find(_plan, "tolerance"))
            : throw new InvalidOperationException($"the desk has no '{path}'");
    }
}
