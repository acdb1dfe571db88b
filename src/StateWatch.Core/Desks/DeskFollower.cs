using StateWatch.Core.Links;
using StateWatch.Core.Profiles;

namespace StateWatch.Core.Desks;

/// <summary>
/// Follows a desk for as long as one likes, over a link that can only ask: finds it, reads it whole, then takes what it sends, keeps it sending, asks
/// everything again in rounds, and begins anew when the link, the subscription or the desk was lost. Call <see cref="Next"/> again and again; each
/// call is one numbered batch. For one thread at a time. Allocates nothing per message once its queues are as long as they get.
/// </summary>
/// <remarks>
/// The keep-alive goes out before the full read, so nothing that changes meanwhile is missed. Whatever has changed is asked once more when it has been
/// quiet for a time-out: a message that came late or the last of many that got lost cannot leave a wrong value. A single change whose message was
/// lost is found within a round.
/// </remarks>
public sealed partial class DeskFollower : IDatagramReceiver, IAnswerListener
{
    /// <summary>The most datagrams of one batch.</summary>
    public const int MostItems = 256;

    private const int ItemsBetweenLooksAtTheClock = 16;

    private readonly DeskProfile _profile;
    private readonly DeskState _state;
    private readonly IDeskReader _reader;
    private readonly TimeProvider _clock;
    private readonly DeskDecoder _decoder;
    private readonly FollowQueue _queue;
    private readonly FollowTimes _times;
    private readonly Confirmations _confirmations;
    private readonly Settling _settling;
    private readonly Greeting _greeting;
    private readonly WantedEndpoints _wanted;
    private readonly ReadProgress _progress;
    private readonly Subscription _subscription;
    private readonly int[][] _rulesOf;
    private Rounds _rounds;
    private int _probed;
    private int _known = -1;
    private int _items;
    private long _workEnds;
    private long _heard;
    private long _lastReceived;
    private long _lookedAt;
    private long _asked;
    private long _confirmed;
    private bool _silenceTold;
    private bool _isBehind;
    private bool _changed;
    private bool _replaced;

    /// <summary>Prepares to follow a desk; nothing is sent yet.</summary>
    /// <param name="profile">The desk.</param>
    /// <param name="state">Where values go. Its generation begins anew with each session.</param>
    /// <param name="reader">The link.</param>
    /// <param name="wanted">Setting ids to read and to ask in rounds. What the desk sends of others is taken too, but never asked for.</param>
    public DeskFollower(DeskProfile profile, DeskState state, IDeskReader reader, IEnumerable<int> wanted)
    {
        (_profile, _state, _reader, _clock) = (profile, state, reader, reader.Clock);
        var count = profile.Endpoints.Count;
        var follow = profile.Follow;
        _decoder = new DeskDecoder(profile, state, this) { TakesValues = false };
        _times = new FollowTimes(profile.Link, follow, _clock.TimestampFrequency);
        _queue = new FollowQueue(count, profile.Link, _clock.TimestampFrequency);
        _confirmations = new Confirmations(count, _times.TimeOut);
        _settling = new Settling(follow.Invalidations, _clock.TimestampFrequency);
        _greeting = new Greeting(profile.Identity);
        Batch = new FollowBatch(profile.Settings.Count);
        _wanted = new WantedEndpoints(profile, wanted);
        _progress = new ReadProgress(count);
        _subscription = new Subscription(profile, _times);
        _rounds = new Rounds(_wanted.All, follow, _times, _clock.TimestampFrequency);
        _rulesOf = InvalidationMap.Of(profile);
        _heard = _clock.GetTimestamp();
        _lookedAt = _heard - _times.Probe;
    }

    /// <summary>Where it stands.</summary>
    public FollowPhase Phase { get; private set; }

    /// <summary>Number of the session, from 1; 0 before the first. Kept while the desk is lost.</summary>
    public int Session { get; private set; }

    /// <summary>The state that is kept.</summary>
    public DeskState State => _state;

    /// <summary>What the desk said of itself last; empty before.</summary>
    public IReadOnlyList<string> Identity => _greeting.Texts;

    /// <summary>When something that the profile knows was heard last, as a timestamp of the link's clock.</summary>
    public long LastHeard => _heard;

    /// <summary>When the last full read ended, as a timestamp of the link's clock; meaningless before the first.</summary>
    public long LastRead { get; private set; }

    /// <summary>What the last batch has brought.</summary>
    public FollowBatch Batch { get; }

    /// <summary>What following has cost so far.</summary>
    public FollowCounters Counters => new(Batch.Number, _asked, _queue.TimedOut, _confirmed);

