using System.Collections;
using System.Globalization;
using System.Net;
using StateWatch.Alerts;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;
using StateWatch.Files;
using StateWatch.History;

namespace StateWatch.Hosting.Settings;

/// <summary>Reads settings whole or says everything that is wrong with them; nothing is started before.</summary>
internal sealed class SettingsReader
{
    private const int ShortestToken = 16;

    private readonly SettingsSource _source;
    private readonly SystemFolders _folders;
    private readonly WatchDocument _document;

    private SettingsReader(SettingsSource source, SystemFolders folders, List<SettingsFault> faults)
    {
        _source = source;
        _folders = folders;
        Faults = faults;
        _document = faults.Count > 0 ? new WatchDocument() : source.Configuration.Get<WatchDocument>() ?? new WatchDocument();
    }

    private List<SettingsFault> Faults { get; }

    /// <summary>Reads them.</summary>
    /// <param name="file">A JSON file, or null.</param>
    /// <param name="environment">The variables of the process.</param>
    /// <param name="plans">Plans of the command line: watched instead of the settings' desks.</param>
    /// <param name="addresses">Where their desks are: none, or one for each.</param>
    /// <returns>The settings, or null and every fault.</returns>
    public static (WatchSettings? Settings, IReadOnlyList<SettingsFault> Faults) Read(string? file, IDictionary environment, IReadOnlyList<string> plans, IReadOnlyList<string> addresses)
    {
        var source = SettingsSource.Read(file, environment);
        var reader = new SettingsReader(source, new SystemFolders(environment), SettingsCheck.Faults(source));
        var settings = reader.Faults.Count > 0 ? null : reader.Make(plans, addresses);
        return (reader.Faults.Count > 0 ? null : settings, reader.Faults);
    }

    /// <summary>The name that a desk has when settings give none: its plan file's first name.</summary>
    public static string NameOf(string plan)
    {
        var name = Path.GetFileName(Path.TrimEndingDirectorySeparator(plan));
        var dot = name.Length < 2 ? -1 : name.IndexOf('.', 1);
        var clean = string.Concat((dot > 0 ? name[..dot] : name).Select(static letter => char.IsLetterOrDigit(letter) || letter is '-' or '_' ? letter : '-'));
        return clean.Length > 40 ? clean[..40] : clean.Length == 0 ? "desk" : clean;
    }

    private WatchSettings Make(IReadOnlyList<string> plans, IReadOnlyList<string> addresses)
    {
        var desks = plans.Count > 0 ? Named(plans, addresses) : [.. _document.Desks.Select(DeskOf)];
        CheckNames(desks);
        var http = PointOf(_document.Http.Listen);
        return new WatchSettings(_document.Site ?? Site(), desks)
        {
            History = new HistoryOptions(Whole("state", _document.State) ?? Path.GetFullPath(_folders.State))
            {
                KeepDays = Number(_document.History.Days, 90),
                MostMegabytes = Number(_document.History.Megabytes, 1000),
                LeastFreeMegabytes = Number(_document.History.FreeMegabytes, 500),
            },
            HistoryConnection = Connection(),
            ControlSocket = Whole("control", _document.Control) ?? Path.GetFullPath(_folders.Socket),
            Http = http,
            HttpToken = Token(http),
            Messages = PointOf(_document.Messages.Listen),
            // A watch that tells nobody would be of no use to whoever just started one.
            Sinks = _document.Sinks.Count == 0 ? [new SinkSettings { Name = "log", Kind = "log" }] : [.. _document.Sinks.Select(SinkOf)],
            PlaceOf = Where,
            Record = new RecordSettings
            {
                Folder = Whole("record:folder", _document.Record.Folder),
                Megabytes = Number(_document.Record.Megabytes, 200),
                Files = Number(_document.Record.Files, 10),
            },
            Log = new LogSettings
            {
                Folder = Whole("log:folder", _document.Log.Folder) ?? _folders.Logs,
                Level = _document.Log.Level ?? "information",
                Megabytes = Number(_document.Log.Megabytes, 10),
                Files = Number(_document.Log.Files, 10),
            },
        };
    }

    private static List<DeskSettings> Named(IReadOnlyList<string> plans, IReadOnlyList<string> addresses) =>
        [.. plans.Select((plan, i) => new DeskSettings(NameOf(plan), plan) { Address = i < addresses.Count ? addresses[i] : null })];

