using System.Buffers;
using System.Runtime.CompilerServices;
using System.Text;
using StateWatch.Core.Profiles;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;
using StateWatch.Simulator.Incidents;

namespace StateWatch.Simulator;

/// <summary>
/// A desk that exists only in memory, made from a profile: it answers the profile's questions with what it holds, and takes messages
/// that set something. Total: any bytes may be handed to it. Knows no socket and no clock. For one thread at a time.
/// </summary>
/// <remarks>
/// It takes messages that set so that tests can show that none is ever sent. Time tags of bundles count as "at once".
/// </remarks>
public sealed class VirtualDesk
{
    /// <summary>The most address patterns that are expanded for one datagram; each is compared with every address.</summary>
    public const int MostPatterns = 16;

    private static readonly byte[][] KeptAnswer = ["kept"u8.ToArray()];
    private static readonly SearchValues<byte> Wildcards = SearchValues.Create("?*[]{}"u8);

    private readonly SettingValue[] _values;
    private readonly bool[] _withheld;
    private readonly ChangeQueue _changes;
    private readonly AnswerWriter _answers;
    private readonly MessageTaker _taker;
    private IReadOnlySet<int> _unanswered = new HashSet<int>();
    private IReadOnlyList<string> _identityAnswer = [];
    private byte[][] _identityTexts = [];
    private bool _recalling;
    private long _recalls;
    private long _recallsTold;
    private long _answered;
    private long _sets;
    private long _silences;
    private long _unknown;
    private long _malformed;

    /// <summary>Makes a desk as it is after a reset.</summary>
    public VirtualDesk(DeskProfile profile)
    {
        Profile = profile;
        _values = new SettingValue[profile.Settings.Count];
        _withheld = new bool[profile.Endpoints.Count];
        _changes = new ChangeQueue(profile.Endpoints.Count);
        _answers = new AnswerWriter(profile);
        _taker = new MessageTaker(profile);
        Reset();
        IdentityAnswer = profile.Identity is not { Expected.Count: > 0 } identity
            ? [profile.Desk]
            : [.. identity.Expected.Select(text => text.Replace('*', '0'))];
    }

    /// <summary>The profile it was made from.</summary>
    public DeskProfile Profile { get; }

    /// <summary>What it was sent and what it did.</summary>
    public VirtualDeskCounters Counters => new(_answered, _sets, _silences, _unknown, _malformed);

    /// <summary>How many values have changed so far, whoever changed them.</summary>
    public long Revision { get; private set; }

    /// <summary>A number that depends on every value, the same in every process: equal before and after means that nothing was changed.</summary>
    public ulong Fingerprint => ValueFingerprint.Of(_values, Profile.Texts);

    /// <summary>Whether it answers nothing at all. It still takes messages that set.</summary>
    public bool Silent { get; set; }

    /// <summary>Settings whose questions it ignores; what shares their message is ignored with them.</summary>
    public IReadOnlySet<int> Unanswered
    {
        get => _unanswered;
        set
        {
            _unanswered = value;
            Array.Clear(_withheld);
            foreach (var setting in value)
                _withheld[Profile.Settings[setting].Endpoint] = true;
        }
    }

    /// <summary>What it says when asked who it is, a string each; what the profile expects unless set otherwise (another desk, another firmware).</summary>
    public IReadOnlyList<string> IdentityAnswer
    {
        get => _identityAnswer;
        set
        {
            _identityAnswer = value;
            _identityTexts = [.. value.Select(Encoding.UTF8.GetBytes)];
        }
    }

    /// <summary>The value of a setting.</summary>
    public SettingValue this[int setting] => _values[setting];

    /// <summary>Sets a value, as a hand on the desk would: the desk keeps the nearest it can hold.</summary>
    /// <exception cref="ArgumentException">The value is not of the setting's kind, or a word the desk does not know.</exception>
    public void Set(int setting, SettingValue value)
    {
        if (!TryConform(Profile.Settings[setting].Codec, ref value))
            throw new ArgumentException($"{Profile.Settings[setting].Path} cannot be this {value.Kind.ToString().ToLowerInvariant()}.", nameof(value));
        Store(setting, value);
    }

    /// <summary>Does what somebody did.</summary>
    /// <param name="incident">Of a script that was read with this desk's profile.</param>
    /// <exception cref="ArgumentException">It was read with another profile.</exception>
    public void Apply(Incident incident)
    {
        foreach (var (setting, value) in incident.Set)
            Set(setting, value);
    }

    /// <summary>
    /// Recalls a memory: many values at once, none of which is sent to those who keep the desk alive. They get the profile's first message
    /// after which something must be read again.
    /// </summary>
    /// <exception cref="ArgumentException">See <see cref="Set"/>.</exception>
    public void Recall(IEnumerable<(int Setting, SettingValue Value)> values)
    {
        _recalling = true;
        try
        {
            foreach (var (setting, value) in values)
                Set(setting, value);
        }
        finally
        {
            _recalling = false;
        }

        _recalls++;
    }

