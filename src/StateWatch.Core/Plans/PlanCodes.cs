using StateWatch.Core.Documents;
using static StateWatch.Core.Documents.DiagnosticLevel;

namespace StateWatch.Core.Plans;

/// <summary>Faults that only a plan can have.</summary>
public static class PlanCodes
{
    /// <summary>A name that is nowhere defined.</summary>
    public static readonly DiagnosticCode UnknownName = new("unknown-name", Error,
        "A feed, group, effect, DCA, mute group, role or unit is named that the plan does not define.");

    /// <summary>A strip the desk does not have.</summary>
    public static readonly DiagnosticCode NoSuchStrip = new("no-such-strip", Error, "The plan names a strip, bus, socket or output that this desk does not have.");

    /// <summary>The profile cannot see it.</summary>
    public static readonly DiagnosticCode UnseenSetting = new("unseen-setting", Error,
        "The plan names a setting that the desk profile does not map, so it could never be verified.");

    /// <summary>Two lines of equal weight disagree.</summary>
    public static readonly DiagnosticCode Conflict = new("conflict", Error, "Two lines of equal weight say different things about one setting.");

    /// <summary>Ranges that do not fit each other.</summary>
    public static readonly DiagnosticCode CountMismatch = new("count-mismatch", Error, "Two ranges that belong together have different lengths.");

    /// <summary>Names defined twice.</summary>
    public static readonly DiagnosticCode NameTwice = new("name-twice", Error, "One name stands for two feeds, groups or effects.");

    /// <summary>A tolerance that the desk's steps cannot honour.</summary>
    public static readonly DiagnosticCode ToleranceTooSmall = new("tolerance-too-small", Error, "A tolerance is smaller than the desk's own step.");

    /// <summary>A set of alternatives of one.</summary>
    public static readonly DiagnosticCode OneOfAlone = new("one-of-alone", Error, "A line says that any one of its inputs will do, but it is a single input.");

    /// <summary>Alternatives that a cue opens and closes.</summary>
    public static readonly DiagnosticCode OneOfBothWays = new("one-of-both-ways", Warning, "A cue opens and closes inputs any one of which will do.");

    /// <summary>A cue that changes nothing.</summary>
    public static readonly DiagnosticCode IdleCue = new("idle-cue", Warning, "A cue says nothing that is not planned without it.");

    /// <summary>A stereo pair that is not odd/even.</summary>
    public static readonly DiagnosticCode BrokenPair = new("broken-pair", Error, "A stereo pair does not begin at an odd channel or has an odd count.");

    /// <summary>The desk has no such value exactly.</summary>
    public static readonly DiagnosticCode OffGrid = new("off-grid", Notice, "A planned value lies between two steps of the desk.");

    /// <summary>The desk will cut a name.</summary>
    public static readonly DiagnosticCode NameCut = new("name-cut", Notice, "A name is longer than the desk keeps; it is compared as the desk cuts it.");

    /// <summary>Two names are cut to the same text.</summary>
    public static readonly DiagnosticCode NameCollision = new("name-collision", Warning, "Two different names are cut by the desk to the same text.");

    /// <summary>A line that changes nothing.</summary>
    public static readonly DiagnosticCode Redundant = new("redundant-line", Warning, "A line changes nothing: the same already follows from other lines.");

    /// <summary>A role nobody has.</summary>
    public static readonly DiagnosticCode UnusedRole = new("unused-role", Warning, "A role is defined that no input has.");

    /// <summary>Two strips, one socket.</summary>
    public static readonly DiagnosticCode SharedSocket = new("shared-socket", Warning, "Two inputs are planned on one socket.");

    /// <summary>One output, two feeds.</summary>
    public static readonly DiagnosticCode OutputTwice = new("output-booked-twice", Error, "One output is planned for two feeds.");

    /// <summary>One bus, two feeds.</summary>
    public static readonly DiagnosticCode BusTwice = new("bus-booked-twice", Error, "One bus belongs to two feeds, groups or effects.");

