using StateWatch.Core.Auditing;
using StateWatch.Core.Documents;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Watching;

/// <content>Orders: phases and cues, plans, what people say of findings, what sinks say.</content>
public sealed partial class DeskWatch
{
    private const string Settling = "cue";

    // Of names in an answer.
    private const int MostNames = 40;

    private ShowStanding Begin(ShowStanding? stored, Phase? phase, Moment now)
    {
        var show = _plan.Document.Show;
        // A cue that the plan no longer has cannot be gone on with.
        var goesOn = stored is not null && phase is null && (stored.Cue is null || _plan.Cues.Contains(stored.Cue));
        return goesOn ? stored! with { Show = show, Plan = _plan.Fingerprint }
            : stored is not null ? stored with { Show = show, Phase = phase ?? stored.Phase, Cue = null, Since = now.Wall, Plan = _plan.Fingerprint }
            : new ShowStanding(show, phase ?? _plan.Document.SweepPhase ?? Phase.Show, null, now.Wall, _plan.Fingerprint);
    }

    // What was stored and does not hold any more is no secret.
    private void GoOn(ShowStanding? stored, Moment now)
    {
        if (stored?.Cue is { } cue && _standing.Cue is null)
            Happened(now, ShowEventKind.CueEnded, cue, null);
        ForgetOldBaseline(now);
    }

    private void TakeOrders(Moment now)
    {
        while (_orders.TryDequeue(out var order))
        {
            Tape?.Order(order);
            var result = Take(order, now);
            // Whoever orders something looks at once what became of it.
            if (order is not (DeliveredOrder or SinkOrder))
                _nextStatus = now.Clock;
            order.Reply?.Invoke(result);
        }
    }

    private OrderResult Take(WatchOrder order, Moment now) => order switch
    {
        PhaseOrder phase => BeginPhase(phase, now),
        CueOrder cue => BeginCue(cue, now),
        ReloadOrder reload => Reload(reload, now),
        AcknowledgeOrder acknowledge => OrderTexts.Said(_ledger.Acknowledge(KeyOf(acknowledge.Key), acknowledge.By, now), acknowledge.Key, "acknowledged for 20 min"),
        HoldFindingOrder hold => PutAside(hold, now),
        ReleaseOrder release => OrderTexts.Said(_ledger.Unshelve(KeyOf(release.Key), release.By, now), release.Key, "told again"),
        DeliveredOrder delivered => Deliver(delivered, now),
        SinkOrder sink => Heard(sink.IsUp ? _ledger.SinkRecovered(sink.Sink, sink.HasLostWaiting, now) : _ledger.SinkLost(sink.Sink, now), sink.Sink),
        _ => throw new ArgumentOutOfRangeException(nameof(order)),
    };

    private OrderResult BeginPhase(PhaseOrder order, Moment now)
    {
        if (_standing.Phase == order.Phase && _standing.Cue is null)
            return new OrderResult(CommandOutcome.Done, $"{order.Phase.Word()} it is already");
        TakeBaseline(order.Phase, now);
        // It goes back: one event is over, and another begins.
        if (order.Phase < _standing.Phase)
            _ledger.EventEnds(now.Wall, now);
        _standing = _standing with { Phase = order.Phase, Cue = null, Since = now.Wall };
        Happened(now, ShowEventKind.PhaseBegan, order.Phase.Word(), order.By);
        Switch(now, CloseReason.PhaseChanged, TimeSpan.Zero, order.By);
        return new OrderResult(CommandOutcome.Done, $"{order.Phase.Word()} from now on");
    }

    private OrderResult BeginCue(CueOrder order, Moment now)
    {
        if (order.Cue is null && _standing.Cue is null)
            return new OrderResult(CommandOutcome.NotHeld, "there is no cue to end");
        if (order.Cue is { } name && !_plan.Cues.Contains(name))
            return new OrderResult(CommandOutcome.UnknownKey, NoSuchCue(name));
        var was = _standing.Cue;
        // Senders repeat themselves, and people press twice: the desk has the time it had.
        if (order.Cue is not null && string.Equals(order.Cue, was, StringComparison.Ordinal) && _standing.Phase == Phase.Show)
            return new OrderResult(CommandOutcome.Done, $"{was} it is already");
        // A cue is a moment of the show, whatever phase somebody forgot to leave.
        var phase = order.Cue is null ? _standing.Phase : Phase.Show;
        TakeBaseline(phase, now);
        var begins = phase != _standing.Phase;
        _standing = _standing with { Phase = phase, Cue = order.Cue, Since = now.Wall };
        if (begins)
            Happened(now, ShowEventKind.PhaseBegan, phase.Word(), order.By);
        Happened(now, order.Cue is null ? ShowEventKind.CueEnded : ShowEventKind.CueBegan, order.Cue ?? was!, order.By);
        Switch(now, CloseReason.PhaseChanged, SettleOf(order.Cue ?? was!), order.By);
        return new OrderResult(CommandOutcome.Done, order.Cue is null ? $"{was} is over" : $"{order.Cue} from now on");
    }

    // A desk that does not say what changes is known to be there a round later than it is.
    private TimeSpan SettleOf(string cue)
    {
        var settle = _plan.Document.Cues.FirstOrDefault(line => string.Equals(line.Key.Text, cue, StringComparison.Ordinal))?.Settle ?? CueLine.DefaultSettle;
        return _plan.Profile.Follow.KeepAlive is null && settle > TimeSpan.Zero ? settle + _plan.Profile.Follow.Round : settle;
    }

