using StateWatch.Core.Links;
using StateWatch.Core.Profiles;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Desks;

/// <summary>How a full read ended.</summary>
public enum ReadEnd
{
    /// <summary>Every question was answered.</summary>
    Complete,

    /// <summary>Some questions stayed unanswered after every round.</summary>
    Partial,

    /// <summary>The desk never answered.</summary>
    Silent,

    /// <summary>The desk answered at first, then no more.</summary>
    FellSilent,

    /// <summary>Another desk answered than the profile describes.</summary>
    AnotherDesk,
}

/// <summary>How a full read went.</summary>
/// <param name="End">How it ended.</param>
/// <param name="Questions">How many different questions there were.</param>
/// <param name="Answered">How many of them were answered.</param>
/// <param name="Asked">How many datagrams were sent, repeats included.</param>
/// <param name="Elapsed">How long it took.</param>
/// <param name="Identity">What the desk said of itself; empty when it was not asked or did not answer.</param>
public sealed record ReadReport(ReadEnd End, int Questions, int Answered, int Asked, TimeSpan Elapsed, IReadOnlyList<string> Identity);

/// <summary>
/// Reads wanted settings once, over a link that can only ask: identity first, then every question within a window and a pace, and what
/// stayed unanswered again in rounds. Gives up on a desk from which nothing has come for <see cref="Patience"/>.
/// </summary>
public sealed class FullRead : IDatagramReceiver, IAnswerListener
{
    private readonly DeskProfile _profile;
    private readonly DeskState _state;
    private readonly IDeskReader _reader;
    private readonly DeskDecoder _decoder;
    private readonly AskQueue _queue;
    private readonly TimeProvider _clock;
    private IReadOnlyList<string> _identity = [];
    private bool _identified;
    private long _lastHeard;
    private long _lastProbe;
    private int _asked;

    /// <summary>Prepares a read.</summary>
    /// <param name="profile">The desk.</param>
    /// <param name="state">Where values go.</param>
    /// <param name="reader">The link.</param>
    /// <param name="wanted">Setting ids to read.</param>
    public FullRead(DeskProfile profile, DeskState state, IDeskReader reader, IEnumerable<int> wanted)
    {
        _profile = profile;
        _state = state;
        _reader = reader;
        _clock = reader.Clock;
        _decoder = new DeskDecoder(profile, state, this);
        _queue = new AskQueue(profile.Endpoints.Count, wanted.Select(setting => profile.Settings[setting].Endpoint), profile.Link, _clock);
    }

    /// <summary>What the decoder made of the datagrams.</summary>
    public DecodeCounters Decoded => _decoder.Counters;

    /// <summary>How long to wait for any sign of life: all rounds of one question, at least one second.</summary>
    public TimeSpan Patience => PatienceOf(_profile.Link);

    /// <summary>How long a silent desk is waited for.</summary>
    public static TimeSpan PatienceOf(LinkSettings link) =>
        TimeSpan.FromTicks(Math.Max(TimeSpan.TicksPerSecond, link.TimeOut.Ticks * link.Rounds));

    /// <summary>Reads everything once.</summary>
    /// <param name="onProgress">Told now and then how many of how many questions are answered; may be null.</param>
    /// <param name="cancel">Stops the read; what is unanswered then stays unseen.</param>
    public ReadReport Run(Action<int, int>? onProgress = null, CancellationToken cancel = default)
    {
        var start = _clock.GetTimestamp();
        _state.StartGeneration();
        _lastHeard = start;
        var end = Identify(cancel) ?? ReadAll(onProgress, cancel);
        foreach (var endpoint in _queue.Unanswered())
            MarkUnanswered(_profile.Endpoints[endpoint], _queue.WasAsked(endpoint) ? UnseenReason.NoReply : UnseenReason.NotAsked);
        return new ReadReport(end, _queue.Count, _queue.Answered, _asked, _clock.GetElapsedTime(start), _identity);
    }

    void IDatagramReceiver.OnDatagram(ReadOnlySpan<byte> datagram, long receivedAt)
    {
        _lastHeard = Math.Max(_lastHeard, receivedAt);
        _decoder.Take(datagram);
    }

    void IAnswerListener.OnAnswer(int endpoint) => _queue.MarkAnswered(endpoint);

    void IAnswerListener.OnIdentity(in OscMessage message)
    {
        if (message.Tags.Length == 0)
            return;
        _identity = IdentityCheck.Read(message);
        _identified = true;
    }

    private ReadEnd? Identify(CancellationToken cancel)
    {
        if (_profile.Identity is not { } identity)
            return null;
        var giveUp = _clock.GetTimestamp() + Ticks(Patience);
        while (!_identified && !cancel.IsCancellationRequested && _clock.GetTimestamp() < giveUp)
        {
            Ask(IDeskReader.IdentityQuestion);
            var deadline = Math.Min(giveUp, _clock.GetTimestamp() + Ticks(_profile.Link.TimeOut));
            while (!_identified && _clock.GetTimestamp() < deadline && !cancel.IsCancellationRequested)
                _ = _reader.Receive(deadline, this);
        }

        if (!_identified)
            return ReadEnd.Silent;
        return IdentityCheck.Matches(identity, _identity) ? null : ReadEnd.AnotherDesk;
    }

    private ReadEnd ReadAll(Action<int, int>? onProgress, CancellationToken cancel)
    {
        var heardBefore = _identified;
        var patience = Ticks(Patience);
        _lastHeard = _clock.GetTimestamp();
        while (!_queue.IsDone && !cancel.IsCancellationRequested)
        {
            while (_queue.TryTakeNext(out var endpoint))
                Ask(endpoint);
            // Looking for the next question may just have given up the last one.
            if (_queue.IsDone)
                break;
            Probe();
            _ = _reader.Receive(Math.Min(_queue.NextDeadline(), _lastHeard + patience), this);
            onProgress?.Invoke(_queue.Answered, _queue.Count);
            if (_clock.GetTimestamp() - _lastHeard >= patience)
                return heardBefore || _queue.Answered > 0 ? ReadEnd.FellSilent : ReadEnd.Silent;
        }

        return _queue.Answered == _queue.Count ? ReadEnd.Complete : ReadEnd.Partial;
    }

    // When only questions are left that the desk does not answer, its silence would look like its end: one that it did answer tells.
    private void Probe()
    {
        var now = _clock.GetTimestamp();
        if (_queue.LastAnswered is not { } known || now - _lastHeard < Ticks(_profile.Link.TimeOut) || now - _lastProbe < Ticks(_profile.Link.TimeOut))
            return;
        _lastProbe = now;
        Ask(known);
    }

    private void Ask(int question)
    {
        _asked++;
        _ = _reader.Ask(question);
    }

    private void MarkUnanswered(Endpoint endpoint, UnseenReason reason)
    {
        foreach (var slot in endpoint.Slots)
            _state.MarkUnseen(slot.Setting, reason);
    }

    private long Ticks(TimeSpan time) => (long)(time.TotalSeconds * _clock.TimestampFrequency);
}
