using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Plans;

/// <summary>Compiles strips that carry sources: inputs, groups and effect returns, with their roles and the closed world.</summary>
internal sealed class StripCompiler
{
    private readonly PlanDocument _document;
    private readonly DeskProfile _profile;
    private readonly PlanNames _names;
    private readonly StatementTable _table;
    private readonly DiagnosticBag _diagnostics;
    private readonly Dictionary<string, RoleLine> _roles = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ScalarNode> _taps = new(StringComparer.Ordinal);
    private readonly List<(string Path, Origin At, StripKeys Keys, int Index, int Width)> _listed = [];
    private readonly List<PlannedStrip> _planned = [];
    private readonly List<Strip> _parked = [];

    // One line covers many strips: its fault is told once.
    private readonly HashSet<Origin> _reported = [];

    public StripCompiler(PlanDocument document, DeskProfile profile, PlanNames names, StatementTable table, DiagnosticBag diagnostics)
    {
        _document = document;
        _profile = profile;
        _names = names;
        _table = table;
        _diagnostics = diagnostics;
        foreach (var role in document.Roles)
            _roles[role.Key.Text] = role;
    }

    public IReadOnlyList<PlannedStrip> Planned => _planned;

    /// <summary>Inputs that must be shut and go nowhere.</summary>
    public IReadOnlyList<Strip> Parked => _parked;

    /// <summary>Sends into a bus are taken at a tap.</summary>
    public void AddTap(string bus, ScalarNode tap) => _taps[bus] = tap;

    /// <summary>A group or effect return that the plan lists; compiled with the inputs, when every name is known.</summary>
    public void AddListed(string path, Origin at, StripKeys keys, int index, int width) => _listed.Add((path, at, keys, index, width));

    public void Compile()
    {
        var claims = new Dictionary<int, List<(StripLine Line, int Index)>>();
        foreach (var line in _document.Inputs)
            Claim(line, claims);
        foreach (var (number, lines) in claims.OrderBy(item => item.Key))
            CompileInput(number, lines);
        CheckAlternatives();
        if (_document.Parked is { } parked)
            Park(parked, [.. claims.Keys]);
        foreach (var (path, at, keys, index, width) in _listed)
        {
            if (_profile.FindStrip(path) is not { } strip)
            {
                _diagnostics.Add(PlanCodes.NoSuchStrip, at, $"the profile of {_profile.Desk} has no strip '{path}'", "check its number, or map it in the profile");
                continue;
            }

            Close(strip, at, null);
            SayStrip(path, keys, index, width, Ranks.Narrowed(Ranks.Strip, width), Ranks.Narrowed(Ranks.StripFeed, width), null);
            var name = keys.Name is null ? path : NameTemplate.Expand(keys.Name.Text, index, strip.Number, keys.IsStereo || width == 2);
            _planned.Add(new PlannedStrip(strip, name, "", false, Privacy.None, null, at));
        }
    }

    private void Park(ScalarNode parked, HashSet<int> named)
    {
        var count = _profile.Counts.Strips("input");
        int[] numbers;
        if (parked.Text == "rest")
            numbers = [.. Enumerable.Range(1, count).Where(number => !named.Contains(number))];
        else if (!NumberSet.TryParse(parked.Text, out numbers))
        {
            _diagnostics.Add(DocumentCodes.BadValue, parked.At, $"'{parked.Text}' is not a set of inputs", "write rest, or numbers such as 45-48", NearestWord.Among(parked.Text, ["rest"]));
            return;
        }

        foreach (var number in numbers)
        {
            if (named.Contains(number))
                _diagnostics.Add(PlanCodes.Conflict, parked.At, $"input {number} is parked here but has a line under inputs", "keep one of the two");
            else if (_profile.FindStrip($"input/{number}") is { } strip)
                Park(strip, parked);
            else
                _diagnostics.Add(PlanCodes.NoSuchStrip, parked.At, $"{_profile.Desk} has {count} inputs, so there is no input {number}", null);
        }
    }

    // Shut in every phase: nobody opens a channel that carries nothing.
    private void Park(Strip strip, ScalarNode parked)
    {
        _parked.Add(strip);
        foreach (var id in _profile.SettingsOf(strip.Id))
        {
            switch (_profile.Settings[id].Kind.Suffix)
            {
                case "on":
                    _table.SayById(id, on: false, parked.At, Ranks.Phase);
                    break;
                case "assign/<bus>/#" or "send/<bus>/#/on":
                    _table.SayById(id, on: false, parked.At, Ranks.ShowDefault);
                    break;
            }
        }
    }

