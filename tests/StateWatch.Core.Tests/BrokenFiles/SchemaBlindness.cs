namespace StateWatch.Core.Tests.BrokenFiles;

/// <summary>What a schema sees and what it cannot: it knows no names, no other line and no desk.</summary>
internal static class SchemaBlindness
{
    /// <summary>Faults of shape: keys, lists and mappings, closed lists of words, ranges.</summary>
    public static readonly string[] CodesOfShape =
    [
        "unknown-key", "missing-key", "wrong-shape", "out-of-range", "bad-value", "wrong-format", "bad-finding-id", "finding-expected-twice", "incident-sets-nothing", "unclear-codec",
    ];

    /// <summary>Faults that only names, other lines, the desk profile or the calendar show.</summary>
    public static readonly string[] CodesBeyond =
    [
        "argument-mapped-twice", "bad-address", "bad-number-form", "bad-table", "broken-pair", "bus-booked-twice", "cannot-extend",
        "carried-nowhere", "codec-mismatch", "conflict", "constraint-broken", "count-mismatch", "coupling-twice", "estimate-lacks", "expired-coupling", "expired-waiver", "feed-without-output", "half-used", "ratio-not-made",
        "idle-cue", "incident-setting-not-seen", "measured-later", "message-twice", "mono-feed", "guard-not-judged", "name-collision", "name-cut", "name-twice", "needless-by-eye", "no-loudspeaker", "no-such-strip",
        "no-zone-data", "off-grid", "one-of-alone", "one-of-both-ways", "one-sided", "open-mic-in-subs", "open-mic-without-dca",
        "output-booked-twice", "private-made-public", "question-could-set", "redundant-line", "schedule-misses-phase", "schedule-out-of-order", "schedule-twice", "schedule-without-zone", "setting-mapped-twice", "shared-socket",
        "short-of-margin", "tolerance-too-small", "too-little-gain", "too-many-sources", "too-many-settings", "unit-overbooked", "unknown-codec", "unknown-name", "unknown-placeholder", "unknown-rule",
        "unknown-setting", "unknown-subject", "unknown-zone", "unseen-setting", "unused-codec", "unused-role", "waiver-twice", "word-spelled-twice",
    ];

    /// <summary>Files whose code is one of shape, but whose fault only the desk or another key shows.</summary>
    public static readonly string[] FilesOfTheDesk =
    [
        "out-of-range/range-too-long", "out-of-range/channel-the-desk-has-not", "bad-value/word-misspelled", "bad-value/level-for-an-assign", "bad-value/unit-in-the-rack-misspelled", "bad-value/cue-fader",
        "unclear-codec/said-twice",
    ];

    /// <summary>Files whose code is beyond a schema, but whose mistake it sees all the same: a path that is in no catalogue, an address without its slash.</summary>
    public static readonly string[] FilesSeenAllTheSame =
    [
        "unseen-setting/path-misspelled", "unseen-setting/path-of-a-range-misspelled", "incident-setting-not-seen/path-misspelled", "bad-address/slash-forgotten",
    ];
}