    /// <summary>What the decoder made of the datagrams.</summary>
    public DecodeCounters Decoded => _decoder.Counters;

    bool IDatagramReceiver.IsFull =>
        _items >= MostItems || (_items % ItemsBetweenLooksAtTheClock == 0 && _clock.GetTimestamp() >= _workEnds);

    // While more is waiting than a batch takes, what is missing may be among it: time goes no further than what was taken in.
    private long Now => _isBehind ? _lastReceived : _clock.GetTimestamp();

    private bool SeemsSilent => Phase == FollowPhase.Lost || Now - _heard > 2 * _times.TimeOut;

    /// <summary>One batch: sends what is due, waits for something to come in, and takes it in: at most 256 datagrams or 2 ms of work.</summary>
    /// <param name="deadline">Until when to wait at the most, as a timestamp of the link's clock. It may return long before.</param>
    public void Next(long deadline)
    {
        Batch.Begin();
        Tend();
        Send();
        (_items, _workEnds) = (0, long.MaxValue);
        _ = _reader.Receive(Math.Min(deadline, NextDeadline()), this);
        _isBehind = ((IDatagramReceiver)this).IsFull;
        Tend();
    }

    /// <summary>Wants other settings from now on. What was not wanted before is asked for at once; the session goes on.</summary>
    /// <param name="wanted">Setting ids.</param>
    public void Want(IEnumerable<int> wanted)
    {
        var now = _clock.GetTimestamp();
        var isHurried = _rounds.IsHurried;
        _wanted.Replace(wanted);
        _rounds = new Rounds(_wanted.All, _profile.Follow, _times, _clock.TimestampFrequency);
        _rounds.Hurry(isHurried, now);
        _rounds.Start(now);
        if (Phase == FollowPhase.Lost)
            return;
        foreach (var endpoint in _wanted.Added)
        {
            if (Phase == FollowPhase.Reading)
                _progress.Add(endpoint);
            _queue.Ask(endpoint);
        }
    }

    private void Kept()
    {
        _queue.MarkAnswered(_queue.KeepAlive);
        if (Phase == FollowPhase.Lost || !_subscription.Keep(_clock.GetTimestamp()))
            return;
        // It sends changes only from now on: what changed before is asked for once more.
        _rounds.Hurry(false, _clock.GetTimestamp());
        foreach (var endpoint in _wanted.All)
            _queue.Ask(endpoint);
    }

    private void BeginSession()
    {
        var now = _clock.GetTimestamp();
        Session++;
        Phase = FollowPhase.Reading;
        _decoder.TakesValues = true;
        _silenceTold = false;
        BeginGeneration();
        Tell(FollowEvent.SessionBegan);
        (_heard, _lookedAt) = (now, now);
        _rounds.Hurry(false, now);
        _subscription.Begin(now);
        AskAll();
    }

    private void Lose(FollowEvent why)
    {
        Phase = FollowPhase.Lost;
        _decoder.TakesValues = false;
        BeginGeneration();
        Tell(why);
        _silenceTold |= why == FollowEvent.DeskSilent;
        _queue.Clear();
        _confirmations.Clear();
        _settling.Clear();
        _lookedAt = _clock.GetTimestamp() - _times.Probe;
        _subscription.End();
    }

    private void BeginGeneration()
    {
        _state.StartGeneration();
        Batch.BeginGeneration();
    }

    private void AskAll()
    {
        _progress.Begin(_wanted.All);
        foreach (var endpoint in _wanted.All)
            _queue.AskAnew(endpoint);
    }

    private void Invalidate(int rule)
    {
        if (Phase == FollowPhase.Lost || !_settling.Begin(rule, _clock.GetTimestamp()))
            return;
        Tell(FollowEvent.ReadAgain, rule);
        if (_profile.Follow.Invalidations[rule].Endpoints is { } endpoints)
        {
            foreach (var endpoint in endpoints)
                Forget(endpoint, UnseenReason.OutOfDate);
            return;
        }

        Phase = FollowPhase.Reading;
        BeginGeneration();
    }

    private void ReadAgain(int rule)
    {
        if (_profile.Follow.Invalidations[rule].Endpoints is not { } endpoints)
        {
            AskAll();
            return;
        }

        foreach (var endpoint in endpoints)
        {
            if (_wanted.Has(endpoint))
                _queue.AskAnew(endpoint);
        }
    }

