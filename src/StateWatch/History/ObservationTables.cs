using StateWatch.Core.Watching;

namespace StateWatch.History;

/// <summary>Changes of settings and coverage in the tables of <see cref="ObservationSchema"/>.</summary>
internal static class ObservationTables
{
    public static void Write(ISqlSession session, WatchOutput output)
    {
        foreach (var change in output.Changes)
        {
            session.Run(
                "INSERT INTO setting_change (at, desk, setting, before_value, after_value, planned) VALUES ($1, $2, $3, $4, $5, $6) "
                + "ON CONFLICT (at, desk, setting) DO UPDATE SET after_value = excluded.after_value, planned = excluded.planned",
                Columns.Of(change.At), output.Desk, Text(change.Setting), Text(change.Before), Text(change.After), change.Planned ? 1 : 0);
        }

        foreach (var sample in output.Coverage)
        {
            session.Run(
                "INSERT INTO coverage (at, desk, planned, verified, cannot_tell) VALUES ($1, $2, $3, $4, $5) "
                + "ON CONFLICT (at, desk) DO UPDATE SET planned = excluded.planned, verified = excluded.verified, cannot_tell = excluded.cannot_tell",
                Columns.Of(sample.At), output.Desk, sample.Planned, sample.Verified, sample.CannotTell);
        }
    }

    private static string? Text(string? text) => text is null ? null : WholeText.ForColumn(text);
}
