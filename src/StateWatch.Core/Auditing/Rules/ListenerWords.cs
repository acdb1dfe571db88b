using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Rules;

/// <summary>Who hears a feed, in words for sentences about silence.</summary>
internal static class ListenerWords
{
    /// <summary>What it means that nothing leaves a feed; small first letter, no full stop.</summary>
    public static string Silent(Feed feed) => feed.Purpose switch
    {
        Purpose.Room => "nobody in the room hears anything",
        Purpose.Subs => "the lowest notes are missing in the room",
        Purpose.FrontFill => "the first rows hear nothing from these loudspeakers",
        Purpose.Stream => "whoever follows the stream hears nothing",
        Purpose.Overflow => "the other room hears nothing",
        Purpose.HearingLoop => "who listens with a hearing aid hears nothing",
        _ => "nothing is recorded",
    };

    /// <summary>Who misses a source there: <c>in the room</c>, <c>on the stream</c>.</summary>
    public static string Where(Feed feed) => feed.Purpose switch
    {
        Purpose.Room => "in the room",
        Purpose.Subs => "in the subwoofers",
        Purpose.FrontFill => "in the first rows",
        Purpose.Stream => "on the stream",
        Purpose.Overflow => "in the other room",
        Purpose.HearingLoop => "by hearing aids",
        _ => "on the recording",
    };
}
