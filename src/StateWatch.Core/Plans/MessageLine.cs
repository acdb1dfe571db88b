using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>The OSC message by which a phase or cue is called from outside.</summary>
/// <param name="Address">Its address: no pattern.</param>
/// <param name="Arguments">The arguments it must have; empty for any, but for the single 0 of a button that is let go.</param>
public sealed record MessageLine(ScalarNode Address, IReadOnlyList<MessageArgument> Arguments)
{
    /// <summary>Whether one message could call both.</summary>
    public bool Meets(MessageLine other) =>
        string.Equals(Address.Text, other.Address.Text, StringComparison.Ordinal) && (Arguments.Count == 0 || other.Arguments.Count == 0 || Arguments.SequenceEqual(other.Arguments));
}

/// <summary>One argument of a message, as a plan writes it.</summary>
/// <param name="Text">The text; null for a number.</param>
/// <param name="Number">The number, whatever numeric type the sender gives it; true is 1 and false 0.</param>
public readonly record struct MessageArgument(string? Text, double Number);
