using StateWatch.Core.Documents;
using StateWatch.Core.Settings;

namespace StateWatch.Core.Plans;

/// <summary>Reads a plan into a document: shapes and words only, no desk needed.</summary>
public sealed class PlanReader
{
    /// <summary>The format line that is read.</summary>
    public const string Format = "statewatch/show/1";

    private const int MostNumbers = 40_000;

    private readonly DiagnosticBag _diagnostics;
    private readonly StripKeysReader _keys;
    private int _numbers;

    private PlanReader(DiagnosticBag diagnostics)
    {
        _diagnostics = diagnostics;
        _keys = new StripKeysReader(diagnostics);
    }

    /// <summary>Reads a plan.</summary>
    /// <param name="source">Its text.</param>
    /// <param name="diagnostics">Gets every fault.</param>
    /// <param name="open">Opens the plan that an <c>extends:</c> names, or null after a diagnostic; null when plans cannot extend others here.</param>
    /// <param name="zones">The time zones there are; those of this machine when null.</param>
    /// <returns>The document, or null when it has no usable shape; other faults are in the diagnostics.</returns>
    public static PlanDocument? Read(SourceText source, DiagnosticBag diagnostics, Func<ScalarNode, SourceText?>? open = null, ZoneData? zones = null)
    {
        var root = PlanStack.Read(source, diagnostics, open);
        return root is null ? null : new PlanReader(diagnostics).ReadRoot(source.Name, root, zones ?? ZoneData.Machine);
    }

    private PlanDocument? ReadRoot(string file, MapNode root, ZoneData zones)
    {
        var reader = new MapReader(root, PlanKeys.Root, _diagnostics);
        _ = reader.Take("format");
        _ = reader.Take("extends");
        var show = reader.RequireScalar("show");
        var (asked, byEye) = ByEyeReader.Part(reader.Mapping("settings")?.Entries ?? [], _diagnostics);
        var desk = reader.RequireScalar("desk");
        var cues = new CueReader(_keys, _diagnostics).Read(reader.Mapping("cues"));
        var document = new PlanDocument
        {
            File = file,
            Show = show?.Text ?? "",
            Desk = desk ?? new ScalarNode(root.At, "", plain: true),
            SweepPhase = ReadPhase(reader.Scalar("sweep-phase")),
            Dcas = ReadNames(reader.Mapping("dcas"), "DCA"),
            MuteGroups = ReadNames(reader.Mapping("mute-groups"), "mute group"),
            Tolerances = reader.Mapping("tolerance")?.Entries ?? [],
            Feeds = ReadFeeds(reader.Mapping("feeds")),
            Groups = ReadStrips(reader.Mapping("groups"), StripTables.Group),
            Effects = ReadEffects(reader.Mapping("effects")),
            Roles = ReadRoles(reader.Mapping("roles")),
            Inputs = ReadStrips(reader.Mapping("inputs"), StripTables.Input),
            Parked = reader.Scalar("parked"),
            Talks = ReadStrips(reader.Mapping("talk"), StripTables.Talk),
            Settings = asked,
            ByEyeSettings = byEye,
            ByEye = ByEyeReader.Read(reader.Items("by-eye"), _diagnostics),
            PhaseLines = ReadPhases(reader.Mapping("phases")),
            Keys = KeyLine.Read(reader.Mapping("keys"), _diagnostics),
            Guards = GuardLine.Read(reader.Items("guard"), _diagnostics),
            Ratios = RatioLine.Read(reader.Items("ratios"), _diagnostics),
            Baseline = ReadPhase(reader.Scalar("baseline")) ?? Phase.Soundcheck,
            Couplings = new CouplingReader(_diagnostics).Read(reader.Items("couplings")),
            HandsOn = HandsOnLine.Read(reader.Mapping("hands-on"), _diagnostics),
            Units = UnitLine.Read(reader.Mapping("units"), _diagnostics),
            Zone = zones.Read(reader.Scalar("zone"), _diagnostics),
            Cues = cues,
            Schedule = ScheduleReader.Read(reader.Items("schedule"), cues, _diagnostics),
            Waivers = WaiverReader.Read(reader.Items("waivers"), _diagnostics),
        };
        reader.Finish();
        MessageReader.Compare(document.PhaseLines.Select(static line => (line.Phase.Word(), line.Message)).Concat(cues.Select(static cue => ($"cue '{cue.Key.Text}'", cue.Message))), _diagnostics);
        return show is null || desk is null ? null : document;
    }

