using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Reports;

/// <summary>Whether a feed can be relied on.</summary>
public enum FeedState
{
    /// <summary>Everything planned for it was seen and nothing urgent or worth a warning is heard there.</summary>
    Ready,

    /// <summary>Nothing wrong was found, but not everything could be seen.</summary>
    NotSeen,

    /// <summary>Something is wrong that is heard there.</summary>
    NotReady,
}

/// <summary>A feed and its state.</summary>
/// <param name="Feed">The feed.</param>
/// <param name="State">Its state.</param>
public sealed record FeedStatus(Feed Feed, FeedState State);

/// <summary>Says for every feed that leaves the desk whether what was found or not seen can be heard there.</summary>
public static class FeedReadiness
{
    /// <summary>The feeds in the order of the plan.</summary>
    public static IReadOnlyList<FeedStatus> Of(SweepResult result)
    {
        var reach = new PlannedReach(result.Subject.Plan);
        var feeds = reach.Feeds;
        if (result.Read.End is ReadEnd.Silent or ReadEnd.AnotherDesk)
            return [.. feeds.Select(feed => new FeedStatus(feed, FeedState.NotSeen))];
        var wrong = new HashSet<Feed>();
        foreach (var finding in result.Audit.Findings.Where(finding => finding.Severity >= Severity.Warning))
        {
            wrong.UnionWith(reach.HeardAt(finding.Setting));
            if (finding.Words.HeardIn is { } keys)
                wrong.UnionWith(feeds.Where(feed => keys.Split('\n').Contains(feed.Key, StringComparer.Ordinal)));
        }

        var unseen = new HashSet<Feed>();
        foreach (var setting in result.Unseen.Select(item => item.Setting).Concat(result.Audit.CannotTell.SelectMany(item => item.Missing)).Distinct())
            unseen.UnionWith(reach.HeardAt(setting));
        return [.. feeds.Select(feed => new FeedStatus(feed, wrong.Contains(feed) ? FeedState.NotReady : unseen.Contains(feed) ? FeedState.NotSeen : FeedState.Ready))];
    }
}
