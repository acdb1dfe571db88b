using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Core.Records;

/// <summary>A setting of a desk that changed.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Change">What changed.</param>
public readonly record struct RecordedChange(string Desk, SettingChange Change);

/// <summary>How much of a desk's plan was seen at a moment.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Sample">How much.</param>
public readonly record struct RecordedCoverage(string Desk, CoverageSample Sample);

/// <summary>A line of the journal of a show.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Event">What happened.</param>
public sealed record RecordedShowEvent(string Desk, ShowEvent Event);

/// <summary>Something that was announced, to one sink or to several.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="Id">key#episode#transition.</param>
/// <param name="Key">site/desk/rule:subject, or site/desk/digest.</param>
/// <param name="At">When it came about.</param>
/// <param name="Level">What was told; of a digest only its severity counts.</param>
/// <param name="IsDigest">Whether it was a digest.</param>
/// <param name="Words">What people were told.</param>
public sealed record RecordedAnnouncement(string Desk, string Id, string Key, DateTimeOffset At, Level Level, bool IsDigest, AlertWords? Words)
{
    /// <summary>Whether it called for somebody: raised, unstable, or a digest. What is cleared, held, acknowledged or lapsed does not.</summary>
    public bool IsAlarm => IsDigest || Level.Kind is LevelKind.Raised or LevelKind.Unstable;
}

/// <summary>A desk of which something is recorded.</summary>
/// <param name="Desk">site/desk.</param>
/// <param name="At">When its record was last written.</param>
/// <param name="Show">Name of its show then.</param>
/// <param name="Phase">The phase then.</param>
public sealed record RecordedDesk(string Desk, DateTimeOffset At, string Show, Phase Phase);

/// <summary>A finding that stands, or stood when it was last written.</summary>
/// <param name="Record">Where it stands.</param>
/// <param name="Words">What was last said of it.</param>
public sealed record RecordedFinding(FindingRecord Record, AlertWords? Words);