    private Phase? ReadPhase(ScalarNode? scalar)
    {
        if (scalar is null)
            return null;
        if (Phases.TryParse(scalar.Text, out var phase))
            return phase;
        _diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a phase", $"write one of {string.Join(", ", Phases.All)}", NearestWord.Among(scalar.Text, Phases.All));
        return null;
    }

    private List<NumberedName> ReadNames(MapNode? map, string what)
    {
        var names = new List<NumberedName>();
        foreach (var (key, value) in map?.Entries ?? [])
        {
            if (value is not ScalarNode name)
                _diagnostics.Add(DocumentCodes.WrongShape, value.At, $"the name of {what} {key.Text} is {value.Shape}", "write number: name");
            else if (MapReader.ReadWholeNumber(key, $"a {what}", PlanShapes.GroupNumber, _diagnostics) is { } number)
                names.Add(new NumberedName(number, name));
        }

        return names;
    }

    private List<FeedLine> ReadFeeds(MapNode? map)
    {
        var feeds = new List<FeedLine>();
        foreach (var (key, body) in Bodies(map))
        {
            // Who takes direct outs has no bus, and nothing that a bus has.
            var isDirect = body.Find("direct") is not null;
            var reader = new MapReader(body, isDirect ? StripTables.DirectFeed : StripTables.Feed, _diagnostics);
            var direct = isDirect ? _keys.ReadNames(reader, "direct") : [];
            var bus = isDirect ? null : reader.RequireScalar("bus");
            var purposeWord = reader.Scalar("purpose");
            if (!Purposes.TryParse(purposeWord?.Text ?? key.Text, out var purpose) || purpose == Purpose.Group)
            {
                var word = purposeWord ?? key;
                _diagnostics.Add(purposeWord is null ? DocumentCodes.MissingKey : DocumentCodes.BadValue, word.At,
                    purposeWord is null ? $"feed '{key.Text}' does not say what it is for" : $"'{word.Text}' is not a purpose",
                    $"write purpose: and one of {string.Join(", ", Purposes.OfFeeds)}", NearestWord.Among(word.Text, Purposes.All));
            }

            var output = _keys.ReadValues(reader, "out", "stage 1-2, or [stage 1-2, local 1-2] for the same again");
            if (isDirect && output.Count == 0)
                _ = reader.Require("out");
            var tap = reader.Scalar("tap");
            var delay = _keys.ReadValues(reader, "delay", "6.2 ms, or [6.2 ms, 8 ms] in the order of the outputs");
            var limiter = _keys.ReadValues(reader, "limiter", "in, or [in, out] in the order of the outputs");
            _ = !isDirect && reader.Flag("mono");
            var mono = isDirect ? null : reader.Scalar("mono");
            var mostOpen = !isDirect && reader.Scalar("most-open") is { } most ? MapReader.ReadWholeNumber(most, "the number of open microphones", PlanShapes.OpenMicrophones, _diagnostics) : null;
            var from = isDirect ? [] : _keys.ReadTargets(reader.Take("from"), "from");
            var constraints = new FeedConstraints(_keys.ReadNames(reader, "never"), _keys.ReadNames(reader, "only"), _keys.ReadNames(reader, "must-carry"), _keys.ReadNames(reader, "minus"))
            {
                IndependentOf = _keys.ReadNames(reader, "independent-of"),
            };
            var loudspeaker = LoudspeakerLine.Read(reader);
            var keys = isDirect ? new StripKeys(body, null, null, null, null, [], [], [], [], []) : _keys.Read(reader);
            reader.Finish();
            feeds.Add(new FeedLine(key, bus, purpose, output, tap, delay, limiter, from, constraints, keys) { Mono = mono, MostOpen = mostOpen, Direct = direct, Loudspeaker = loudspeaker });
        }

        return feeds;
    }

    private List<StripLine> ReadStrips(MapNode? map, KeyTable table)
    {
        var lines = new List<StripLine>();
        foreach (var (key, body) in Bodies(map))
        {
            var reader = new MapReader(body, table, _diagnostics);
            Purpose? purpose = null;
            if (table == StripTables.Group && reader.Scalar("purpose") is { } word)
            {
                if (Purposes.TryParse(word.Text, out var known))
                    purpose = known;
                else
                    _diagnostics.Add(DocumentCodes.BadValue, word.At, $"'{word.Text}' is not a purpose", "write parallel, or leave it out", NearestWord.Among(word.Text, Purposes.All));
            }

            var keys = _keys.Read(reader);
            reader.Finish();
            if (_numbers > MostNumbers)
                continue;
            if (NumberSet.TryParse(key.Text, out var numbers) && (_numbers += numbers.Length) > MostNumbers)
                _diagnostics.Add(DocumentCodes.TooMany, key.At, $"up to this line the plan names more than {MostNumbers:N0} strips", "look for ranges that are wider than the desk, or lines that say the same again and again");
            else if (numbers.Length > 0)
                lines.Add(new StripLine(key, numbers, keys, purpose));
            else
                _diagnostics.Add(DocumentCodes.BadValue, key.At, $"'{key.Text}' is not a set of numbers", "write it like 7, 1-17 or 1-4, 7");
        }

        return lines;
    }