    /// <summary>A feed that leaves the desk nowhere.</summary>
    public static readonly DiagnosticCode FeedWithoutOutput = new("feed-without-output", Warning, "A feed has no output, so nobody hears it.");

    /// <summary>An open microphone no DCA reaches.</summary>
    public static readonly DiagnosticCode OpenMicWithoutDca = new("open-mic-without-dca", Warning, "An open microphone belongs to no DCA.");

    /// <summary>An open microphone in the subs, by plan.</summary>
    public static readonly DiagnosticCode OpenMicInSubs = new("open-mic-in-subs", Warning, "The plan itself sends an open microphone to the low-frequency feed.");

    /// <summary>The plan makes something private public.</summary>
    public static readonly DiagnosticCode PrivateMadePublic = new("private-made-public", Warning, "The plan itself sends a click or private talk to a public feed.");

    /// <summary>An input that goes nowhere.</summary>
    public static readonly DiagnosticCode CarriedNowhere = new("carried-nowhere", Warning, "An input goes to no feed and no group.");

    /// <summary>The plan breaks its own rule.</summary>
    public static readonly DiagnosticCode ConstraintBroken = new("constraint-broken", Error, "The plan sends something where one of its own lines forbids it, or nowhere where a line demands it.");

    /// <summary>A plan that cannot be extended.</summary>
    public static readonly DiagnosticCode CannotExtend = new("cannot-extend", Error, "The plan named under extends is not there, leads back to this plan, or the chain is too long.");

    /// <summary>Left to the eye without need.</summary>
    public static readonly DiagnosticCode NeedlessByEye = new("needless-by-eye", Error, "A setting is marked by-eye that the desk can be asked for.");

    /// <summary>A rule that does not exist.</summary>
    public static readonly DiagnosticCode UnknownRule = new("unknown-rule", Error, "A waiver names a rule that does not exist.");

    /// <summary>A setting no finding can name.</summary>
    public static readonly DiagnosticCode UnknownSubject = new("unknown-subject", Error, "A waiver names a setting that the desk profile does not map.");

    /// <summary>Two waivers, one finding.</summary>
    public static readonly DiagnosticCode WaiverTwice = new("waiver-twice", Error, "One finding is waived twice.");

    /// <summary>A waiver that is over.</summary>
    public static readonly DiagnosticCode ExpiredWaiver = new("expired-waiver", Warning, "The last day of a waiver is over, so it no longer counts.");

    /// <summary>Mono and two sides at once.</summary>
    public static readonly DiagnosticCode MonoFeed = new("mono-feed", Error, "A feed that is mono has several buses or a bus with two sides.");

    /// <summary>Half of a pair, by plan.</summary>
    public static readonly DiagnosticCode OneSided = new("one-sided", Warning, "The plan sends only one side of a stereo pair to a feed that is mono.");

    /// <summary>More strips than channels.</summary>
    public static readonly DiagnosticCode UnitOverbooked = new("unit-overbooked", Error, "More strips take a unit than it has channels.");

    /// <summary>Half of a unit.</summary>
    public static readonly DiagnosticCode HalfUsed = new("half-used", Warning, "A unit has two channels, but only one strip takes it.");

    /// <summary>More direct outs than places.</summary>
    public static readonly DiagnosticCode TooManySources = new("too-many-sources", Error, "A feed that takes direct outs has more sources than outputs.");

    /// <summary>A guard without a reference.</summary>
    public static readonly DiagnosticCode GuardNotJudged = new("guard-not-judged", Warning, "A guard cannot be judged, because a gain on the way has no planned value to compare with.");

    /// <summary>Levels that do not make a ratio.</summary>
    public static readonly DiagnosticCode RatioNotMade = new("ratio-not-made", Warning, "The plan's own levels do not make a ratio that it asks for.");

    /// <summary>A plan that feeds back by its own numbers.</summary>
    public static readonly DiagnosticCode ShortOfMargin = new("short-of-margin", Warning, "The plan's own levels leave a microphone less margin before feedback than is usual.");