    /// <summary>Says everything that a role or strip line says about one strip.</summary>
    /// <param name="path">The strip.</param>
    /// <param name="keys">The line.</param>
    /// <param name="index">The strip's position in the line, from 0.</param>
    /// <param name="width">How many strips the line covers.</param>
    /// <param name="rank">Weight of the line.</param>
    /// <param name="feedRank">Weight of its <c>to</c>.</param>
    /// <param name="socket">The socket it is planned on, or null.</param>
    public void SayStrip(string path, StripKeys keys, int index, int width, int rank, int feedRank, string? socket)
    {
        if (keys.To.Count + keys.Dcas.Count + keys.MuteGroups.Count is > 0 and var names)
            _table.Limit.Spend(names, (keys.To.Count > 0 ? keys.To[0].Name : keys.Dcas.Count > 0 ? keys.Dcas[0] : keys.MuteGroups[0]).At);
        var number = int.Parse(path.AsSpan(path.IndexOf('/', StringComparison.Ordinal) + 1), provider: null);
        if (keys.Name is { } name)
            _table.Say($"{path}/name", name, NameTemplate.Expand(name.Text, index, number, keys.IsStereo || width == 2), rank);
        if (keys.Stereo is { } stereo && _profile.Find($"{path}/linked") >= 0)
            _table.Say($"{path}/linked", keys.IsStereo, stereo.At, rank);
        foreach (var dca in keys.Dcas)
        {
            if (_names.Dca(dca) is > 0 and var dcaNumber)
                _table.Say($"{path}/dca/{dcaNumber}", true, dca.At, rank);
        }

        foreach (var muteGroup in keys.MuteGroups)
        {
            if (_names.MuteGroup(muteGroup) is > 0 and var groupNumber)
                _table.Say($"{path}/mute-group/{groupNumber}", true, muteGroup.At, rank);
        }

        foreach (var (slot, unit) in keys.Inserts)
        {
            _table.Say($"{path}/insert/{slot}", unit, unit.Text, rank);
            if (unit.Text != "none" && _profile.Find($"{path}/insert/{slot}/in") is >= 0 and var inId)
                _table.SayById(inId, on: true, unit.At, rank);
        }

        foreach (var (key, node) in keys.Values)
        {
            var value = (ScalarNode)node;
            var suffix = StripKeysReader.SuffixOf(key.Text);
            if (!StripKeysReader.IsPreamp(key.Text))
                _table.Say($"{path}/{suffix}", value, value.Text, rank);
            else if (socket is not null)
                _table.Say($"{socket}/{suffix}", value, value.Text, rank);
        }

        foreach (var (target, value) in keys.To)
        {
            var buses = _names.Buses(target, out _, out var narrowed);
            foreach (var bus in buses)
                SaySend(path, bus, target, value, feedRank + (narrowed ? 1 : 0));
        }
    }

    /// <summary>Says that one strip goes into one bus: an assign or a send, with its level where given.</summary>
    public void SaySend(string path, string bus, ScalarNode name, ScalarNode? value, int rank)
    {
        var at = value ?? name;
        var assign = $"{path}/assign/{bus}";
        var send = $"{path}/send/{bus}";
        var isSwitch = value is null || value.Text is "on" or "off";
        var on = value?.Text != "off";
        if (_profile.Find(assign) >= 0)
        {
            if (!isSwitch && _reported.Add(at.At))
                _diagnostics.Add(DocumentCodes.BadValue, at.At, $"{path} is assigned to {bus}, which is on or off, so '{value!.Text}' has no meaning", $"write {name.Text}: on");
            _table.Say(assign, on, at.At, rank);
            return;
        }

        _table.Say($"{send}/on", on, at.At, rank);
        if (!isSwitch)
            _table.Say($"{send}/level", value!, value!.Text, rank);
    }

    private void Claim(StripLine line, Dictionary<int, List<(StripLine, int)>> claims)
    {
        if (line.Keys.IsStereo && (line.Numbers.Count % 2 != 0 || line.Numbers.Where((number, i) => i % 2 == 0 ? number % 2 == 0 : number != line.Numbers[i - 1] + 1).Any()))
            _diagnostics.Add(PlanCodes.BrokenPair, line.Key.At, $"'{line.Key.Text}' is stereo, but a pair is an odd channel and the one after it", "write pairs such as 33-34");
        _table.Limit.Spend(line.Numbers.Count, line.Key.At);
        for (var i = 0; i < line.Numbers.Count; i++)
        {
            if (_profile.FindStrip($"input/{line.Numbers[i]}") is null)
            {
                _diagnostics.Add(PlanCodes.NoSuchStrip, line.Key.At, $"{_profile.Desk} has {_profile.Counts.Strips("input")} inputs, so there is no input {line.Numbers[i]}", null);
                return;
            }

            if (!claims.TryGetValue(line.Numbers[i], out var lines))
                claims.Add(line.Numbers[i], lines = []);
            lines.Add((line, i));
        }
    }