    /// <summary>Writes what those who keep the desk alive have not been sent yet. Without this nothing is sent unasked.</summary>
    /// <param name="replies">Gets each message once, to be sent to all of them; null when there are none, so that it is never sent.</param>
    public void TakeChanges(IReplySink? replies)
    {
        if (Silent || replies is null)
        {
            _changes.Clear();
            _recallsTold = _recalls;
            return;
        }

        if (_recallsTold < _recalls || !_changes.IsEmpty)
            Tell(replies);
    }

    // By itself, because it wants room for a message, which would be cleared for nothing whenever there is nothing to tell.
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Tell(IReplySink replies)
    {
        for (; _recallsTold < _recalls; _recallsTold++)
        {
            if (Profile.Follow.Invalidations is [{ On: var address }, ..] && !OscPattern.HasWildcards(address))
                replies.Reply(_answers.Write(address, []));
        }

        while (_changes.TryTake(out var endpoint))
        {
            if (_answers.Write(Profile.Endpoints[endpoint], _values) is { IsEmpty: false } message)
                replies.Reply(message);
        }
    }

    /// <summary>Sets everything to what it is after a reset of the desk.</summary>
    public void Reset()
    {
        foreach (var setting in Profile.Settings)
            Store(setting.Id, setting.Reset);
    }

    /// <summary>Acts on one datagram: answers what it asks, takes what it sets, ignores and counts everything else.</summary>
    /// <param name="datagram">Any bytes.</param>
    /// <param name="replies">Gets each answer, in the order of the questions.</param>
    public void Handle(ReadOnlySpan<byte> datagram, IReplySink replies)
    {
        var patterns = 0;
        var reader = new OscPacketReader(datagram);
        while (reader.Read(out var message))
        {
            if (!message.HasTags && !message.Data.IsEmpty)
                _malformed++;
            else if (!OscPattern.HasWildcards(message.Address))
                ActOnAddress(message, replies);
            else if (++patterns > MostPatterns || OscPattern.Validate(message.Address) != OscError.None)
                _malformed++;
            else
                ActOnPattern(message, replies);
        }

        _malformed += reader.Rejected;
    }

    private void ActOnAddress(in OscMessage message, IReplySink replies)
    {
        var keepsAlive = Profile.Follow.KeepAlive is { } keepAlive && message.Tags.IsEmpty && message.Address.SequenceEqual(keepAlive.Address);
        if (keepsAlive && !Silent)
            replies.KeepAlive();
        if (Profile.Identity is { } identity && message.Address.SequenceEqual(identity.Address))
            ActOnIdentity(message, identity, replies);
        else if (Profile.Addresses.Find(message.Address) is var found and >= 0)
            ActOnEndpoint(message, Profile.Endpoints[found], replies);
        else if (keepsAlive)
            Send(Silent || !Profile.Follow.KeepAlive!.Answered ? [] : _answers.Write(Profile.Follow.KeepAlive.Address, KeptAnswer), replies);
        else
            _unknown++;
    }

    private void ActOnPattern(in OscMessage message, IReplySink replies)
    {
        var pattern = message.Address;
        var literal = pattern[..pattern.IndexOfAny(Wildcards)];
        var matched = false;
        if (Profile.Identity is { } identity && OscPattern.Matches(pattern, identity.Address))
        {
            matched = true;
            ActOnIdentity(message, identity, replies);
        }

        for (var id = 0; id < Profile.Endpoints.Count; id++)
        {
            var endpoint = Profile.Endpoints[id];
            if (!endpoint.Address.AsSpan().StartsWith(literal) || !OscPattern.Matches(pattern, endpoint.Address))
                continue;
            matched = true;
            ActOnEndpoint(message, endpoint, replies);
        }

        if (!matched)
            _unknown++;
    }

    private void ActOnIdentity(in OscMessage message, Identity identity, IReplySink replies)
    {
        if (!message.Tags.IsEmpty)
            _malformed++;
        else
            Send(Silent ? [] : _answers.Write(identity.Address, _identityTexts), replies);
    }

    private void ActOnEndpoint(in OscMessage message, Endpoint endpoint, IReplySink replies)
    {
        if (message.Tags.IsEmpty)
        {
            Send(Silent || _withheld[endpoint.Id] ? [] : _answers.Write(endpoint, _values), replies);
            return;
        }

        if (_taker.Read(message, endpoint) is not { } taken)
        {
            _malformed++;
            return;
        }

        _sets++;
        foreach (var (setting, value) in taken)
            Store(setting, value);
    }

    private void Send(ReadOnlySpan<byte> answer, IReplySink replies)
    {
        if (answer.IsEmpty)
        {
            _silences++;
            return;
        }

        _answered++;
        replies.Reply(answer);
    }

    private void Store(int setting, SettingValue value)
    {
        if (_values[setting] == value)
            return;
        _values[setting] = value;
        Revision++;
        if (!_recalling)
            _changes.Add(Profile.Settings[setting].Endpoint);
    }

    private bool TryConform(Codec codec, ref SettingValue value)
    {
        if (value.Kind != codec.Kind || double.IsNaN(value.Number))
            return false;
        if (codec is ScaleCodec scale && (value.Step < 0 || value.Step >= scale.Steps))
            value = scale.Snap(value.Number);
        return value.Kind is ValueKind.Level or ValueKind.Number or ValueKind.Switch
            || codec.TryParse(Profile.Texts[value.TextId], out value, out _);
    }
}