    /// <summary>A zone nobody knows.</summary>
    public static readonly DiagnosticCode UnknownZone = new("unknown-zone", Error, "The time zone database has no zone of this name.");

    /// <summary>No zones on this machine.</summary>
    public static readonly DiagnosticCode NoZoneData = new("no-zone-data", Warning, "This machine has no time zone data, so local time is used instead of the show's.");

    /// <summary>Two couplings, one pair.</summary>
    public static readonly DiagnosticCode CouplingTwice = new("coupling-twice", Error, "Two couplings of equal weight speak of one microphone and one loudspeaker.");

    /// <summary>A coupling with what nobody hears in the room.</summary>
    public static readonly DiagnosticCode NoLoudspeaker = new("no-loudspeaker", Error, "A coupling names something that is no loudspeaker, such as in-ears or a stream.");

    /// <summary>An estimate without data.</summary>
    public static readonly DiagnosticCode EstimateLacks = new("estimate-lacks", Error, "An estimated coupling needs the feed's loudspeaker and the input's or role's microphone, and one of them is missing.");

    /// <summary>A reference that is over.</summary>
    public static readonly DiagnosticCode ExpiredCoupling = new("expired-coupling", Warning, "A measured coupling is older than 90 days, so it no longer counts.");

    /// <summary>Measured in time to come.</summary>
    public static readonly DiagnosticCode MeasuredLater = new("measured-later", Error, "A coupling is said to have been measured on a day that has not come yet.");

    /// <summary>Feedback comes first.</summary>
    public static readonly DiagnosticCode TooLittleGain = new("too-little-gain", Notice, "By the distances of an estimated coupling feedback comes before the farthest listener hears enough, even with one open microphone.");

    /// <summary>Two lines of the schedule at one moment.</summary>
    public static readonly DiagnosticCode ScheduleTwice = new("schedule-twice", Error, "Two lines of the schedule begin at one moment.");

    /// <summary>A phase without a line.</summary>
    public static readonly DiagnosticCode ScheduleMissesPhase = new("schedule-misses-phase", Warning, "The schedule never begins a phase that the plan speaks of.");

    /// <summary>Back before the show.</summary>
    public static readonly DiagnosticCode ScheduleOutOfOrder = new("schedule-out-of-order", Warning, "On one day the schedule goes back to an earlier phase before there was a show.");

    /// <summary>Whose time.</summary>
    public static readonly DiagnosticCode ScheduleWithoutZone = new("schedule-without-zone", Warning, "The plan has a schedule but names no time zone.");

    /// <summary>One message for two.</summary>
    public static readonly DiagnosticCode MessageTwice = new("message-twice", Error, "One OSC message would call two phases or cues.");

    /// <summary>All of them.</summary>
    public static IReadOnlyList<DiagnosticCode> All { get; } =
    [
        UnknownName, NoSuchStrip, UnseenSetting, Conflict, CountMismatch, NameTwice, ToleranceTooSmall, BrokenPair, OffGrid, NameCut, OneOfAlone, OneOfBothWays, IdleCue,
        NameCollision, Redundant, UnusedRole, SharedSocket, OutputTwice, BusTwice, FeedWithoutOutput, OpenMicWithoutDca, OpenMicInSubs,
        PrivateMadePublic, CarriedNowhere, ConstraintBroken, CannotExtend,
        UnknownRule, UnknownSubject, WaiverTwice, ExpiredWaiver, NeedlessByEye,
        MonoFeed, OneSided, UnitOverbooked, HalfUsed, TooManySources, GuardNotJudged, RatioNotMade, UnknownZone, NoZoneData,
        CouplingTwice, NoLoudspeaker, EstimateLacks, ExpiredCoupling, MeasuredLater, TooLittleGain, ShortOfMargin,
        ScheduleTwice, ScheduleMissesPhase, ScheduleOutOfOrder, ScheduleWithoutZone, MessageTwice,
    ];
}
