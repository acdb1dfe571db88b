namespace StateWatch.History;

/// <summary>
/// The tables of findings, written once for both databases; <c>IDENTITY</c> stands for their numbering of rows. Times are UTC in steps of 100 ns since
/// 1970, clocks in steps of 100 ns; what a record holds stands as JSON beside the columns one asks by.
/// </summary>
internal static class FindingSchema
{
    /// <summary>One script for each version, in order. A script that has been shipped is never changed: add another one.</summary>
    public static IReadOnlyList<string> Migrations { get; } =
    [
        """
        CREATE TABLE desk (
            desk text NOT NULL PRIMARY KEY,
            at bigint NOT NULL,
            ledger text NOT NULL,
            standing text NOT NULL);
        CREATE TABLE finding (
            key text NOT NULL PRIMARY KEY,
            desk text NOT NULL,
            episode integer NOT NULL,
            is_open integer NOT NULL,
            severity text NOT NULL,
            record text NOT NULL,
            words text);
        CREATE INDEX finding_desk ON finding (desk);
        CREATE TABLE finding_event (
            number IDENTITY,
            desk text NOT NULL,
            at bigint NOT NULL,
            clock bigint NOT NULL,
            key text NOT NULL,
            episode integer NOT NULL,
            kind text NOT NULL,
            author text,
            said text);
        CREATE INDEX finding_event_at ON finding_event (at);
        CREATE TABLE show_event (
            number IDENTITY,
            desk text NOT NULL,
            at bigint NOT NULL,
            show text NOT NULL,
            phase text NOT NULL,
            kind text NOT NULL,
            said text NOT NULL,
            author text);
        CREATE INDEX show_event_at ON show_event (at);
        CREATE TABLE announcement (
            number IDENTITY,
            site text NOT NULL,
            desk text NOT NULL,
            sink text NOT NULL,
            key text NOT NULL,
            id text NOT NULL,
            at bigint NOT NULL,
            recorded bigint NOT NULL,
            kind text NOT NULL,
            severity text NOT NULL,
            alert text NOT NULL,
            state text NOT NULL DEFAULT 'waiting',
            gap integer NOT NULL DEFAULT 0);
        CREATE UNIQUE INDEX announcement_once ON announcement (sink, id, at);
        CREATE INDEX announcement_waiting ON announcement (sink, number) WHERE state = 'waiting';
        CREATE INDEX announcement_at ON announcement (at);
        """,
    ];
}

/// <summary>The tables of what is seen all day: settings that changed, and how much of the plan was seen.</summary>
internal static class ObservationSchema
{
    /// <summary>One script for each version, in order.</summary>
    public static IReadOnlyList<string> Migrations { get; } =
    [
        """
        CREATE TABLE setting_change (
            at bigint NOT NULL,
            desk text NOT NULL,
            setting text NOT NULL,
            before_value text,
            after_value text,
            planned integer NOT NULL,
            PRIMARY KEY (at, desk, setting)) CLUSTERED;
        CREATE TABLE coverage (
            at bigint NOT NULL,
            desk text NOT NULL,
            planned integer NOT NULL,
            verified integer NOT NULL,
            cannot_tell integer NOT NULL,
            PRIMARY KEY (at, desk)) CLUSTERED;
        """,
    ];
}
