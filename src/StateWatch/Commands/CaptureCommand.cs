using System.CommandLine;
using System.Text;
using StateWatch.Capturing;
using StateWatch.Core.Capturing;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Reports;
using StateWatch.Core.Routing;
using StateWatch.Files;

namespace StateWatch.Commands;

/// <summary><c>capture PLAN MIC FEED</c>: measure what a microphone hears of a loudspeaker, while a person turns every knob.</summary>
internal sealed class CaptureCommand
{
    private readonly Argument<string> _plan = new("PLAN") { Description = "The show plan (*.plan.yaml)." };
    private readonly Argument<string> _mic = new("MIC") { Description = "The microphone: a planned input by name." };
    private readonly Argument<string> _feed = new("FEED") { Description = "The loudspeaker: a feed such as room, or one of its buses such as \"wedges 3\"." };
    private readonly Option<bool> _noise = new("--noise") { Description = "Measure with quiet pink noise and the desk's meters: the first choice.", Arity = ArgumentArity.Zero };
    private readonly Option<bool> _ringOut = new("--ring-out") { Description = "Measure by letting the loop ring: only if noise will not do, and in trained hands.", Arity = ArgumentArity.Zero };
    private readonly Option<string> _by = new("--by") { Description = "Who measures.", HelpName = "NAME", Required = true };
    private readonly Option<string?> _room = new("--room") { Description = "Whether people are in the room: empty or full.", HelpName = "WORD" };
    private readonly Option<string?> _out = new("--out") { Description = "Write the line to a file instead of standard output.", HelpName = "FILE" };
    private readonly Option<string?> _desk = SharedOptions.Desk();
    private readonly Option<bool> _piped = new("--answers-piped") { Description = "Take answers from standard input although it is no terminal." };