    private DeskSettings DeskOf(KeyValuePair<string, DeskDocument> desk)
    {
        var path = $"desks:{desk.Key}";
        if (desk.Value?.Plan is not { } plan)
        {
            Add(path, "it has no plan to be watched by; write plan: and a path");
            plan = "";
        }

        Phase? phase = desk.Value?.Phase is { } word && Phases.TryParse(word, out var known) ? known : null;
        return new DeskSettings(desk.Key, plan.Length == 0 ? plan : Whole($"{path}:plan", plan)!) { Address = desk.Value?.Address, Phase = phase };
    }

    private void CheckNames(List<DeskSettings> desks)
    {
        if (desks.Count == 0)
            Add("desks", "no desk is to be watched; name one with its plan under desks, or give plans on the command line");
        foreach (var same in desks.GroupBy(static desk => desk.Name, StringComparer.OrdinalIgnoreCase).Where(static same => same.Count() > 1))
            Add("desks", $"two plans would be watched as '{same.Key}' ({string.Join(", ", same.Select(static desk => desk.Plan))}); name their desks in settings");
        if (desks.Any(static desk => string.Equals(desk.Name, DeskKey.Own, StringComparison.OrdinalIgnoreCase)))
            Add($"desks:{DeskKey.Own}", $"'{DeskKey.Own}' is the name of the watch's own findings; give the desk another one");
    }

    private SinkSettings SinkOf(KeyValuePair<string, SinkSettings> sink)
    {
        var settings = sink.Value ?? new SinkSettings();
        settings.Name = sink.Key;
        var path = $"sinks:{sink.Key}";
        if (settings.Kind is null)
            Add(path, "it does not say how to tell; write kind: and log, osc, webhook or mqtt");
        if (settings.Kind is "webhook" or "mqtt")
            settings.Names ??= _document.Names;
        settings.SecretFile = Whole($"{path}:secretFile", settings.SecretFile);
        settings.TokenFile = Whole($"{path}:tokenFile", settings.TokenFile);
        settings.PasswordFile = Whole($"{path}:passwordFile", settings.PasswordFile);
        settings.CaFile = Whole($"{path}:caFile", settings.CaFile);
        return settings;
    }

    private string? Token(IPEndPoint? listen)
    {
        if (_document.Http.TokenFile is not { } file)
        {
            if (listen is not null && !IPAddress.IsLoopback(listen.Address))
                Add("http:listen", $"{listen} can be reached from other machines, so whoever asks must have a token; add http: tokenFile, or listen at 127.0.0.1:{listen.Port}");
            return null;
        }

        try
        {
            var token = BoundedFile.Text(Whole("http:tokenFile", file)!).Trim();
            if (token.Length >= ShortestToken)
                return token;
            Add("http:tokenFile", $"{file} holds {token.Length} characters, and a token has {ShortestToken} at least; make one with 'openssl rand -hex 32'");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            Add("http:tokenFile", $"{file} cannot be read ({problem.Message}); put a token there that this user may read");
        }

        return null;
    }

    private string? Connection()
    {
        if (_document.History.ConnectionFile is not { } file)
            return null;
        try
        {
            var connection = BoundedFile.Text(Whole("history:connectionFile", file)!).Trim();
            new PostgresServerPlace(connection).Dispose();
            return connection;
        }
        catch (HistoryException problem)
        {
            Add("history:connectionFile", problem.Message.TrimEnd('.'));
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            Add("history:connectionFile", $"{file} cannot be read ({problem.Message}); put there how to reach the server, in a file that this user may read");
        }

        return null;
    }

    private static string Site()
    {
        var name = string.Concat(Environment.MachineName.Where(static letter => char.IsAsciiLetterOrDigit(letter) || letter == '-'));
        return name.Length is 0 or > 40 ? "here" : name;
    }

    private static IPEndPoint? PointOf(string? text) => text is null ? null : IPEndPoint.Parse(text);

    private static int Number(string? text, int otherwise) => text is null ? otherwise : int.Parse(text, NumberStyles.None, CultureInfo.InvariantCulture);

    private string? Whole(string path, string? value) => value is null ? null : _source.Resolve(path, value);

    private void Add(string path, string words) => Faults.Add(new SettingsFault(Where(path), path, words));

    private string Where(string path) => _source.File is null && _source.VariableOf(path) is null ? "statewatch" : _source.PlaceOf(path);
}
