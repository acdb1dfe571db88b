using System.Text;
using StateWatch.Core.Plans;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Watching;

/// <summary>
/// Finds the order that an OSC message from outside stands for. Total: whatever comes, it is one of the plan's messages or none. Allocates nothing. For any
/// thread.
/// </summary>
public sealed class MessageOrders
{
    /// <summary>Who gives such orders.</summary>
    public const string By = "message";

    private readonly OscAddressTable _addresses;
    private readonly (Argument[] Arguments, WatchOrder Order)[][] _calls;

    private MessageOrders(IReadOnlyList<(MessageLine Message, WatchOrder Order)> calls)
    {
        var byAddress = calls.GroupBy(static call => call.Message.Address.Text, StringComparer.Ordinal).ToList();
        _addresses = new OscAddressTable([.. byAddress.Select(static group => Encoding.UTF8.GetBytes(group.Key))]);
        _calls = [.. byAddress.Select(static group => group.Select(static call => (call.Message.Arguments.Select(Argument.Of).ToArray(), call.Order)).ToArray())];
    }

    /// <summary>How many addresses are listened to.</summary>
    public int Count => _calls.Length;

    /// <summary>The messages of a plan, or null when it has none.</summary>
    public static MessageOrders? Of(PlanDocument document)
    {
        List<(MessageLine, WatchOrder)> calls =
        [
            .. document.PhaseLines.Where(static line => line.Message is not null).Select(static line => (line.Message!, (WatchOrder)new PhaseOrder(line.Phase, By))),
            .. document.Cues.Where(static cue => cue.Message is not null).Select(static cue => (cue.Message!, (WatchOrder)new CueOrder(cue.Key.Text, By))),
        ];
        return calls.Count == 0 ? null : new MessageOrders(calls);
    }

    /// <summary>The order of a message, the same object each time; null when it is none of the plan's.</summary>
    public WatchOrder? Find(in OscMessage message)
    {
        var id = _addresses.Find(message.Address);
        // Without type tags nobody knows what the bytes behind the address are.
        if (id < 0 || (!message.HasTags && !message.Data.IsEmpty))
            return null;
        foreach (var (arguments, order) in _calls[id])
        {
            if (arguments.Length == 0 ? !IsRelease(message) : Matches(message, arguments))
                return order;
        }

        return null;
    }

    // Buttons send 1 when they are pressed and 0 when they are let go; nobody calls a cue by letting go. Common practice, no source.
    private static bool IsRelease(in OscMessage message)
    {
        var arguments = message.Arguments;
        return message.Tags.Length == 1 && arguments.Read(out var only) && only.TryGetNumber(out var number) && number == 0;
    }

    private static bool Matches(in OscMessage message, Argument[] wanted)
    {
        var arguments = message.Arguments;
        foreach (var one in wanted)
        {
            if (!arguments.Read(out var argument) || !one.Is(argument))
                return false;
        }

        return !arguments.Read(out _);
    }

    private readonly record struct Argument(byte[]? Text, double Number)
    {
        public static Argument Of(MessageArgument argument) => new(argument.Text is { } text ? Encoding.UTF8.GetBytes(text) : null, argument.Number);

        public bool Is(in OscArgument argument) => Text is null
            ? argument.TryGetNumber(out var number) && (number == Number || (argument.Type == OscType.Float32 && (float)Number == (float)number))
            : argument.Type is OscType.String or OscType.Symbol && argument.Bytes.SequenceEqual(Text);
    }
}
