using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Watching;

/// <content>What the desk and the judgement bring goes to the ledger; what the ledger decides becomes alerts.</content>
public sealed partial class DeskWatch
{
    private void HandIn(Moment now)
    {
        var wasHandedIn = false;
        foreach (var notice in _follower.Batch.Notices)
        {
            switch (notice.Event)
            {
                case FollowEvent.SessionBegan:
                    _ledger.LinkUp(++_ledgerSession, now);
                    Happened(now, ShowEventKind.SessionBegan, _link.Desk, null);
                    break;
                case FollowEvent.ReadEnded:
                    Happened(now, ShowEventKind.ReadEnded, notice.Unanswered == 0 ? "everything answered" : $"{notice.Unanswered} questions stayed unanswered", null);
                    if (_follower.Phase != FollowPhase.Following)
                        break;
                    // Where nothing came in since it was judged last, that is how it stands.
                    _readings.HandIn(now, isEverything: true);
                    wasHandedIn = true;
                    _ledger.SnapshotDone(_ledgerSession, now);
                    _samples.Add(Sample(now));
                    break;
                case FollowEvent.ReadAgain:
                    Happened(now, ShowEventKind.ReadAgain, Again(notice.Rule), null);
                    if (_plan.Profile.Follow.Invalidations[notice.Rule].Endpoints is null)
                        _ledger.Gap(++_ledgerSession, now);
                    break;
                default:
                    Lost(notice, now);
                    break;
            }
        }

        if (_followed.WasJudged && !wasHandedIn)
            _readings.HandIn(now);
        if (wasHandedIn && _standing.AwaitsBaseline)
            TakeLateBaseline(now);
    }

    private void Lost(FollowNotice notice, Moment now)
    {
        var kind = notice.Event switch
        {
            FollowEvent.AnotherDesk => ShowEventKind.AnotherDesk,
            FollowEvent.SubscriptionLost => ShowEventKind.SubscriptionLost,
            _ => ShowEventKind.DeskSilent,
        };
        Happened(now, kind, kind == ShowEventKind.AnotherDesk ? string.Join(' ', _follower.Identity) : _link.Desk, null);
        // A desk that answers no keep-alive is asked in rounds; that is no loss of it.
        if (notice.Event == FollowEvent.SubscriptionLost && _follower.Phase != FollowPhase.Lost && _follower.Session == notice.Session)
            return;
        if (_lostBy != notice.Event)
            SayWhyLost(notice.Event);
        _ledger.LinkLost(_ledgerSession, now);
        _samples.Add(Sample(now));
    }

    // Who was told that nothing answers looks for a cable, also when by now it is another desk that answers.
    private void SayWhyLost(FollowEvent why)
    {
        _lostBy = why;
        var key = LedgerOutlet.KeyOf(Desk, "source-unreachable:desk");
        if (_words.Last(key) is not null)
            _words.Remember(key, Unreachable());
    }

    private AlertWords Unreachable() => WatchWords.Unreachable(_link.Desk, _lostBy, string.Join(' ', _follower.Identity));

    private string Again(int rule) => _plan.Profile.Follow.Invalidations[rule].Endpoints is { } part ? $"{part.Count} addresses" : "everything";

    private AlertWords? WordsOf(string key, bool isOpen, IReadOnlyList<string> members)
    {
        if (!isOpen)
            return _words.Last(key) ?? (_checkOf.TryGetValue(key, out var over) ? WatchWords.Over(_followed.Audit.RuleOf(over), _followed.Audit.SubjectPathOf(over, _follower.State)) : null);
        if (_checkOf.TryGetValue(key, out var check))
        {
            return _followed.Audit.SeverityOf(check) > Severity.Silent && _ledger.IsViewFresh
                ? Written(key, check) is { } words ? _words.Remember(key, words) : null
                : _words.Last(key) ?? Fallback(key);
        }

        return key[(Desk.Length + 1)..] switch
        {
            "source-unreachable:desk" => _words.Remember(key, Unreachable()),
            "incomplete-view:desk" => _words.Remember(key, WatchWords.Incomplete(_link.Desk, Unread())),
            "bulk-change:desk" when members.Count > 0 => _words.Remember(key, WatchWords.Bulk(members.Count, members[0][(Desk.Length + 1)..])),
            _ => _words.Last(key),
        };
    }

    private AlertWords? Fallback(string key) =>
        _checkOf.TryGetValue(key, out var check) ? WatchWords.Of(_followed.Audit.RuleOf(check), _followed.Audit.SubjectPathOf(check, _follower.State)) : null;

    private void Number(IReadOnlyList<WatchedCheck> checks)
    {
        _checkOf.Clear();
        for (var check = 0; check < checks.Count; check++)
            _checkOf[$"{Desk}/{checks[check].Id}"] = check;
    }
}
