using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Profiles.Codecs;

/// <summary>On and off, by two numbers or two words on the wire.</summary>
public sealed class SwitchCodec : Codec
{
    private readonly double _off;
    private readonly double _on;
    private readonly byte[] _offWord;
    private readonly byte[] _onWord;

    /// <summary>A switch by two numbers.</summary>
    public SwitchCodec(string name, WireKind wire, double off, double on, TextPool texts)
        : base(name, ValueKind.Switch, wire, texts)
    {
        _off = off;
        _on = on;
        _offWord = _onWord = [];
    }

    /// <summary>A switch by two words.</summary>
    public SwitchCodec(string name, string off, string on, TextPool texts)
        : base(name, ValueKind.Switch, WireKind.String, texts)
    {
        _offWord = System.Text.Encoding.UTF8.GetBytes(off);
        _onWord = System.Text.Encoding.UTF8.GetBytes(on);
    }

    /// <inheritdoc/>
    public override SettingValue AfterReset => SettingValue.Switch(false);

    /// <inheritdoc/>
    public override IEnumerable<string> Words => ["on", "off"];

    /// <inheritdoc/>
    public override byte Tag(SettingValue value) =>
        Wire == WireKind.Bool ? ((value.IsOn ? _on : _off) != 0 ? (byte)'T' : (byte)'F') : base.Tag(value);

    /// <inheritdoc/>
    public override bool TryDecode(in OscArgument argument, out SettingValue value)
    {
        value = default;
        if (Wire == WireKind.String)
        {
            if (argument.Type is not (OscType.String or OscType.Symbol))
                return false;
            var on = argument.Bytes.SequenceEqual(_onWord);
            if (!on && !argument.Bytes.SequenceEqual(_offWord))
                return false;
            value = SettingValue.Switch(on);
            return true;
        }

        if (!argument.TryGetNumber(out var number) || (number != _on && number != _off))
            return false;
        value = SettingValue.Switch(number == _on);
        return true;
    }

    /// <inheritdoc/>
    public override void Encode(SettingValue value, ref OscWriter writer)
    {
        switch (Wire)
        {
            case WireKind.Int:
                writer.Int32((int)(value.IsOn ? _on : _off));
                break;
            case WireKind.Float:
                writer.Float32((float)(value.IsOn ? _on : _off));
                break;
            case WireKind.String:
                writer.String(value.IsOn ? _onWord : _offWord);
                break;
            default:
                // T and F carry no data: the tag is the value.
                break;
        }
    }

    /// <inheritdoc/>
    public override bool TryParse(string text, out SettingValue value, out string? problem)
    {
        value = SettingValue.Switch(text is "on" or "true" or "yes");
        problem = value.IsOn || text is "off" or "false" or "no" ? null : $"'{text}' is neither on nor off";
        return problem is null;
    }
}
