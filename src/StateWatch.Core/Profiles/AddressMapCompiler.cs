using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles;

/// <summary>
/// Compiles the <c>settings:</c> of a profile by enumeration: every (address, argument, bit) is written out and given its
/// setting. Two lines that claim the same place collide here, with both places named.
/// </summary>
internal sealed class AddressMapCompiler(TextPool texts, StripCounts counts, Dictionary<string, (Codec Codec, Origin At)> codecs, HashSet<string> faultyCodecs, DiagnosticBag diagnostics)
{
    public const int MostSettings = 100_000;

    private readonly List<Setting> _settings = new(8192);
    private readonly List<int> _stripOfSetting = new(8192);
    private readonly List<Strip> _strips = [];
    private readonly Dictionary<byte[], int> _endpointByAddress = new(2048, OscAddressComparer.Instance);
    private Dictionary<byte[], int>.AlternateLookup<ReadOnlySpan<byte>> _endpointLookup;
    private Dictionary<string, Strip>.AlternateLookup<ReadOnlySpan<char>> _stripLookup;
    private readonly List<EndpointParts> _endpoints = new(2048);
    private readonly HashSet<string> _usedCodecs = new(StringComparer.Ordinal);

    // Membership bits are plain: 1 is a member.
    private readonly SwitchCodec _bitCodec = new("bit", WireKind.Int, 0, 1, texts);

    public IReadOnlyList<Setting> Settings => _settings;

    /// <summary>Setting path to id.</summary>
    public Dictionary<string, int> SettingByPath { get; } = new(8192, StringComparer.Ordinal);

    /// <summary>Strip path to strip.</summary>
    public Dictionary<string, Strip> StripByPath { get; } = new(StringComparer.Ordinal);

    public IReadOnlyList<Strip> Strips => _strips;

    public void Compile(MapNode? map)
    {
        _endpointLookup = _endpointByAddress.GetAlternateLookup<ReadOnlySpan<byte>>();
        _stripLookup = StripByPath.GetAlternateLookup<ReadOnlySpan<char>>();
        foreach (var (key, value) in map?.Entries ?? [])
        {
            if (value is MapNode body)
                CompileEntry(key, body);
            else
                diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{key.Text}' is {value.Shape}", "write it like { at: \"/lane/{i}/height\", args: [height] }");
        }

        foreach (var (name, (_, at)) in codecs)
        {
            if (!_usedCodecs.Contains(name))
                diagnostics.Add(ProfileCodes.UnusedCodec, at, $"codec '{name}' is not used by any setting", "remove it");
        }
    }

    /// <summary>Whether settings are asked at an address.</summary>
    public bool HasAddress(ReadOnlySpan<byte> address) => _endpointLookup.ContainsKey(address);

    /// <summary>How many addresses there are.</summary>
    public int EndpointCount => _endpoints.Count;

    /// <summary>Setting ids by strip id.</summary>
    public int[][] GroupByStrip()
    {
        var left = new int[_strips.Count];
        foreach (var strip in _stripOfSetting)
            left[strip]++;
        var groups = new int[left.Length][];
        for (var strip = 0; strip < groups.Length; strip++)
            groups[strip] = new int[left[strip]];
        for (var setting = 0; setting < _stripOfSetting.Count; setting++)
        {
            var strip = _stripOfSetting[setting];
            groups[strip][^left[strip]--] = setting;
        }

        return groups;
    }

    public Endpoint[] BuildEndpoints()
    {
        var endpoints = new Endpoint[_endpoints.Count];
        for (var i = 0; i < endpoints.Length; i++)
        {
            endpoints[i] = new Endpoint(i, _endpoints[i].Address, _endpoints[i].SortedSlots());
        }

        return endpoints;
    }

