using System.Globalization;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Simulator.Scenarios;

/// <summary>Reads a scenario. All faults are reported at once; a scenario with errors is never returned.</summary>
public sealed class ScenarioReader
{
    /// <summary>The format line that is read.</summary>
    public const string Format = "statewatch/scenario/1";

    /// <summary>Stands for a digest among the findings that must be told.</summary>
    public const string Digest = "digest";

    private static readonly TimeSpan Longest = TimeSpan.FromHours(24);

    private readonly PlanDocument _plan;
    private readonly DeskProfile _profile;
    private readonly DiagnosticBag _diagnostics;
    private readonly ScriptedSettings _settings;
    private DateTime _begins;
    private DateTime _ends;

    private ScenarioReader(PlanDocument plan, DeskProfile profile, DiagnosticBag diagnostics)
    {
        (_plan, _profile, _diagnostics) = (plan, profile, diagnostics);
        _settings = new ScriptedSettings(profile, diagnostics);
    }

    /// <summary>The plan that a scenario names, or null after diagnostics.</summary>
    public static ScalarNode? PlanOf(SourceText source, DiagnosticBag diagnostics) =>
        YamlText.Read(source, diagnostics) is { } root && FormatLine.Check(root, Format, diagnostics) ? new MapReader(root, ScenarioKeys.Root, diagnostics).RequireScalar("plan") : null;

    /// <summary>Reads a scenario.</summary>
    /// <param name="source">The text.</param>
    /// <param name="plan">The plan that it names.</param>
    /// <param name="profile">The desk whose settings it names.</param>
    /// <param name="diagnostics">Gets every fault.</param>
    /// <returns>The scenario, or null after diagnostics.</returns>
    public static Scenario? Read(SourceText source, PlanDocument plan, DeskProfile profile, DiagnosticBag diagnostics)
    {
        var root = YamlText.Read(source, diagnostics);
        if (root is null || !FormatLine.Check(root, Format, diagnostics))
            return null;
        var scenario = new ScenarioReader(plan, profile, diagnostics).ReadRoot(root);
        return diagnostics.HasErrors ? null : scenario;
    }

    private Scenario ReadRoot(MapNode root)
    {
        var reader = new MapReader(root, ScenarioKeys.Root, _diagnostics);
        _ = reader.Take("format");
        var say = reader.RequireScalar("say")?.Text ?? "";
        _ = reader.RequireScalar("plan");
        _begins = ReadBegin(reader.RequireScalar("begins"));
        _ends = reader.RequireScalar("ends") is { } ends && TryClock(ends, out var clock) ? After(_begins, clock) : _begins + Longest;
        var phase = _settings.Phase(reader.Scalar("phase"));
        var seed = reader.WholeNumber("seed");
        var happenings = Maps(reader, "happens", ScenarioKeys.Happening).Select(ReadHappening).OrderBy(static one => one.At).ToList();
        var told = Maps(reader, "told", ScenarioKeys.Told).Select(ReadTold).ToList();
        var (most, within) = ReadOthers(reader.Mapping("others"));
        reader.Finish();
        return new Scenario(say, _begins, _ends, phase, (ulong)seed, happenings, told, most, within);
    }

    private List<MapReader> Maps(MapReader reader, string key, KeyTable table)
    {
        var maps = new List<MapReader>();
        if (reader.Require(key) is not ListNode list)
        {
            if (reader.Take(key) is { } other)
                _diagnostics.Add(DocumentCodes.WrongShape, other.At, $"'{key}' holds {other.Shape}, but a list belongs here", "begin each item with '- '");
            return maps;
        }

        foreach (var item in list.Items)
        {
            if (item is MapNode map)
                maps.Add(new MapReader(map, table, _diagnostics));
            else
                _diagnostics.Add(DocumentCodes.WrongShape, item.At, $"an item of '{key}' is a mapping, not {item.Shape}", null);
        }

        return maps;
    }

    private Happening ReadHappening(MapReader reader)
    {
        var at = ReadTime(reader.RequireScalar("at")) ?? _begins;
        var changes = new List<(int, SettingValue)>();
        if (reader.Mapping("set") is { } set)
            _settings.Changes(set, changes);
        var happening = new Happening(at, reader.Scalar("say")?.Text ?? "", reader.Map.At)
        {
            Set = changes,
            Recall = ReadCue(reader.Scalar("recall")),
            Over = ReadSpan(reader.Scalar("over")),
            PutBack = ReadPaths(reader.Items("put-back")),
            Ride = reader.Mapping("ride") is { } ride ? ReadRide(new MapReader(ride, ScenarioKeys.Ride, _diagnostics)) : null,
            Silent = ReadSpan(reader.Scalar("silent")),
            Phase = _settings.Phase(reader.Scalar("phase")),
            Cue = ReadCue(reader.Scalar("cue")),
            Acknowledge = reader.Scalar("acknowledge")?.Text,
            PutAside = reader.Scalar("put-aside")?.Text,
        };
        reader.Finish();
        return happening;
    }

    private Riding? ReadRide(MapReader reader)
    {
        var settings = ReadPaths(reader.Items("settings"));
        foreach (var setting in settings)
        {
            if (_profile.Settings[setting].Codec.Kind != ValueKind.Level)
                _diagnostics.Add(DocumentCodes.BadValue, reader.Map.At, $"{_profile.Settings[setting].Path} is no level, so nobody can ride it", "name faders or levels of sends");
        }

        var rate = reader.WholeNumber("per-minute");
        var within = reader.Scalar("within") is { } scalar ? ReadLevel(scalar) : 3;
        var span = ReadSpan(reader.RequireScalar("for"));
        reader.Finish();
        return settings.Count == 0 || rate == 0 ? null : new Riding(settings, rate, within, span);
    }

