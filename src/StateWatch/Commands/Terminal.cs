namespace StateWatch.Commands;

/// <summary>What the terminal can and may show.</summary>
internal static class Terminal
{
    /// <summary>Whether colour is welcome on standard output: a terminal, NO_COLOR not set, not refused.</summary>
    public static bool Colour(bool refused) =>
        !refused && !Console.IsOutputRedirected && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"));

    /// <summary>A progress line on standard error, or null when it is no terminal or quiet was asked for.</summary>
    public static Action<int, int>? Progress(bool quiet, string what)
    {
        if (quiet || Console.IsErrorRedirected)
            return null;
        var last = -1;
        return (done, all) =>
        {
            var percent = all == 0 ? 100 : (int)(100L * done / all);
            if (percent == last)
                return;
            last = percent;
            Console.Error.Write($"\r{what} {done:N0} of {all:N0} ({percent} %)");
            if (percent == 100)
                Console.Error.Write("\r" + new string(' ', 60) + "\r");
        };
    }
}
