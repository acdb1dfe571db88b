using StateWatch.Core.Findings;
using StateWatch.Core.Records;

namespace StateWatch.Core.Watching;

/// <summary>What people are told of what became of their orders.</summary>
internal static class OrderTexts
{
    /// <summary>What is said of a finding that was put aside: for how long, and why for no longer.</summary>
    /// <param name="order">What was asked for.</param>
    /// <param name="span">What was given.</param>
    public static string PutAside(HoldFindingOrder order, TimeSpan span)
    {
        var isShorter = span < (order.Span ?? LedgerNumbers.ShelvedFor);
        var why = !isShorter ? "" : span == LedgerNumbers.HeldAtMost ? "; no longer than that at once" : "; the event is over then";
        return $"put aside for {HistoryWords.Of(span)}{(order.IsOneShot ? ", or until it is cleared" : "")}{why}";
    }

    /// <summary>What is said of what became of an order about a finding.</summary>
    public static OrderResult Said(CommandOutcome outcome, string key, string done) => new(outcome, outcome switch
    {
        CommandOutcome.Done => $"{key}: {done}",
        CommandOutcome.UnknownKey => $"no check has the id '{key}'; 'statewatch status' lists what stands",
        CommandOutcome.NothingRaised => $"nothing is raised at '{key}'; 'statewatch status' lists what stands",
        CommandOutcome.NoAuthor => "it does not say who; give --by NAME",
        CommandOutcome.NoReason => "it does not say why; give --why TEXT",
        CommandOutcome.NoExpiry => "it does not end; give a time above zero",
        CommandOutcome.Protected => $"'{key}' may not be put aside; acknowledge it instead",
        CommandOutcome.EventOver => "the event is over; what is put aside now would hide the next one's faults",
        CommandOutcome.NotHeld => $"'{key}' is not put aside; it may have ended by itself",
        _ => "it cannot be done",
    });
}
