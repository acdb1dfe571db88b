using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Core.Tests.Documents;

namespace StateWatch.Benchmarks.Hostile;

/// <summary>Reads every hostile file of the tests and prints how long the answer took: <c>-- hostile LARCH-PROFILE [WORD]</c>.</summary>
internal static class HostileTable
{
    /// <summary>The goal of one answer, in milliseconds.</summary>
    private const double Goal = 100;

    public static int Run(string profileFile, string filter)
    {
        var desk = ProfileReader.Read(new SourceText(profileFile, File.ReadAllText(profileFile)), new DiagnosticBag());
        if (desk is null)
            return 65;
        var slow = 0;
        Console.WriteLine("| what | read as | bytes | CPU ms | code | place | told |\n| --- | --- | ---: | ---: | --- | --- | ---: |");
        foreach (var file in HostileFiles.All.Where(file => file.What.Contains(filter, StringComparison.Ordinal)))
        {
            var bytes = file.Bytes();
            var best = double.MaxValue;
            DiagnosticBag told = new();
            // The first time pays for the compilation of our own code; the best of the others is the file's own time.
            for (var i = 0; i < 4 && (i < 1 || best < 2000); i++)
            {
                GC.Collect();
                // Processor time, not the clock's: other people work on this machine.
                var start = Environment.CpuUsage.TotalTime;
                told = file.Read(bytes, desk).Diagnostics;
                best = Math.Min(best, (Environment.CpuUsage.TotalTime - start).TotalMilliseconds);
            }

            slow += best > Goal ? 1 : 0;
            var first = told.Items.Count > 0 ? told.Items[0] : null;
            Console.WriteLine($"| {file.What.Replace("|", "\\|", StringComparison.Ordinal)} | {file.Kind.ToString().ToLowerInvariant()} | {bytes.Length:N0} | {best:0.0}{(best > Goal ? " (over)" : "")} | {first?.Code.Id ?? "good"} | {first?.At.Place} | {told.Items.Count + told.Dropped:N0} |");
        }

        Console.WriteLine($"\nOver {Goal} ms: {slow}");
        return slow == 0 ? 0 : 1;
    }
}
