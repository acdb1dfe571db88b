using System.Globalization;
using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Plans;

/// <summary>Reads <c>message: /show/sermon</c> or <c>message: [/show/cue, 7]</c> of a phase or cue.</summary>
internal static class MessageReader
{
    /// <summary>The longest list: an address and its arguments.</summary>
    public const int Most = 9;

    private const int LongestAddress = 255;
    private const string How = "write an OSC address, such as /show/sermon, or [/show/cue, 7] with arguments";

    public static MessageLine? Read(MapReader reader)
    {
        var items = reader.Items("message");
        if (items is null)
            return null;
        var at = reader.Map.Find("message")!.At;
        if (items.Count is 0 or > Most)
        {
            reader.Diagnostics.Add(DocumentCodes.OutOfRange, at, $"this list has {items.Count} items, but an address and at most {Most - 1} arguments are allowed", How);
            return null;
        }

        if (items.FirstOrDefault(static item => item is not ScalarNode) is { } other)
        {
            reader.Diagnostics.Add(DocumentCodes.WrongShape, other.At, $"a part of a message is {other.Shape}, but a single value belongs here", How);
            return null;
        }

        var address = (ScalarNode)items[0];
        return IsAddress(address, reader.Diagnostics) ? new MessageLine(address, [.. items.Skip(1).Cast<ScalarNode>().Select(Argument)]) : null;
    }

    /// <summary>Tells messages that could call more than one thing.</summary>
    public static void Compare(IEnumerable<(string What, MessageLine? Message)> all, DiagnosticBag diagnostics)
    {
        foreach (var same in all.Where(static one => one.Message is not null).GroupBy(static one => one.Message!.Address.Text, StringComparer.Ordinal))
        {
            var before = new List<(string What, MessageLine? Message)>();
            foreach (var one in same)
            {
                var first = before.Find(other => other.Message!.Meets(one.Message!));
                if (first.Message is not null)
                {
                    diagnostics.Add(PlanCodes.MessageTwice, one.Message!.Address.At,
                        $"'{one.Message.Address.Text}' already calls {first.What} at {first.Message.Address.At.Place}, and one message cannot call both", "give each an address or arguments of its own");
                }

                before.Add(one);
            }
        }
    }

    private static bool IsAddress(ScalarNode scalar, DiagnosticBag diagnostics)
    {
        var bytes = Encoding.UTF8.GetBytes(scalar.Text);
        if (OscPattern.HasWildcards(bytes))
            diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is a pattern, which many messages would match", "write one address, such as /show/sermon");
        else if (!OscPattern.IsValidAddress(bytes))
            diagnostics.Add(DocumentCodes.BadValue, scalar.At, $"'{scalar.Text}' is not an OSC address", How);
        else if (bytes.Length > LongestAddress)
            diagnostics.Add(DocumentCodes.OutOfRange, scalar.At, $"this address has {bytes.Length} characters, but at most {LongestAddress} are allowed", null);
        else
            return true;
        return false;
    }

    // What stands in quotes is a text.
    private static MessageArgument Argument(ScalarNode scalar)
    {
        if (!scalar.Plain)
            return new MessageArgument(scalar.Text, 0);
        if (scalar.Text is "true" or "false")
            return new MessageArgument(null, scalar.Text == "true" ? 1 : 0);
        return double.TryParse(scalar.Text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? new MessageArgument(null, number)
            : new MessageArgument(scalar.Text, 0);
    }
}
