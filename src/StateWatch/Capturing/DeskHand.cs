using System.Collections.Concurrent;
using StateWatch.Commands;

namespace StateWatch.Capturing;

/// <summary>Whoever turns the knobs: is told things on standard error and answers with lines.</summary>
internal sealed class DeskHand
{
    private readonly BlockingCollection<string> _lines = [];
    private readonly TextWriter _told = Console.Error;
    private readonly bool _isPiped;
    private readonly CancellationToken _cancel;

    /// <summary>Listens to standard input on a thread of its own, so that Ctrl-C is heard while nothing is typed.</summary>
    /// <param name="isPiped">Whether answers may have been written before their question.</param>
    /// <param name="cancel">Ends the wait for an answer.</param>
    public DeskHand(bool isPiped, CancellationToken cancel)
    {
        (_isPiped, _cancel) = (isPiped, cancel);
        new Thread(Listen) { IsBackground = true, Name = "answers" }.Start();
    }

    /// <summary>Tells something.</summary>
    public void Tell(string text) => _told.WriteLine(text);

    /// <summary>Tells a list, numbered.</summary>
    public void TellSteps(IReadOnlyList<string> steps)
    {
        for (var i = 0; i < steps.Count; i++)
            Tell($"{i + 1,3}. {steps[i]}");
    }

    /// <summary>Waits for Enter.</summary>
    public void Await(string question) => _ = Ask(question);

    /// <summary>Waits for yes or no.</summary>
    public bool Confirm(string question)
    {
        while (true)
        {
            switch (Ask($"{question} Write yes or no.").Trim().ToLowerInvariant())
            {
                case "yes" or "y":
                    return true;
                case "no" or "n":
                    return false;
            }
        }
    }

    /// <summary>Ends everything unless the answer is yes.</summary>
    /// <exception cref="CommandException">It is not (exit 1).</exception>
    public void Require(string question)
    {
        if (!Confirm(question))
            throw Ended("not confirmed");
    }

    /// <summary>The end without a result.</summary>
    public static CommandException Ended(string why) => new(ExitCodes.Warnings, $"statewatch: NOT CAPTURED: {why.TrimEnd('.')}. Nothing is written.");

    private string Ask(string question)
    {
        // What was typed before the question is no answer to it.
        while (!_isPiped && _lines.TryTake(out _))
        {
        }

        Tell($"> {question}");
        return _lines.TryTake(out var line, Timeout.Infinite, _cancel) ? line : throw Ended("standard input ended before it was answered");
    }

    private void Listen()
    {
        while (Console.In.ReadLine() is { } line)
            _lines.Add(line);
        _lines.CompleteAdding();
    }
}
