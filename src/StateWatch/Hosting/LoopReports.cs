using System.Collections.Concurrent;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.Links;

namespace StateWatch.Hosting;

/// <summary>Says what goes wrong in loops: to the log, and as findings of the watch itself.</summary>
internal sealed class LoopReports(ISelfReport self, ILogger log)
{
    private readonly ConcurrentDictionary<string, bool> _failing = new(StringComparer.Ordinal);

    /// <summary>A watch failed and will be begun anew.</summary>
    public void Failed(string desk, Exception problem, TimeSpan pause)
    {
        _failing[desk] = true;
        if (problem is LinkException link)
        {
            log.LinkNotOpened(desk, link.Message, pause.TotalSeconds);
            self.Report($"link-not-opened:{DeskKey.NameOf(desk)}", Severity.Urgent, new AlertWords("link-not-opened", $"there is no link to {desk}: {link.Where}: {link.What}: {link.Why}",
                "The desk is not watched.", $"{char.ToUpperInvariant(link.Advice[0])}{link.Advice[1..]}; it is tried again every {pause.TotalSeconds:0} s."));
            return;
        }

        log.LoopFailed(problem, desk, pause.TotalSeconds);
        self.Report($"watch-failing:{DeskKey.NameOf(desk)}", Severity.Urgent, new AlertWords("watch-failing", $"the watch of {desk} failed ({problem.GetType().Name}) and begins anew in {pause.TotalSeconds:0} s",
            "While it begins anew the desk is not watched.", "Please report it with the log of this time; it is a fault of the program."));
    }

    /// <summary>A watch came round. Cheap when it did so before.</summary>
    public void Turned(string desk)
    {
        if (!_failing.TryRemove(desk, out _))
            return;
        log.LoopGoesOn(desk);
        self.Clear($"link-not-opened:{DeskKey.NameOf(desk)}");
        self.Clear($"watch-failing:{DeskKey.NameOf(desk)}");
    }

    /// <summary>A rule failed while a desk was judged; the watch of the desk goes on without it.</summary>
    /// <param name="desk">site/desk.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="problem">What it threw; null when it judges again.</param>
    public void RuleFailed(string desk, string rule, Exception? problem)
    {
        var id = $"rule-failed:{DeskKey.NameOf(desk)}/{rule}";
        if (problem is null)
        {
            self.Clear(id);
            return;
        }

        log.RuleFailed(problem, rule, desk);
        self.Report(id, Severity.Warning, new AlertWords("rule-failed", $"the rule {rule} failed at {desk} ({problem.GetType().Name}); all other rules go on",
            "What it looks for is not found there.", "Look for it by hand, and please report it with the log of this time; it is a fault of the program."));
    }
}