    private ToldLine ReadTold(MapReader reader)
    {
        var finding = reader.RequireScalar("finding");
        if (finding is not null && finding.Text != Digest && finding.Text.IndexOf(':', StringComparison.Ordinal) <= 0)
            _diagnostics.Add(IncidentCodes.BadFindingId, finding.At, $"'{finding.Text}' is not a finding id", "write rule:subject, such as \"oscillator-on:desk/oscillator\", or digest");
        var line = new ToldLine(finding?.Text ?? "", reader.Scalar("within") is { } scalar ? ReadSpan(scalar) : TimeSpan.FromSeconds(10), reader.Map.At)
        {
            Raised = ReadTime(reader.Scalar("raised")),
            Known = ReadTime(reader.Scalar("known")),
            PutAside = ReadTime(reader.Scalar("put-aside")),
            Cleared = ReadTime(reader.Scalar("cleared")),
        };
        reader.Finish();
        return line is { Raised: null, Known: null, PutAside: null, Cleared: null } ? line with { Raised = _begins, Within = _ends - _begins } : line;
    }

    private (int Most, TimeSpan Within) ReadOthers(MapNode? map)
    {
        if (map is null)
            return (0, TimeSpan.FromMinutes(30));
        var reader = new MapReader(map, ScenarioKeys.Others, _diagnostics);
        if (reader.Take("at-most") is null)
            _ = reader.Require("at-most");
        var most = reader.WholeNumber("at-most");
        var within = ReadSpan(reader.RequireScalar("within"));
        reader.Finish();
        return (most, within);
    }

    private List<int> ReadPaths(IReadOnlyList<Node>? items)
    {
        var settings = new List<int>();
        foreach (var item in items ?? [])
        {
            if (_settings.AsScalar(item, "a setting path") is not { } path)
                continue;
            if (PathRanges.Expand(path.Text) is not { Count: > 1 } many)
            {
                if (_settings.Find(path) is >= 0 and var one)
                    settings.Add(one);
                continue;
            }

            var found = many.Select(_profile.Find).Where(static id => id >= 0).ToList();
            settings.AddRange(found);
            if (found.Count == 0)
                _diagnostics.Add(IncidentCodes.SettingNotSeen, path.At, $"the profile of the {_profile.Desk} sees none of '{path.Text}'", $"the paths are under 'settings' in {_profile.File}");
        }

        return settings;
    }

    private string? ReadCue(ScalarNode? scalar)
    {
        var cues = _plan.Cues.Select(static cue => cue.Key.Text).ToList();
        if (scalar is null || scalar.Text == "none" || cues.Contains(scalar.Text))
            return scalar?.Text;
        var near = NearestWord.Among(scalar.Text, cues, _diagnostics);
        _diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"{_plan.File} has no cue '{scalar.Text}'", cues.Count == 0 ? "write cues: in the plan" : $"its cues: {string.Join(", ", cues.Take(40))}", near);
        return null;
    }

    private DateTime ReadBegin(ScalarNode? scalar)
    {
        if (scalar is null)
            return DateTime.UnixEpoch;
        if (DateTime.TryParseExact(scalar.Text, ["yyyy-MM-dd HH:mm", "yyyy-MM-dd H:mm", "yyyy-MM-dd HH:mm:ss", "yyyy-MM-dd H:mm:ss"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var begins)
            && begins.Year is >= 1990 and <= 2100)
            return begins;
        _diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a day and a time", "write it like 2026-12-06 07:30");
        return DateTime.UnixEpoch;
    }

    private DateTime? ReadTime(ScalarNode? scalar)
    {
        if (scalar is null || !TryClock(scalar, out var clock))
            return null;
        var time = _begins.TimeOfDay == clock ? _begins : After(_begins, clock);
        if (time > _ends)
            _diagnostics.Add(DocumentCodes.OutOfRange, scalar.At, $"{scalar.Text} is after the end of the scenario", "let it end later");
        return time;
    }

    private bool TryClock(ScalarNode scalar, out TimeSpan clock)
    {
        if (TimeSpan.TryParseExact(scalar.Text, [@"h\:mm", @"hh\:mm", @"h\:mm\:ss", @"hh\:mm\:ss"], CultureInfo.InvariantCulture, out clock))
            return true;
        _diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a time of day", "write it like \"10:42:30\" or \"9:05\"");
        return false;
    }

    // The first time after another at which the clock shows that.
    private static DateTime After(DateTime time, TimeSpan clock) => clock > time.TimeOfDay ? time.Date + clock : time.Date.AddDays(1) + clock;

    private TimeSpan ReadSpan(ScalarNode? scalar)
    {
        if (scalar is null)
            return TimeSpan.Zero;
        var hours = scalar.Text.EndsWith('h');
        if (!Duration.TryParse(hours ? scalar.Text.TrimEnd('h') + "min" : scalar.Text, out var span) || (hours && span > Longest / 60))
            _diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a time", "write it like 12 s, 250 ms, 75 min or 2 h, at most a day");
        return hours ? span * 60 : span;
    }

    private double ReadLevel(ScalarNode scalar)
    {
        if (ValueText.TryParseNumber(scalar.Text, Unit.Decibel, out var level) && level is >= 0 and <= 60)
            return level;
        _diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not a number of decibels", "write it like 3 dB, at most 60 dB");
        return 0;
    }
}
