using System.Diagnostics;

namespace StateWatch.Tests.Support;

/// <summary>Runs the program as a user would: a process with its own standard streams.</summary>
internal static class StatewatchProcess
{
    private static readonly string Assembly = Path.Combine(AppContext.BaseDirectory, "statewatch.dll");

    /// <summary>Runs it to its end, at most half a minute.</summary>
    public static async Task<(int ExitCode, string Output, string Errors)> Run(params string[] args)
    {
        using var process = Start(args);
        using var limit = new CancellationTokenSource(TimeSpan.FromSeconds(30));
        var output = process.StandardOutput.ReadToEndAsync(limit.Token);
        var errors = process.StandardError.ReadToEndAsync(limit.Token);
        try
        {
            await process.WaitForExitAsync(limit.Token);
            return (process.ExitCode, await output, await errors);
        }
        catch (OperationCanceledException problem)
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException($"statewatch {string.Join(' ', args)} did not end within 30 s", problem);
        }
    }

    /// <summary>Starts it with standard streams redirected; the caller ends it.</summary>
    public static Process Start(params string[] args) => Process.Start(Info(args)) ?? throw new InvalidOperationException("dotnet did not start");

    /// <summary>How it is started.</summary>
    public static ProcessStartInfo Info(params string[] args)
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true, WorkingDirectory = AppContext.BaseDirectory };
        start.ArgumentList.Add(Assembly);
        foreach (var arg in args)
            start.ArgumentList.Add(arg);
        start.Environment.Remove("NO_COLOR");
        // What tests are told by, such as a seed, is no setting of the program.
        foreach (var name in start.Environment.Keys.Where(static name => name.StartsWith("STATEWATCH_", StringComparison.Ordinal)).ToList())
            start.Environment.Remove(name);
        return start;
    }
}
