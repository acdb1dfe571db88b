using StateWatch.Core.Profiles;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Simulator;

/// <summary>Takes a message that sets an address: all of its arguments, or none of them.</summary>
internal sealed class MessageTaker(DeskProfile profile)
{
    private readonly List<(int Setting, SettingValue Value)> _taken = [];

    /// <summary>Reads a message with as many arguments as the address has, each of its kind; an argument nobody mapped may be anything.</summary>
    /// <returns>What it sets, valid until the next call; null when it does not fit.</returns>
    public List<(int Setting, SettingValue Value)>? Read(in OscMessage message, Endpoint endpoint)
    {
        _taken.Clear();
        var slots = endpoint.Slots;
        var index = 0;
        var next = 0;
        var arguments = message.Arguments;
        for (; arguments.Read(out var argument); index++)
        {
            var first = next;
            while (next < slots.Length && slots[next].Argument == index)
                next++;
            if (argument.Type is OscType.ArrayBegin or OscType.ArrayEnd || !Take(argument, slots.AsSpan(first..next)))
                return null;
        }

        return index == slots[^1].Argument + 1 ? _taken : null;
    }

    private bool Take(in OscArgument argument, ReadOnlySpan<Slot> slots)
    {
        if (slots.Length == 0)
            return true;
        if (slots[0].Bit < 0)
        {
            var setting = profile.Settings[slots[0].Setting];
            if (!setting.Codec.TryDecode(argument, out var value))
                return false;
            _taken.Add((setting.Id, Cut(setting.Codec, value)));
            return true;
        }

        if (argument.Type != OscType.Int32)
            return false;
        foreach (var slot in slots)
            _taken.Add((slot.Setting, SettingValue.Switch((argument.Int32 >> slot.Bit & 1) != 0)));
        return true;
    }

    /// <summary>A desk keeps only so many bytes of a text.</summary>
    private SettingValue Cut(Codec codec, SettingValue value) =>
        codec is TextCodec text && text.TryParse(profile.Texts[value.TextId], out var kept, out _) ? kept : value;
}
