using System.CommandLine;
using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Records;
using StateWatch.Core.Watching;
using StateWatch.Files;
using StateWatch.History;
using StateWatch.Hosting.Settings;

namespace StateWatch.Commands;

/// <summary><c>history [DESK]</c>: what a watch has recorded.</summary>
internal sealed class HistoryCommand
{
    private const string Service = "/var/lib/statewatch";

    private static readonly Dictionary<string, HistoryParts> Parts = new(StringComparer.Ordinal)
    {
        ["summary"] = HistoryParts.All,
        ["findings"] = HistoryParts.Findings,
        ["changes"] = HistoryParts.Changes,
        ["coverage"] = HistoryParts.Coverage,
        ["load"] = HistoryParts.Load,
        ["shows"] = HistoryParts.Shows,
    };

    private readonly Argument<string?> _desk = new("DESK") { Description = "A desk, as site/desk or by its name alone. Without it: all desks.", Arity = ArgumentArity.ZeroOrOne };
    private readonly Option<string?> _folder = new("--folder") { Description = "Folder of the history. Default: $STATE_DIRECTORY, else statewatch in $XDG_STATE_HOME or ~/.local/state, else that of the service, /var/lib/statewatch.", HelpName = "DIR" };
    private readonly Option<string?> _connection = new("--connection-file") { Description = "Read what watches keep on a PostgreSQL server: file with how to reach it, as in the watch's settings.", HelpName = "FILE" };
    private readonly TimeOption _from = new("--from", "From when, such as 2026-11-29, '2026-11-29 09:40', 09:40 (today) or 2026-11-29T08:40:00Z. Default: the beginning of the last show.", isEnd: false);
    private readonly TimeOption _to = new("--to", "Until when; a day is meant to its end. Default: the end of the last show, with --from: now.", isEnd: true);
    private readonly Option<string> _what = new("--what") { Description = "What to tell: summary, findings, changes, coverage, load or shows.", HelpName = "WHAT", DefaultValueFactory = _ => "summary" };
    private readonly Option<string> _format = new("--format") { Description = "How to report: text, json or csv.", HelpName = "FORMAT", DefaultValueFactory = _ => "text" };
    private readonly Option<string?> _out = SharedOptions.Out();

    public static Command Build()
    {
        var history = new HistoryCommand();
        var command = VerbHelp.Verb("history", "Tell what a watch has recorded: findings, changes, coverage, alarm load.",
            "Without options it tells of the last show. It only reads, also while a watch is writing.\n\n"
            + "  statewatch history\n"
            + "  statewatch history --what shows\n"
            + "  statewatch history foh --what changes --from 09:40 --to 10:15\n"
            + "  statewatch history --what findings --from 2026-11-01 --format csv --out findings.csv\n\n"
            + "findings   what was raised, when, for how long, who acknowledged it, how often it came back\n"
            + "changes    which settings changed, by strip, planned or not; moved and back counts as well\n"
            + "coverage   how much of the plan was seen, and when nobody watched\n"
            + "load       how many alarms people were given, beside the goals of published alarm standards\n"
            + "shows      when shows were, and how they went\n\n"
            + "'statewatch history replay RECORDING' decides again what a watch with --record has decided.\n\n"
            + "Exit codes: 0 told; 64 usage, 66 no history there, or it cannot be read, 70 fault of the program, 73 report cannot be written.");
        command.Arguments.Add(history._desk);
        SharedOptions.RefuseUnknown(history._desk, command);
        foreach (var option in (Option[])[history._what, history._from.Option, history._to.Option, history._folder, history._connection, history._format, history._out])
            command.Options.Add(option);
        command.Subcommands.Add(ReplayCommand.Build());
        command.SetAction(parsed => history.Run(parsed, TimeProvider.System));
        return command;
    }