    private string NoSuchCue(string name)
    {
        if (_plan.Cues.Count == 0)
            return $"the plan of {Desk} has no cues, so there is no cue '{name}'";
        var near = NearestWord.Among(name, _plan.Cues);
        return $"the plan of {Desk} has no cue '{name}'{(near is null ? "." : $"; did you mean '{near}'?")} Its cues: {string.Join(", ", _plan.Cues.Take(MostNames))}{(_plan.Cues.Count > MostNames ? $" and {_plan.Cues.Count - MostNames} more" : "")}";
    }

    private OrderResult Reload(ReloadOrder order, Moment now)
    {
        if (order.Plan is not { } plan)
        {
            Happened(now, ShowEventKind.PlanRefused, order.Fault ?? "it has faults", order.By);
            return new OrderResult(CommandOutcome.NoValues, $"the plan before goes on: {order.Fault}");
        }

        if (!ReferenceEquals(plan.Profile, _plan.Profile))
            return new OrderResult(CommandOutcome.NoValues, "another profile needs another link, and so another watch");
        (_plan, _schedule) = (plan, ShowSchedule.Of(plan.Document));
        _standing = _standing with { Show = plan.Document.Show, Plan = plan.Fingerprint };
        Happened(now, ShowEventKind.PlanReloaded, plan.Document.Show, order.By);
        var gone = _standing.Cue is { } name && !plan.Cues.Contains(name) ? name : null;
        if (gone is not null)
        {
            _standing = _standing with { Cue = null, Since = now.Wall };
            Happened(now, ShowEventKind.CueEnded, gone, order.By);
        }

        EndShelvesWithTheEvent(now);
        Switch(now, CloseReason.PlanChanged, gone is null ? null : TimeSpan.Zero, order.By);
        return new OrderResult(CommandOutcome.Done, gone is null ? "the plan was read anew" : $"the plan was read anew; it has no cue '{gone}', so the plan of {_standing.Phase.Word()} holds");
    }

    // The desk stays as it is; what is judged changes, at one moment. What settles goes on where nothing is said of it.
    private void Switch(Moment now, CloseReason why, TimeSpan? settle, string by)
    {
        var before = _followed.Audit;
        var audit = NewAudit();
        _follower.Want(audit.Inputs);
        _followed = new FollowedAudit(_follower, audit);
        JudgeAnew(audit, _plan.Document.DayOf(now.Wall));
        var checks = AuditReadings.ChecksOf(audit, _follower.State);
        _ledger.Reload(checks, now, why);
        if (settle is { } span && span > TimeSpan.Zero)
            _ledger.Settle(Settling, by, Moved(before, audit, checks), span, now);
        else if (settle is not null)
            _ledger.EndExpected(Settling, now);
        _readings = new AuditReadings(audit, _ledger);
        Number(checks);
        _readings.HandIn(now, isEverything: true);
        _nextStatus = now.Clock;
    }

    // The checks that look at a setting of which both plans do not say the same, and those that only the new one has.
    private List<int> Moved(LiveAudit before, LiveAudit after, IReadOnlyList<WatchedCheck> checks)
    {
        var moved = new List<int>();
        var isMoved = new bool[after.Count];
        for (var check = 0; check < checks.Count; check++)
        {
            isMoved[check] = !_checkOf.ContainsKey($"{Desk}/{checks[check].Id}");
            if (isMoved[check])
                moved.Add(check);
        }

        for (var setting = 0; setting < after.Plan.Profile.Settings.Count; setting++)
        {
            if (AllowsSame(before.Plan.For(setting), after.Plan.For(setting)))
                continue;
            foreach (var check in after.DecidedBy(setting))
            {
                if (!isMoved[check])
                    moved.Add(check);
                isMoved[check] = true;
            }
        }

        return moved;
    }

    private static bool AllowsSame(Expectation? one, Expectation? other) => one is null ? other is null : other is not null && one.SameAs(other);

    private OrderResult PutAside(HoldFindingOrder hold, Moment now)
    {
        EndShelvesWithTheEvent(now);
        var outcome = _ledger.Shelve(KeyOf(hold.Key), hold.By, hold.Why, hold.Span, hold.IsOneShot, now);
        return OrderTexts.Said(outcome, hold.Key, outcome == CommandOutcome.Done ? OrderTexts.PutAside(hold, _ledger.Find(KeyOf(hold.Key))!.Shelf!.Until - now.Clock) : "");
    }

    // Whatever is put aside is for this event: it would hide a fault of the next.
    private void EndShelvesWithTheEvent(Moment now) => _ledger.EventEnds(_schedule?.EventEnd(now.Wall) + OrderWithin, now);

    private OrderResult Deliver(DeliveredOrder order, Moment now)
    {
        _ledger.Delivered(order.Announcement, now);
        return new OrderResult(CommandOutcome.Done, "");
    }

    private static OrderResult Heard(bool isKnown, string sink) => isKnown ? new OrderResult(CommandOutcome.Done, "") : new OrderResult(CommandOutcome.UnknownKey, $"there is no sink '{sink}'");

    private string KeyOf(string key) => LedgerOutlet.KeyOf(Desk, key);
}
