using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.Tests.History;

namespace StateWatch.KillTarget;

/// <summary>
/// A desk on which something is raised or cleared in every commit. How many commits there were stands in the cue of the standing, and each commit leaves one
/// line "commit N" in the journal of the show, so that anybody can see what belongs together.
/// </summary>
public sealed class CommitStorm
{
    public const string Desk = "hall/desk";
    private readonly DeskStory _story = new(Desk);

    /// <summary>A storm that goes on from what is stored.</summary>
    public CommitStorm(StoredDesk? stored)
    {
        if (stored is null)
            return;
        Commits = int.Parse(stored.Standing.Cue!, CultureInfo.InvariantCulture);
        _story.Wait((stored.Ledger.Ledger.At.Wall - DeskStory.Morning).TotalSeconds);
        _story.Restart(stored, away: 1);
    }

    public int Commits { get; private set; }

    public WatchOutput Next()
    {
        Commits++;
        var check = Commits / 2 % 6;
        if (Commits % 2 == 0)
            _story.Drift(check, Severity.Urgent);
        else
            _story.Match(check);
        _story.Wait(Commits % 2 == 0 ? 10 : 70);
        _story.See(100, Commits % 100, 0);
        _story.Tell(ShowEventKind.CueBegan, $"commit {Commits}");
        _story.Cue = Commits.ToString(CultureInfo.InvariantCulture);
        return _story.Take();
    }
}