    private int Run(ParseResult parsed, TimeProvider clock)
    {
        var parts = Parts[Choice(parsed, _what, Parts.Keys)];
        var format = Choice(parsed, _format, ["text", "json", "csv"]);
        if (format == "csv" && parts == HistoryParts.All)
            throw Usage("csv holds one table; add --what findings, changes, coverage, load or shows.");
        var (from, to) = (_from.Of(parsed, clock), _to.Of(parsed, clock));
        if (from >= to)
            throw Usage("--from is not before --to.");
        if (parsed.GetValue(_connection) is not null && parsed.GetValue(_folder) is not null)
            throw Usage("a history is in a folder or on a server; leave out --folder or --connection-file.");
        using var reader = Open(parsed);
        var report = Read(reader, parsed.GetValue(_desk), (from, to), parts, clock.GetUtcNow());
        var text = format switch
        {
            "json" => HistoryJson.Write(report),
            "csv" => HistoryCsv.Write(report),
            _ => HistoryText.Write(report, clock.LocalTimeZone),
        };
        ReportOutput.Write(Encoding.UTF8.GetBytes(text), parsed.GetValue(_out), () => HistoryText.Write(report, clock.LocalTimeZone));
        return ExitCodes.AsPlanned;
    }

    private HistoryReader Open(ParseResult parsed)
    {
        var folder = parsed.GetValue(_folder) ?? Default();
        try
        {
            return parsed.GetValue(_connection) is { } file ? HistoryServer.Open(ConnectionIn(file)) : HistoryFolder.Open(folder);
        }
        catch (FileNotFoundException)
        {
            throw new CommandException(ExitCodes.NoInput, $"statewatch: there is no history in {folder}: no watch has written there yet, or this user may not see it (sudo). Give another folder with --folder, such as {Service}.");
        }
        catch (HistoryException problem)
        {
            throw new CommandException(ExitCodes.NoInput, $"statewatch: {problem.Message}");
        }
    }

    // Of a watch that is started here, else of the service.
    private static string Default()
    {
        var own = new SystemFolders(Environment.GetEnvironmentVariables()).State;
        return !File.Exists(Path.Combine(own, SqliteHistory.FindingsFile)) && Directory.Exists(Service) ? Service : own;
    }

    private static string ConnectionIn(string file)
    {
        try
        {
            return BoundedFile.Text(file).Trim();
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new CommandException(ExitCodes.NoInput, $"statewatch: {file} cannot be read: {problem.Message}");
        }
    }

    private static HistoryReport Read(HistoryReader reader, string? name, (DateTimeOffset? From, DateTimeOffset? To) time, HistoryParts parts, DateTimeOffset now)
    {
        try
        {
            return HistoryAnswer.Of(reader, DeskOf(reader, name), time, parts, now);
        }
        catch (HistoryException problem)
        {
            throw new CommandException(ExitCodes.NoInput, $"statewatch: {problem.Message}");
        }
    }

    private static string? DeskOf(HistoryReader reader, string? name)
    {
        if (name is null)
            return null;
        var desks = reader.Desks().Select(static desk => desk.Desk).ToList();
        var matching = desks.Where(desk => desk == name || desk.EndsWith($"/{name}", StringComparison.Ordinal)).ToList();
        if (matching.Count == 1)
            return matching[0];
        var near = NearestWord.Among(name, desks.Concat(desks.Select(DeskKey.NameOf)));
        throw Usage(matching.Count > 1 ? $"'{name}' is the name of several desks: {string.Join(", ", matching)}; write one of these."
            : $"nothing is recorded of a desk '{name}'{(near is null ? "" : $"; did you mean '{near}'?")} Recorded: {(desks.Count == 0 ? "no desk yet" : string.Join(", ", desks))}.");
    }

    private static string Choice(ParseResult parsed, Option<string> option, IEnumerable<string> words)
    {
        var word = parsed.GetValue(option)!;
        var all = words.ToList();
        if (all.Contains(word))
            return word;
        var near = NearestWord.Among(word, all);
        throw Usage($"'{word}' is not a value of {option.Name}; write {string.Join(", ", all[..^1])} or {all[^1]}{(near is null ? "" : $". Did you mean '{near}'?")}");
    }

    private static CommandException Usage(string problem) => new(ExitCodes.Usage, $"statewatch: {problem}");
}
