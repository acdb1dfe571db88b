using StateWatch.Core.Profiles;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Desks;

/// <summary>Hears that an endpoint has sent its values.</summary>
public interface IAnswerListener
{
    /// <summary>All values of an endpoint have just been taken in.</summary>
    /// <param name="endpoint">Endpoint id.</param>
    void OnAnswer(int endpoint);

    /// <summary>The desk said who it is.</summary>
    void OnIdentity(in OscMessage message);

    /// <summary>A value came in that differs from the fresh one, or there was none, or the fresh one was lost. Told before <see cref="OnAnswer"/>.</summary>
    /// <param name="setting">Setting id.</param>
    /// <param name="wasFresh">Whether there was a fresh value before.</param>
    void OnChange(int setting, bool wasFresh)
    {
    }

    /// <summary>The desk answered the keep-alive, at an address that is no setting's and not the identity's.</summary>
    void OnKeptAlive()
    {
    }

    /// <summary>The desk sent a message after which something must be read again, at an address that is no setting's.</summary>
    /// <param name="rule">Index among <see cref="FollowSettings.Invalidations"/>.</param>
    void OnInvalidated(int rule)
    {
    }
}

/// <summary>What the decoder made of the datagrams so far.</summary>
/// <param name="Messages">Messages whose address the profile knows.</param>
/// <param name="Unknown">Messages with an address the profile neither knows nor ignores.</param>
/// <param name="Ignored">Messages the profile says to ignore.</param>
/// <param name="Malformed">Packets or elements that are not OSC.</param>
/// <param name="NotUnderstood">Values that their codec could not read.</param>
public readonly record struct DecodeCounters(long Messages, long Unknown, long Ignored, long Malformed, long NotUnderstood);

/// <summary>
/// From datagram to desk state: hostile bytes in, canonical values out. Allocates nothing per message and never throws.
/// </summary>
public sealed class DeskDecoder(DeskProfile profile, DeskState state, IAnswerListener listener)
{
    private readonly byte[] _keepAlive = profile.Follow.KeepAlive?.Address ?? [];
    private long _messages;
    private long _unknown;
    private long _ignored;
    private long _malformed;
    private long _notUnderstood;

    /// <summary>What was made of the datagrams so far.</summary>
    public DecodeCounters Counters => new(_messages, _unknown, _ignored, _malformed, _notUnderstood);

    /// <summary>Whether values are taken in; if not, the listener hears of everything but values and answers.</summary>
    public bool TakesValues { get; set; } = true;

    /// <summary>Takes one datagram in.</summary>
    public void Take(ReadOnlySpan<byte> datagram)
    {
        var packet = new OscPacketReader(datagram);
        while (packet.Read(out var message))
            TakeMessage(message);
        _malformed += packet.Rejected;
    }

    private void TakeMessage(in OscMessage message)
    {
        var endpoint = profile.Addresses.Find(message.Address);
        if (endpoint >= 0)
        {
            _messages++;
            if (TakesValues && message.Tags.Length > 0)
            {
                TakeValues(profile.Endpoints[endpoint], message);
                listener.OnAnswer(endpoint);
            }
        }
        else if (profile.Identity is { } identity && message.Address.SequenceEqual(identity.Address))
        {
            _messages++;
            listener.OnIdentity(message);
        }
        else if (_keepAlive.Length > 0 && message.Address.SequenceEqual(_keepAlive))
        {
            _messages++;
            listener.OnKeptAlive();
        }
        else if (!TakeInvalidation(message.Address))
        {
            CountStranger(message.Address);
        }
    }

    private bool TakeInvalidation(ReadOnlySpan<byte> address)
    {
        var rules = profile.Follow.Invalidations;
        var any = false;
        for (var rule = 0; rule < rules.Count; rule++)
        {
            if (!OscPattern.Matches(rules[rule].On, address))
                continue;
            any = true;
            listener.OnInvalidated(rule);
        }

        if (any)
            _messages++;
        return any;
    }

    private void TakeValues(Endpoint endpoint, in OscMessage message)
    {
        var arguments = message.Arguments;
        var slots = endpoint.Slots;
        var next = 0;
        for (var index = 0; next < slots.Length && arguments.Read(out var argument); index++)
        {
            for (; next < slots.Length && slots[next].Argument == index; next++)
                TakeValue(slots[next], argument);
        }

        for (; next < slots.Length; next++)
            Refuse(slots[next].Setting);
    }

    private void TakeValue(in Slot slot, in OscArgument argument)
    {
        if (slot.Bit >= 0)
        {
            if (argument.Type == OscType.Int32)
                Apply(slot.Setting, Settings.SettingValue.Switch(((argument.Int32 >> slot.Bit) & 1) != 0));
            else
                Refuse(slot.Setting);
        }
        else if (profile.Settings[slot.Setting].Codec.TryDecode(argument, out var value))
        {
            Apply(slot.Setting, value);
        }
        else
        {
            Refuse(slot.Setting);
        }
    }

    private void Apply(int setting, Settings.SettingValue value)
    {
        var wasFresh = state.IsFresh(setting);
        if (state.Apply(setting, value))
            listener.OnChange(setting, wasFresh);
    }

    private void Refuse(int setting)
    {
        _notUnderstood++;
        var wasFresh = state.IsFresh(setting);
        state.MarkUnseen(setting, UnseenReason.NotUnderstood);
        if (wasFresh)
            listener.OnChange(setting, wasFresh);
    }

    private void CountStranger(ReadOnlySpan<byte> address)
    {
        foreach (var pattern in profile.Ignored)
        {
            if (!OscPattern.Matches(pattern, address))
                continue;
            _ignored++;
            return;
        }

        _unknown++;
    }
}