    private void CompileInput(int number, List<(StripLine Line, int Index)> lines)
    {
        var path = $"input/{number}";
        var strip = _profile.FindStrip(path)!;
        var narrow = lines.OrderBy(item => item.Line.Numbers.Count).ToList();
        var named = narrow.FirstOrDefault(item => item.Line.Keys.Name is not null);
        var name = named.Line is null ? path : NameTemplate.Expand(named.Line.Keys.Name!.Text, named.Index, number, named.Line.Keys.IsStereo || named.Line.Numbers.Count == 2);
        var socket = SayFrom(path, narrow);
        Close(strip, narrow[0].Line.Key.At, socket);
        var roleName = narrow.Select(item => item.Line.Keys.Role).FirstOrDefault(role => role is not null);
        RoleLine? role = null;
        if (roleName is not null && !_roles.TryGetValue(roleName.Text, out role))
            _names.Unknown(roleName, "role", _roles.Keys, "define it under roles");
        if (role is not null)
            SayStrip(path, role.Keys, 0, 1, Ranks.Role, Ranks.RoleFeed, socket);
        foreach (var (line, index) in lines)
            SayStrip(path, line.Keys, index, line.Numbers.Count, Ranks.Narrowed(Ranks.Strip, line.Numbers.Count), Ranks.Narrowed(Ranks.StripFeed, line.Numbers.Count), socket);
        _planned.Add(new PlannedStrip(strip, name, role?.Key.Text ?? "", role?.OpenMic ?? false, role?.Privacy ?? Privacy.None, socket, narrow[0].Line.Key.At)
        {
            OneOf = OneOf(narrow),
            Microphone = narrow.Find(item => item.Line.Keys.Microphone is not null).Line?.Keys.Microphone ?? role?.Keys.Microphone,
        });
    }

    // The narrowest line that says whether its strips stand for each other.
    private static string? OneOf(List<(StripLine Line, int Index)> narrow) =>
        narrow.Find(item => item.Line.Keys.OneOf is not null).Line is { Keys.OneOf.Text: "true" or "yes" or "on" } line ? line.Key.Text : null;

    // One alone stands for nobody: whoever writes this means another line's strip too, and would wait for the spare in vain.
    private void CheckAlternatives()
    {
        foreach (var line in _document.Inputs)
        {
            if (line.Keys.OneOf is { Text: "true" or "yes" or "on" } said && _planned.Count(strip => strip.OneOf == line.Key.Text) == 1)
                _diagnostics.Add(PlanCodes.OneOfAlone, said.At, $"any one of '{line.Key.Text}' will do, but that is a single input", "write the spares into one line, such as 31-32: { one-of: true }");
        }
    }

    private string? SayFrom(string path, List<(StripLine Line, int Index)> narrow)
    {
        var (line, index) = narrow.FirstOrDefault(item => item.Line.Keys.From is not null);
        if (line?.Keys.From is not { } from || from.Text == "none")
            return null;
        if (!NumberSet.TryParseWithWord(from.Text, out var bank, out var numbers))
        {
            _diagnostics.Add(DocumentCodes.BadValue, from.At, $"'{from.Text}' is not a socket", "write a bank and numbers, such as stage 1-17", NumberSet.Respell(from.Text, _profile.Counts.Banks("socket")));
            return null;
        }

        if (numbers.Length != line.Numbers.Count)
        {
            if (index == 0)
                _diagnostics.Add(PlanCodes.CountMismatch, from.At, $"'{line.Key.Text}' has {line.Numbers.Count} inputs but '{from.Text}' {numbers.Length} sockets", "make both ranges equally long");
            return null;
        }

        if (numbers[index] > _profile.Counts.Bank("socket", bank))
        {
            _diagnostics.Add(PlanCodes.NoSuchStrip, from.At, $"{_profile.Desk} has no socket '{bank} {numbers[index]}'",
                $"its sockets: {string.Join(", ", _profile.Counts.Banks("socket").Select(known => $"{known} 1-{_profile.Counts.Bank("socket", known)}"))}",
                Respelled(from.Text, "socket"));
            return null;
        }

        _table.Say($"{path}/source", from, $"{bank} {numbers[index]}", Ranks.Narrowed(Ranks.Strip, line.Numbers.Count));
        return $"socket/{bank}-{numbers[index]}";
    }

    private string? Respelled(string text, string kind) =>
        NumberSet.Respell(text, _profile.Counts.Banks(kind)) is { } near && near != text ? near : null;

    // Closed world: what nobody lists for this strip must be off, or none.
    private void Close(Strip strip, Origin at, string? socket)
    {
        foreach (var id in _profile.SettingsOf(strip.Id))
        {
            var setting = _profile.Settings[id];
            switch (setting.Kind.Suffix)
            {
                case "dca/#" or "mute-group/#" or "linked" or "automix" or "assign/<bus>/#" or "send/<bus>/#/on" or "source":
                    _table.SayById(setting.Id, on: false, at, Ranks.ShowDefault);
                    break;
                case "send/<bus>/#/tap":
                    var bus = setting.Path[(strip.Path.Length + "/send/".Length)..^"/tap".Length];
                    if (_taps.TryGetValue(bus, out var tap))
                        _table.SayById(id, tap, tap.Text, Ranks.Feed);
                    break;
            }
        }

        if (socket is not null && _profile.Find($"{socket}/phantom") is >= 0 and var phantom)
            _table.SayById(phantom, on: false, at, Ranks.ShowDefault);
    }
}
