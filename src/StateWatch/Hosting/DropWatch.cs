using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;

namespace StateWatch.Hosting;

/// <summary>Tells when datagrams of a desk were lost on this machine: too many at once, or too long ones. What was in them is asked for again, later.</summary>
/// <param name="counts">Each desk's name, and how many were lost so far.</param>
/// <param name="self">Who is told.</param>
/// <param name="clock">The time.</param>
/// <param name="log">The log.</param>
internal sealed class DropWatch(Func<IEnumerable<(string Name, long Lost)>> counts, ISelfReport self, TimeProvider clock, ILogger log)
{
    /// <summary>How long nothing may be lost until it is over.</summary>
    public static readonly TimeSpan Quiet = TimeSpan.FromMinutes(1);

    private readonly Dictionary<string, (long Lost, long At)> _last = new(StringComparer.Ordinal);

    /// <summary>Looks once.</summary>
    public void Look()
    {
        foreach (var (name, lost) in counts())
        {
            var (before, at) = _last.GetValueOrDefault(name);
            var id = $"datagrams-dropped:{name}";
            // A link that was opened anew counts from zero.
            if (lost > before)
            {
                if (at == 0)
                    log.DatagramsDropped(name, lost);
                _last[name] = (lost, clock.GetTimestamp());
                self.Report(id, Severity.Warning, new AlertWords("datagrams-dropped", $"{lost:N0} datagrams of {name} were lost on this machine, because too many came at once or they were too long",
                    "What changed is seen late: it is asked for again in rounds.", "Look what else keeps this machine busy, and whether something floods the network."));
            }
            else if (lost < before)
                _last[name] = (lost, at);
            else if (at != 0 && clock.GetElapsedTime(at) >= Quiet)
            {
                _last[name] = (lost, 0);
                self.Clear(id);
            }
        }
    }
}