    public static Command Build()
    {
        var capture = new CaptureCommand();
        var command = VerbHelp.Verb("capture", "Measure what a microphone hears of a loudspeaker, and print the line for the plan's couplings.",
            "CAUTION: sudden level can injure hearing and destroy loudspeakers. A person turns every knob; this program asks questions only, hears\n"
            + "nothing, sends no tone and stops nothing. It is no safety system: ears, a sound level meter, local codes and licensed practice decide.\n\n"
            + "--noise comes first: the microphone unassigned from the feed, quiet pink noise to the feed, and the desk's meters (in dB) read at both\n"
            + "ends. --ring-out lets the loop ring, twice, and keeps the desk's gain from before each mute: for trained hands, only if noise will not\n"
            + "do. The steps are printed and asked for one by one. Everything but the line goes to standard error; Ctrl-C ends at once.\n\n"
            + "  statewatch capture show.plan.yaml --noise Lectern room --by \"A. Engineer\" --room empty\n"
            + "  statewatch capture show.plan.yaml --ring-out \"Singer 1\" \"wedges 1\" --by \"A. Engineer\"\n\n"
            + "Exit codes: 0 captured, 1 discarded, void or given up, 3 cannot tell (the desk is silent, another one, or does not tell what is\n"
            + "needed); 64 usage, 65 plan or profile invalid, 66 file missing, 70 fault of the program, 73 file cannot be written.");
        foreach (var argument in (Argument[])[capture._plan, capture._mic, capture._feed])
        {
            command.Arguments.Add(argument);
            SharedOptions.RefuseUnknown(argument, command);
        }

        foreach (var option in (Option[])[capture._noise, capture._ringOut, capture._by, capture._room, capture._out, capture._desk, capture._piped])
            command.Options.Add(option);
        command.SetAction(capture.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var by = RefuseNonsense(parsed);
        var files = new FileSet();
        var (document, profile) = files.ReadPlan(parsed.GetValue(_plan)!);
        // Couplings are of no phase; what the plan has of levels before doors is what a ring-out keeps its distance from.
        var plan = document is not null && profile is not null ? PlanCompiler.Compile(document, profile, Phase.Doors, files.Diagnostics) : null;
        if (plan is null || files.Diagnostics.HasErrors)
            return DiagnosticsOutput.Refuse(files, noColour: false);
        var map = RoutingMap.Of(plan.Profile, plan);
        var (microphone, loudspeaker) = (Microphone(plan, parsed.GetValue(_mic)!), Loudspeaker(plan, parsed.GetValue(_feed)!));
        if (!parsed.GetValue(_piped) && Console.IsInputRedirected)
            throw Usage("capture asks a person at the desk, and standard input is no terminal. Run it in a terminal, or say --answers-piped.");

        using var desk = DeskReading.Open(plan, simulate: false, null, parsed.GetValue(_desk));
        try
        {
            var reading = new LoopReading(new LoopWatch(plan, map, microphone, loudspeaker), desk.Reader, desk.Cancel);
            var hand = new DeskHand(parsed.GetValue(_piped), desk.Cancel);
            hand.Tell(CaptureWords.Caution + "\n");
            var loss = parsed.GetValue(_noise) ? new NoiseCapture(reading, hand).Run() : new RingOutCapture(reading, hand).Run();
            var line = new CouplingText(microphone.Name, loudspeaker.Words, loss, plan.Document.DayOf(TimeProvider.System.GetLocalNow()), by, parsed.GetValue(_room), reading.Watch.NotedSetup);
            Report(hand, line, parsed.GetValue(_out));
            return ExitCodes.AsPlanned;
        }
        catch (OperationCanceledException)
        {
            throw DeskHand.Ended("ended with Ctrl-C. Mute now, if anything is open");
        }
    }

    private static void Report(DeskHand hand, CouplingText line, string? path)
    {
        if (!line.IsInRange)
            throw DeskHand.Ended($"a loss of {CaptureWords.Level(line.Loss)} is beyond what a plan takes ({CouplingText.Least:0} to {CouplingText.Most:0} dB): gain, pad or patch are other than the desk says");
        hand.Tell($"CAPTURED: {CaptureWords.Level(line.Rounded)} of loss, good to about 3 dB. It holds for this rig, this place of the microphone and this setup, for {MeasuredLoss.Days} days.");
        if (line.Setup is null)
            hand.Tell("Not all of the loop's setup was seen, so the line has no fingerprint: nobody will notice when EQ or inserts change.");
        hand.Tell("Put the show's gates, compressors, automix, sends and mutes back: faders down first. The line for couplings:");
        var text = line.Write();
        ReportOutput.Write(Encoding.UTF8.GetBytes(text), path, () => text);
    }

    private string RefuseNonsense(ParseResult parsed)
    {
        if (parsed.GetValue(_noise) == parsed.GetValue(_ringOut))
            throw Usage(parsed.GetValue(_noise) ? "--noise and --ring-out are two ways; give one." : "say how: --noise, the quieter way that comes first, or --ring-out, in trained hands.");
        if (parsed.GetValue(_room) is not (null or "empty" or "full") and var word)
            throw Usage($"'{PlainText.Clean(word, 60)}' is not a value of --room; write empty or full.");
        var by = parsed.GetValue(_by)!.Trim();
        return by.Length is > 0 and <= 200 ? by : throw Usage("--by needs a name of 1 to 200 characters.");
    }

    private static PlannedStrip Microphone(ShowPlan plan, string text)
    {
        var inputs = plan.Strips.Where(strip => strip.Strip.Kind == "input").ToList();
        var named = inputs.Where(strip => strip.Name == text).ToList();
        if (named.Count == 0)
            named = [.. inputs.Where(strip => string.Equals(strip.Name, text, StringComparison.OrdinalIgnoreCase))];
        if (named.Count == 1)
            return named[0];
        throw Usage(named.Count > 1 ? $"the plan names {named.Count} inputs '{PlainText.Clean(text, 60)}', and a coupling is of one: give them names of their own."
            : $"the plan has no input '{PlainText.Clean(text, 60)}'{Near(text, inputs.Select(strip => strip.Name))}");
    }

    private static Loudspeaker Loudspeaker(ShowPlan plan, string text)
    {
        var words = plan.Loudspeakers.Select(item => item.Words).ToList();
        return plan.Loudspeakers.FirstOrDefault(item => item.Words == text) ?? plan.Loudspeakers.FirstOrDefault(item => string.Equals(item.Words, text, StringComparison.OrdinalIgnoreCase))
            ?? throw Usage($"the plan has no loudspeaker '{PlainText.Clean(text, 60)}'{Near(text, words)} A loudspeaker is a feed for room, subs, front-fill, monitor or overflow; of one with several buses that is not stereo, each bus.");
    }

    private static string Near(string text, IEnumerable<string> known)
    {
        var all = known.ToList();
        return NearestWord.Among(text, all) is { } near ? $"; did you mean '{near}'?" : all.Count == 0 ? "; it names none." : $". It has: {string.Join(", ", all.Take(40))}{(all.Count > 40 ? $" and {all.Count - 40} more" : "")}.";
    }

    private static CommandException Usage(string problem) => new(ExitCodes.Usage, $"statewatch: {problem}");
}