    private void Forget(int endpoint, UnseenReason reason)
    {
        foreach (var slot in _profile.Endpoints[endpoint].Slots)
        {
            if (_state.IsFresh(slot.Setting))
                Batch.Change(slot.Setting);
            else if (_state.ReasonUnseen(slot.Setting) == UnseenReason.NotUnderstood)
                continue;
            _state.MarkUnseen(slot.Setting, reason);
        }
    }

    /// <summary>Everything that time alone brings about.</summary>
    private void Tend()
    {
        var now = Now;
        GiveUp(now);
        if (Phase != FollowPhase.Lost)
            LookForLoss(now);
        else if (!_silenceTold && now - _heard >= _times.LostAfter)
            TellSilence();
        if (now >= LookDue())
            AskWhoIsThere(now);
        if (Phase == FollowPhase.Lost)
            return;
        if (_subscription.TryTake(now))
            _queue.Ask(_queue.KeepAlive);
        while (_settling.TryTake(now, out var rule))
            ReadAgain(rule);
        while (_confirmations.TryTake(now, out var endpoint))
        {
            _confirmed++;
            _queue.Ask(endpoint);
        }

        if (Phase == FollowPhase.Reading && _progress.IsDone && !_settling.IsAll)
            EndRead(now);
    }

    private void LookForLoss(long now)
    {
        if (now - _heard >= _times.LostAfter)
            Lose(FollowEvent.DeskSilent);
        else if (now >= _subscription.LostAt && _subscription.WasKept)
            Lose(FollowEvent.SubscriptionLost);
        else if (now >= _subscription.LostAt)
            GoWithoutKeepAlive(now);
    }

    // A desk that never answered one in this session is not read again and again for it: it is asked in rounds, as one that sends nothing.
    private void GoWithoutKeepAlive(long now)
    {
        _subscription.GiveUp();
        _rounds.Hurry(true, now);
        Tell(FollowEvent.SubscriptionLost);
    }

    private void TellSilence()
    {
        _silenceTold = true;
        Tell(FollowEvent.DeskSilent);
    }

    private void EndRead(long now)
    {
        Phase = FollowPhase.Following;
        LastRead = now;
        _rounds.Start(now);
        Tell(FollowEvent.ReadEnded, unanswered: _progress.GivenUp);
    }

    private void GiveUp(long now)
    {
        while (_queue.TryGiveUp(now, SeemsSilent, out var index))
        {
            if (index == _queue.KeepAlive)
                _subscription.Retry(now);
            if (index >= _profile.Endpoints.Count)
                continue;
            Forget(index, UnseenReason.NoReply);
            _progress.MarkGivenUp(index);
        }
    }

    // A quiet desk is asked sooner: when only questions are left that it does not answer, its silence would look like its end.
    private long LookDue() => Phase == FollowPhase.Lost
        ? _lookedAt + _times.Probe
        : Math.Min(_lookedAt + _times.Heartbeat, Math.Max(_heard, _lookedAt) + _times.TimeOut);

    private void AskWhoIsThere(long now)
    {
        _lookedAt = now;
        if (_profile.Identity is not null)
            _queue.Ask(_queue.Identity);
        else if (_known >= 0)
            _queue.AskFirst(_known);
        else if (_wanted.All.Length > 0)
            _queue.AskFirst(_wanted.All[_probed++ % _wanted.All.Length]);
    }

    private void Send()
    {
        var rotates = Phase == FollowPhase.Following;
        while (_queue.TryTakeNext(_clock.GetTimestamp(), SeemsSilent, rotates ? _rounds.Often : null, rotates ? _rounds.All : null, out var index))
        {
            _asked++;
            _ = _reader.Ask(index == _queue.Identity ? IDeskReader.IdentityQuestion : index == _queue.KeepAlive ? IDeskReader.KeepAliveQuestion : index);
        }
    }

    private long NextDeadline()
    {
        var rotation = Phase == FollowPhase.Following ? _rounds.NextDue : long.MaxValue;
        var next = Math.Min(LookDue(), _queue.NextDeadline(SeemsSilent, rotation));
        if (Phase == FollowPhase.Lost)
            return _silenceTold ? next : Math.Min(next, _heard + _times.LostAfter);
        next = Math.Min(next, Math.Min(_subscription.NextAsk, _heard + _times.LostAfter));
        next = Math.Min(next, Math.Min(_settling.NextDue, _confirmations.NextDue));
        return Math.Min(next, _subscription.LostAt);
    }

    private void Tell(FollowEvent what, int rule = -1, int unanswered = 0) =>
        Batch.Tell(new FollowNotice(what, Session, _clock.GetTimestamp(), rule, unanswered));
}
