using System.CommandLine;
using StateWatch.Control;
using StateWatch.Core.Watching;
using StateWatch.History;
using StateWatch.Hosting;
using StateWatch.Hosting.Settings;

namespace StateWatch.Commands;

/// <summary><c>watch [PLAN…]</c>: follow desks all day, and tell what goes off plan when it does.</summary>
internal sealed class WatchCommand
{
    private readonly Argument<string[]> _plans = new("PLAN") { Description = "Show plans (*.plan.yaml), one for each desk. Watched instead of the settings' desks.", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<string?> _settings = new("--settings") { Description = "Settings (watch.json): desks, sinks, where the history is kept. profiles/WATCH.md explains them.", HelpName = "FILE" };
    private readonly Option<string[]> _desks = new("--desk") { Description = "Where the desk of a plan is, instead of its profile's 'to'; once for each plan, in their order.", HelpName = "HOST:PORT", AllowMultipleArgumentsPerToken = true };
    private readonly Option<bool> _rehearse = new("--rehearse") { Description = "Live through scenarios (*.scenario.yaml, given in place of plans) in virtual time, and see whether what had to be told was. No desk is asked." };
    private readonly Option<string?> _record = new("--record") { Description = "Folder for recordings: everything the watch decides by, one file for each desk and start, to be played again ('history replay'). With --rehearse: the file. Off without it.", HelpName = "PATH" };
    private readonly Option<bool> _quiet = SharedOptions.Quiet();
    private readonly Option<bool> _noColour = SharedOptions.NoColour();

    public static Command Build()
    {
        var watch = new WatchCommand();
        var command = VerbHelp.Verb("watch", "Follow desks all day, and tell what goes off plan when it does.",
            "It asks questions only: it cannot change a desk. It runs until it is ended (Ctrl-C, SIGTERM), remembers what it must over restarts,\n"
            + "and reads plans and profiles again when they change or on SIGHUP; a plan with a fault is refused, and the one before goes on.\n"
            + "It is no safety system: ears, a sound level meter, local codes and licensed practice decide.\n\n"
            + "  statewatch watch show.plan.yaml                    one desk; findings on the console, nobody else is told\n"
            + "  statewatch watch --settings /etc/statewatch/watch.json\n"
            + "  statewatch watch --rehearse sunday.scenario.yaml   a day in virtual time; profiles/SCENARIOS.md explains them\n\n"
            + "Meanwhile, on this machine: 'statewatch status', 'ack', 'hold', 'phase', 'cue'.\n\n"
            + "Exit codes: 0 ended in order (rehearsed: as it had to be), 1 rehearsed, and not as it had to be; 64 usage, 65 settings, plan or profile invalid, 66 file missing, 69 another watch runs here or an\n"
            + "address is taken, 70 fault of the program.");
        command.Arguments.Add(watch._plans);
        foreach (var option in (Option[])[watch._settings, watch._desks, watch._rehearse, watch._record, watch._quiet, watch._noColour])
            command.Options.Add(option);
        SharedOptions.RefuseUnknown(watch._plans, command);
        command.SetAction(watch.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        if (parsed.GetValue(_rehearse))
            return Rehearse(parsed);
        var environment = Environment.GetEnvironmentVariables();
        var (settings, faults) = SettingsReader.Read(parsed.GetValue(_settings), environment, parsed.GetValue(_plans) ?? [], Addresses(parsed));
        foreach (var fault in faults)
            Console.Error.WriteLine(fault);
        if (settings is null)
            return ExitCodes.Invalid;
        if (parsed.GetValue(_record) is { } folder)
            settings = settings with { Record = settings.Record with { Folder = Path.GetFullPath(folder) } };
        var plans = ReadPlans(settings, parsed.GetValue(_noColour));
        if (plans is null)
            return ExitCodes.Invalid;
        ControlSocket.KeepToOneself(environment);
        return Watch(settings, plans, environment).GetAwaiter().GetResult();
    }

    private int Rehearse(ParseResult parsed)
    {
        var scenarios = parsed.GetValue(_plans) ?? [];
        if (scenarios.Length == 0)
            throw new CommandException(ExitCodes.Usage, "statewatch: --rehearse needs a scenario. Try 'statewatch watch --rehearse sunday.scenario.yaml'.");
        if (parsed.GetValue(_settings) is not null || parsed.GetValue(_desks) is { Length: > 0 })
            throw new CommandException(ExitCodes.Usage, "statewatch: a rehearsal asks no desk and tells nobody; leave out --settings and --desk.");
        if (parsed.GetValue(_record) is not null && scenarios.Length > 1)
            throw new CommandException(ExitCodes.Usage, "statewatch: --record writes one file, so with --rehearse it goes with one scenario.");
        using var cancel = new CancellationTokenSource();
        ConsoleCancelEventHandler stop = (_, e) => (e.Cancel, _) = (true, Task.Run(cancel.Cancel));
        Console.CancelKeyPress += stop;
        try
        {
            return RehearseAction.Run(scenarios, parsed.GetValue(_quiet), parsed.GetValue(_noColour), parsed.GetValue(_record), cancel.Token);
        }
        finally
        {
            Console.CancelKeyPress -= stop;
        }
    }

    private static async Task<int> Watch(WatchSettings settings, IReadOnlyList<(PlanSource Source, WatchedPlan Plan)> plans, System.Collections.IDictionary environment)
    {
        var outside = new WatchOutside(HistoryOf(settings), WatchLog.Open(settings.Log, environment, Console.Out))
        {
            WatchdogHalf = Watchdog.HalfOf(environment, Environment.ProcessId),
        };
        await using var host = await WatchHost.Build(settings, plans, outside);
        await host.Start(CancellationToken.None);
        await host.WaitForEnd(CancellationToken.None);
        return 0;
    }

    private static IWatchHistory HistoryOf(WatchSettings settings) => settings.HistoryConnection is { } connection
        ? new PostgresHistory(connection, settings.Site, settings.History, TimeProvider.System)
        : new SqliteHistory(settings.History, TimeProvider.System);

    private static List<(PlanSource Source, WatchedPlan Plan)>? ReadPlans(WatchSettings settings, bool noColour)
    {
        var plans = new List<(PlanSource, WatchedPlan)>();
        foreach (var desk in settings.Desks)
        {
            var source = new PlanSource(desk.Plan);
            var reading = source.Read();
            DiagnosticsOutput.Print(reading.Files, noColour);
            if (reading.Plan is not null)
                plans.Add((source, reading.Plan));
        }

        return plans.Count == settings.Desks.Count ? plans : null;
    }

    private string[] Addresses(ParseResult parsed)
    {
        var addresses = parsed.GetValue(_desks) ?? [];
        var plans = parsed.GetValue(_plans)?.Length ?? 0;
        if (addresses.Length > 0 && addresses.Length != plans)
            throw new CommandException(ExitCodes.Usage, $"statewatch: --desk goes with plans on the command line, once for each: {addresses.Length} for {plans}.");
        foreach (var address in addresses)
        {
            if (new HostForm().Refusal(address) is { } refusal)
                throw new CommandException(ExitCodes.Usage, $"statewatch: --desk: {refusal}.");
        }

        return addresses;
    }
}