    private void CompileEntry(ScalarNode key, MapNode body)
    {
        var reader = new MapReader(body, ProfileKeys.Entry, diagnostics);
        var address = reader.RequireScalar("at");
        var args = reader.Items("args");
        var argument = reader.Scalar("arg");
        var bit = reader.Scalar("bit");
        var reset = reader.Scalar("reset");
        var path = PathTemplate.Read(key, counts, reader.Mapping("for"), diagnostics);
        var before = diagnostics.ErrorCount;
        reader.Finish();
        var hasUnknownKey = diagnostics.ErrorCount > before;
        var addressTemplate = address is null ? null : Form(address);
        if (path is null || addressTemplate is null || address is null || !NamesKnown(path, addressTemplate, address))
            return;
        List<Place> places;
        if (bit is not null || argument is not null)
        {
            if (args is not null || bit is null || argument is null)
            {
                diagnostics.Add(ProfileCodes.UnclearCodec, body.At, "a membership bit needs 'arg' and 'bit', without 'args'",
                    "write it like { at: \"/crew/{d}/members\", arg: \"{(i-1)/24}\", bit: \"{(i-1)%24}\" }");
                return;
            }

            places = BitPlace(key, path, argument, bit);
        }
        else
        {
            places = ArgumentPlaces(key, path, args ?? []);
        }

        if (places.Count == 0)
        {
            if (args is null or [] && bit is null && !hasUnknownKey)
                diagnostics.Add(ProfileCodes.QuestionCouldSet, body.At, $"'{key.Text}' has no arguments, so asking for it would send what may be a trigger",
                    "a setting needs 'args' (or 'arg' and 'bit')");
            return;
        }

        Enumerate(key, address, path, addressTemplate, places, reset);
    }

    private List<Place> ArgumentPlaces(ScalarNode key, PathTemplate path, IReadOnlyList<Node> args)
    {
        var places = new List<Place>();
        for (var i = 0; i < args.Count; i++)
        {
            var (word, codecName) = args[i] switch
            {
                ScalarNode { Text: "-" } => (null, null),
                ScalarNode scalar => (null, scalar),
                MapNode { Entries: [var (suffixWord, value)] } when value is ScalarNode name => (suffixWord, name),
                _ => ((ScalarNode?)null, (ScalarNode?)null),
            };
            var suffix = word is null ? "" : "/" + word.Text;
            if (codecName is null)
            {
                if (args[i] is not ScalarNode { Text: "-" })
                    diagnostics.Add(DocumentCodes.WrongShape, args[i].At, "an argument is a codec's name, or one pair such as { level: height }", "write - for an argument to skip");
                continue;
            }

            if (!codecs.TryGetValue(codecName.Text, out var codec))
            {
                if (faultyCodecs.Contains(codecName.Text))
                    continue;
                var near = NearestWord.Among(codecName.Text, codecs.Keys, diagnostics);
                diagnostics.Add(ProfileCodes.UnknownCodec, codecName.At, $"there is no codec '{codecName.Text}'",
                    near is null ? "define it under codecs" : $"did you mean '{near}'?", near);
                continue;
            }

            _usedCodecs.Add(codecName.Text);
            if (KindOf(key, path, suffix, word, codec.Codec, codecName) is { } kind)
                places.Add(new Place(suffix, kind, codec.Codec, i, null, null));
        }

        return places;
    }

    private List<Place> BitPlace(ScalarNode key, PathTemplate path, ScalarNode argument, ScalarNode bit)
    {
        var argumentForm = Form(argument);
        var bitForm = Form(bit);
        if (argumentForm is null || bitForm is null || !NamesKnown(path, argumentForm, argument) || !NamesKnown(path, bitForm, bit)
            || KindOf(key, path, "", null, _bitCodec, key) is not { } kind)
            return [];
        return [new Place("", kind, _bitCodec, 0, argumentForm, bitForm)];
    }

    private SettingKind? KindOf(ScalarNode key, PathTemplate path, string suffix, ScalarNode? word, Codec codec, ScalarNode codecAt)
    {
        var kind = SettingCatalogue.Find(path.Shape + suffix);
        if (kind is null)
        {
            var near = NearestPath.Among(path.Shape + suffix, SettingCatalogue.Shapes(path.Shape.Split('/') is [_, var number, ..] ? number : ""), path.Text + suffix, diagnostics);
            var isSuffix = word is not null && (near is null || near.StartsWith(path.Text, StringComparison.Ordinal));
            var suggestion = isSuffix ? near?[(path.Text.Length + 1)..] : word is null ? near : near?[..^suffix.Length];
            diagnostics.Add(ProfileCodes.UnknownSetting, isSuffix ? word!.At : key.At, $"'{key.Text}{suffix}' is not a setting that a desk has here",
                suggestion is null ? "the reference lists every setting path" : $"did you mean '{suggestion}'?", suggestion);
            return null;
        }

        if ((kind.Values & (ValueKinds)(1 << (int)codec.Kind)) != ValueKinds.None)
            return kind;
        diagnostics.Add(ProfileCodes.CodecMismatch, codecAt.At,
            $"codec '{codec.Name}' gives a {codec.Kind.ToString().ToLowerInvariant()}, but '{kind.Shape}' holds a {kind.Values.ToString().ToLowerInvariant().Replace(", ", " or ", StringComparison.Ordinal)}", null);
        return null;
    }

