using System.Collections;
using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>
/// Says that the service is alive as long as every loop comes round, and keeps silent when one does not, so that the manager starts the service anew. Also
/// where no manager waits for it, a loop that stands still is told.
/// </summary>
internal sealed class Watchdog(IReadOnlyList<DeskLoop> loops, SystemNotices notices, ISelfReport self, ILogger log)
{
    private readonly HashSet<string> _stalled = new(StringComparer.Ordinal);

    /// <summary>How long a loop may take to come round, and how often the manager is told; half of what it waits for.</summary>
    public TimeSpan Half { get; init; } = DeskLoop.Still;

    /// <summary>Half of <c>WATCHDOG_USEC</c> (sd_watchdog_enabled(3)), or null when no manager waits for this process.</summary>
    public static TimeSpan? HalfOf(IDictionary environment, int process)
    {
        if (environment["WATCHDOG_PID"] is string pid && pid != process.ToString(CultureInfo.InvariantCulture))
            return null;
        return environment["WATCHDOG_USEC"] is string text && long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var micros) && micros > 0
            ? TimeSpan.FromMicroseconds(micros / 2.0)
            : null;
    }

    /// <summary>Looks once.</summary>
    /// <returns>Whether the manager was told.</returns>
    public bool Look()
    {
        foreach (var loop in loops)
        {
            var since = loop.SinceBeat;
            var id = $"loop-stalled:{DeskKey.NameOf(loop.Desk)}";
            if (since < Half)
            {
                if (_stalled.Remove(loop.Desk))
                    self.Clear(id);
            }
            else if (_stalled.Add(loop.Desk))
            {
                log.LoopStalled(loop.Desk, Math.Round(since.TotalSeconds, 1));
                self.Report(id, Severity.Urgent, new AlertWords("loop-stalled", $"the loop of {loop.Desk} did not come round for {since.TotalSeconds:0} s", "The desk is not watched.", "Restart the service; it goes on from what is stored."));
            }
        }

        if (_stalled.Count > 0)
            return false;
        notices.Alive();
        return true;
    }
}
