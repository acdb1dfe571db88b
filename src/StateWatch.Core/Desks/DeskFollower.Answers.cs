using StateWatch.Core.Links;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Desks;

/// <content>What comes in.</content>
public sealed partial class DeskFollower
{
    void IDatagramReceiver.OnDatagram(ReadOnlySpan<byte> datagram, long receivedAt)
    {
        if (_items++ == 0)
            _workEnds = _clock.GetTimestamp() + _times.Work;
        _lastReceived = Math.Max(_lastReceived, receivedAt);
        var known = _decoder.Counters.Messages;
        _decoder.Take(datagram);
        if (_decoder.Counters.Messages == known)
            return;
        _heard = Math.Max(_heard, receivedAt);
        if (Phase == FollowPhase.Lost && _profile.Identity is null)
            BeginSession();
    }

    void IAnswerListener.OnAnswer(int endpoint)
    {
        var wasAsked = _queue.IsInFlight(endpoint);
        _queue.MarkAnswered(endpoint);
        _known = endpoint;
        _progress.MarkRead(endpoint);
        if (_subscription.IsKeptBy(endpoint))
            Kept();
        var (changed, replaced) = (_changed, _replaced);
        _changed = _replaced = false;
        if (changed && (replaced || !wasAsked))
            _confirmations.Add(endpoint, _clock.GetTimestamp());
        if (!replaced)
            return;
        foreach (var rule in _rulesOf[endpoint])
            Invalidate(rule);
    }

    void IAnswerListener.OnChange(int setting, bool wasFresh)
    {
        Batch.Change(setting);
        _changed = true;
        _replaced |= wasFresh;
    }

    void IAnswerListener.OnIdentity(in OscMessage message)
    {
        if (message.Tags.IsEmpty)
            return;
        _queue.MarkAnswered(_queue.Identity);
        var expected = _greeting.Take(message, out var isNew);
        if (expected && Phase == FollowPhase.Lost)
            BeginSession();
        else if (!expected && Phase != FollowPhase.Lost)
            Lose(FollowEvent.AnotherDesk);
        else if (!expected && isNew)
            Tell(FollowEvent.AnotherDesk);
        // A stranger is no silence.
        _silenceTold |= !expected;
        if (expected && _subscription.IsKeptByIdentity)
            Kept();
    }

    void IAnswerListener.OnKeptAlive() => Kept();

    void IAnswerListener.OnInvalidated(int rule) => Invalidate(rule);
}
