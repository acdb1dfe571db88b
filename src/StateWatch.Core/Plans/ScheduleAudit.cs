using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Looks at a schedule that can be read for what is probably not meant.</summary>
internal static class ScheduleAudit
{
    public static void Run(PlanDocument document, DiagnosticBag diagnostics)
    {
        if (document.Schedule.Count == 0)
            return;
        var first = document.Schedule[0].Place;
        if (document.Zone is null)
            diagnostics.Add(PlanCodes.ScheduleWithoutZone, first, "the schedule's times are those of the machine that watches, which may stand in another zone or keep UTC", "add zone: and a name such as Europe/Lisbon");
        AuditPhases(document, first, diagnostics);
        foreach (var day in Enum.GetValues<DayOfWeek>())
            AuditOrder(document.Schedule.Where(line => line.Days.Contains(day)), diagnostics);
        foreach (var day in document.Schedule.Where(static line => line.On is not null).GroupBy(static line => line.On))
            AuditOrder(day, diagnostics);
    }

    // A phase that the plan says something of is meant to come; without a line it never does by itself.
    private static void AuditPhases(PlanDocument document, Origin first, DiagnosticBag diagnostics)
    {
        var wanted = document.PhaseLines.Select(static line => line.Phase).Append(Phase.Show).Distinct().Order();
        var missing = wanted.Where(phase => document.Schedule.All(line => line.Phase != phase)).Select(static phase => phase.Word()).ToList();
        if (missing.Count > 0 && document.Schedule.Any(static line => line.Phase is not null))
            diagnostics.Add(PlanCodes.ScheduleMissesPhase, first, $"the schedule never begins {string.Join(" or ", missing)}, so a watch that nobody tells stays in the phase before", $"add a line such as {{ phase: {missing[0]}, at: \"10:00\" }}");
    }

    // After a show the day may begin anew; before it nobody goes back.
    private static void AuditOrder(IEnumerable<ScheduleLine> lines, DiagnosticBag diagnostics)
    {
        ScheduleLine? before = null;
        foreach (var line in lines.Where(static line => line.Phase is not null).OrderBy(static line => line.At))
        {
            if (before?.Phase is { } phase && phase != Phase.Show && line.Phase < phase)
            {
                diagnostics.Add(PlanCodes.ScheduleOutOfOrder, line.Place, $"{line.What} begins at {line.At:HH\\:mm}, though {before.What} has begun at {before.At:HH\\:mm} and no show came in between", "look whether a time is wrong");
                return;
            }

            before = line;
        }
    }
}