    private void Enumerate(ScalarNode key, ScalarNode address, PathTemplate path, IndexTemplate addressTemplate, List<Place> places, ScalarNode? reset)
    {
        var names = path.Template.Names;
        var numbers = new int[names.Count];
        for (var i = 0; i < numbers.Length; i++)
        {
            numbers[i] = path.Spans[i].First;
            if (path.Spans[i].Last < path.Spans[i].First)
                return;
        }

        var mappings = new SettingMapping[places.Count];
        for (var i = 0; i < mappings.Length; i++)
            mappings[i] = new SettingMapping(places[i].Kind, places[i].Codec, ReadReset(places[i].Codec, reset), key.At);
        var before = diagnostics.ErrorCount;
        do
        {
            if (Add(key, address, path, addressTemplate, places, mappings, numbers))
                continue;
            if (diagnostics.ErrorCount == before)
                diagnostics.Add(ProfileCodes.BadNumberForm, address.At, $"'{address.Text}' has no spelling for {string.Join(", ", numbers)}", null);
            return;
        }
        while (Advance(numbers, path.Spans));
    }

    private bool Add(ScalarNode key, ScalarNode address, PathTemplate path, IndexTemplate addressTemplate, List<Place> places, SettingMapping[] mappings, int[] numbers)
    {
        Span<char> text = stackalloc char[IndexTemplate.MaxLength];
        var names = path.Template.Names;
        if (!addressTemplate.TryExpand(names, numbers, text, out var length))
            return false;
        var endpoint = EndpointOf(address, text[..length]);
        if (endpoint < 0 || !path.Template.TryExpand(names, numbers, text, out length))
            return false;
        var strip = -1;
        for (var i = 0; i < places.Count; i++)
        {
            var place = places[i];
            if (!place.Suffix.TryCopyTo(text[length..]))
                return false;
            var settingPath = text[..(length + place.Suffix.Length)].ToString();
            var argument = place.Argument;
            var bit = -1;
            if ((place.Bit is not null && (!place.ArgumentForm!.TryEvaluate(names, numbers, out argument) || !place.Bit.TryEvaluate(names, numbers, out bit)))
                || argument > 63 || bit > 31)
            {
                diagnostics.Add(ProfileCodes.BadNumberForm, key.At, $"'{settingPath}': the argument or bit number is negative or too large", "arguments run from 0 to 63, bits from 0 to 31");
                return false;
            }

            if (!IsFree(key, settingPath, endpoint, argument, bit))
                return false;
            _endpoints[endpoint].Add(new Slot(argument, bit, _settings.Count), places.Count);
            // All settings of one line are of one strip.
            strip = strip < 0 ? StripOf(settingPath) : strip;
            _stripOfSetting.Add(strip);
            _settings.Add(new Setting(_settings.Count, settingPath, strip, endpoint, mappings[i]));
        }

        return true;
    }

    private bool IsFree(ScalarNode key, string path, int endpoint, int argument, int bit)
    {
        if (_settings.Count >= MostSettings)
        {
            diagnostics.Add(ProfileCodes.TooManySettings, key.At, $"the profile maps more than {MostSettings:N0} settings", null);
            return false;
        }

        if (!SettingByPath.TryAdd(path, _settings.Count))
        {
            diagnostics.Add(ProfileCodes.SettingTwice, key.At, $"'{path}' is mapped here and at {_settings[SettingByPath[path]].At.Place}", "map it once");
            return false;
        }

        if (OwnerOf(endpoint, argument, bit) is not { } owner)
            return true;
        diagnostics.Add(ProfileCodes.ArgumentTwice, key.At,
            $"argument {argument + 1}{(bit >= 0 ? $" bit {bit}" : "")} of {Encoding.UTF8.GetString(_endpoints[endpoint].Address)} is '{path}' here and '{owner.Path}' at {owner.At.Place}",
            "give each its own place");
        return false;
    }