    private List<EffectLine> ReadEffects(MapNode? map)
    {
        var effects = new List<EffectLine>();
        foreach (var (key, body) in Bodies(map))
        {
            var reader = new MapReader(body, StripTables.Effect, _diagnostics);
            var send = reader.RequireScalar("send");
            var back = reader.Scalar("return");
            var tap = reader.Scalar("tap");
            var keys = _keys.Read(reader);
            reader.Finish();
            if (keys.Name is null)
                _diagnostics.Add(DocumentCodes.MissingKey, key.At, $"effect {key.Text} has no name", "add name: Hall, so that other lines can send to it");
            else if (send is not null)
                effects.Add(new EffectLine(key, send, back, tap, keys));
        }

        return effects;
    }

    private List<RoleLine> ReadRoles(MapNode? map)
    {
        var roles = new List<RoleLine>();
        foreach (var (key, body) in Bodies(map))
        {
            var reader = new MapReader(body, StripTables.Role, _diagnostics);
            var openMic = reader.Flag("open-mic");
            var pickup = reader.Flag("pickup");
            var word = reader.Scalar("private");
            var privacy = word?.Text switch { "talk" => Privacy.Talk, "click" => Privacy.Click, _ => Privacy.None };
            if (word is not null && privacy == Privacy.None)
                _diagnostics.Add(DocumentCodes.BadValue, word.At, $"'{word.Text}' is not a kind of privacy", "write talk or click", NearestWord.Among(word.Text, reader.Table.WordsOf("private")));
            var only = _keys.ReadNames(reader, "only");
            var never = _keys.ReadNames(reader, "never");
            var keys = _keys.Read(reader);
            reader.Finish();
            roles.Add(new RoleLine(key, openMic, privacy, only, never, keys) { Pickup = pickup });
        }

        return roles;
    }

    private List<PhaseLine> ReadPhases(MapNode? map)
    {
        var phases = new List<PhaseLine>();
        foreach (var (key, body) in Bodies(map))
        {
            var reader = new MapReader(body, PlanKeys.Phase, _diagnostics);
            var locks = new List<(SettingClass, PhaseLock, Origin)>();
            foreach (var (word, meaning) in ((string, PhaseLock)[])[("locked", PhaseLock.Locked), ("guarded", PhaseLock.Guarded), ("free", PhaseLock.Free)])
            {
                foreach (var item in reader.Items(word) ?? [])
                {
                    if (item is ScalarNode scalar && SettingClasses.TryParse(scalar.Text, out var settingClass))
                        locks.Add((settingClass, meaning, scalar.At));
                    else
                        _diagnostics.Add(DocumentCodes.BadValue, item.At, $"'{(item as ScalarNode)?.Text ?? item.Shape}' is not a setting class",
                            $"write some of {string.Join(", ", SettingClasses.All)}", NearestWord.Among((item as ScalarNode)?.Text ?? "", SettingClasses.All));
                }
            }

            var (settings, byEye) = ByEyeReader.Part(reader.Mapping("settings")?.Entries ?? [], _diagnostics);
            var message = MessageReader.Read(reader);
            reader.Finish();
            foreach (var twice in locks.GroupBy(item => item.Item1).Where(group => group.Count() > 1))
                _diagnostics.Add(PlanCodes.Conflict, twice.Last().Item3, $"'{twice.Key.Word()}' stands in two lists of this phase", "keep it in one");
            if (Phases.TryParse(key.Text, out var phase))
                phases.Add(new PhaseLine(phase, locks, settings) { ByEyeSettings = byEye, Message = message });
            else
                MapReader.ReportUnknown(key, [.. Phases.All], _diagnostics);
        }

        return phases;
    }

    private IEnumerable<(ScalarNode Key, MapNode Body)> Bodies(MapNode? map)
    {
        foreach (var (key, value) in map?.Entries ?? [])
        {
            if (value is MapNode body)
                yield return (key, body);
            else
                _diagnostics.Add(DocumentCodes.WrongShape, value.At, $"'{key.Text}' is {value.Shape}, but a mapping belongs here", $"write {key.Text}: {{ … }}");
        }
    }
}