    // A message has few slots, so looking through them beats a table of all.
    private Setting? OwnerOf(int endpoint, int argument, int bit)
    {
        foreach (var slot in _endpoints[endpoint].Slots)
        {
            if (slot.Argument == argument && (slot.Bit == bit || slot.Bit < 0 || bit < 0))
                return _settings[slot.Setting];
        }

        return null;
    }

    private SettingValue ReadReset(Codec codec, ScalarNode? reset)
    {
        if (reset is null)
            return codec.AfterReset;
        if (codec.TryParse(reset.Text, out var value, out var problem))
            return value;
        diagnostics.Add(DocumentCodes.BadValue, reset.At, problem!, null, NearestWord.Among(reset.Text, codec.Words, diagnostics));
        return codec.AfterReset;
    }

    private int EndpointOf(ScalarNode at, ReadOnlySpan<char> address)
    {
        Span<byte> utf8 = stackalloc byte[3 * IndexTemplate.MaxLength];
        var bytes = utf8[..Encoding.UTF8.GetBytes(address, utf8)];
        if (_endpointLookup.TryGetValue(bytes, out var endpoint))
            return endpoint;
        if (!OscPattern.IsValidAddress(bytes))
        {
            diagnostics.Add(ProfileCodes.BadAddress, at.At, $"'{address}' is not an OSC address", "begin with '/' and use no space and none of # * , ? [ ] { }");
            return -1;
        }

        var kept = bytes.ToArray();
        _endpointByAddress.Add(kept, _endpoints.Count);
        _endpoints.Add(new EndpointParts(kept));
        return _endpoints.Count - 1;
    }

    private int StripOf(ReadOnlySpan<char> path)
    {
        var first = path.IndexOf('/');
        var isDesk = path[..first] is "desk";
        var second = path[(first + 1)..].IndexOf('/');
        var stripPath = isDesk ? path[..first] : second < 0 ? path : path[..(first + 1 + second)];
        if (_stripLookup.TryGetValue(stripPath, out var strip))
            return strip.Id;
        var number = isDesk ? [] : stripPath[(first + 1)..];
        var dash = number.LastIndexOf('-');
        strip = new Strip(_strips.Count, path[..first].ToString(), dash > 0 ? number[..dash].ToString() : "", number.Length > 0 ? int.Parse(number[(dash + 1)..], provider: null) : 0);
        _strips.Add(strip);
        StripByPath.Add(strip.Path, strip);
        return strip.Id;
    }

    private IndexTemplate? Form(ScalarNode node)
    {
        var template = IndexTemplate.TryParse(node.Text, out var problem, out var column);
        if (template is null)
            diagnostics.Add(ProfileCodes.BadNumberForm, node.At, $"'{node.Text}', character {column + 1}: {problem}", null);
        return template;
    }

    private bool NamesKnown(PathTemplate path, IndexTemplate template, ScalarNode at)
    {
        var stranger = template.Names.FirstOrDefault(name => !path.Template.Names.Contains(name));
        if (stranger is null)
            return true;
        diagnostics.Add(ProfileCodes.UnknownPlaceholder, at.At, $"'{stranger}' is not a placeholder of '{path.Text}'",
            $"known here: {string.Join(", ", path.Template.Names)}", template.WithName(stranger, NearestWord.Among(stranger, path.Template.Names)));
        return false;
    }

    private static bool Advance(int[] numbers, IReadOnlyList<PathTemplate.Span> spans)
    {
        for (var i = numbers.Length - 1; i >= 0; i--)
        {
            if (++numbers[i] <= spans[i].Last)
                return true;
            numbers[i] = spans[i].First;
        }

        return false;
    }

    /// <summary>What one argument or bit of an entry holds.</summary>
    private sealed record Place(string Suffix, SettingKind Kind, Codec Codec, int Argument, IndexTemplate? ArgumentForm, IndexTemplate? Bit);
}
