using System.Globalization;
using StateWatch.Core.Documents;

namespace StateWatch.Core.Plans;

/// <summary>Whether measured couplings still count.</summary>
public static class CouplingCheck
{
    /// <summary>Warns of every reference that has expired, and refuses days that have not come yet.</summary>
    /// <param name="lines">The plan's couplings.</param>
    /// <param name="today">The day where the show is.</param>
    /// <param name="diagnostics">Gets the faults.</param>
    public static void Dates(IReadOnlyList<CouplingLine> lines, DateOnly today, DiagnosticBag diagnostics)
    {
        foreach (var line in lines)
        {
            if (line.Measured is not { } measured || !MeasuredLoss.IsStale(measured.Day, today))
                continue;
            if (measured.Day > today)
                diagnostics.Add(PlanCodes.MeasuredLater, measured.DayAt, $"'{line.Mic.Text}' at '{line.Feed.Text}' was measured on {Text(measured.Day)}, but it is {Text(today)}", "write the day it was measured, and look at this machine's clock");
            else
                diagnostics.Add(PlanCodes.ExpiredCoupling, measured.DayAt, $"'{line.Mic.Text}' at '{line.Feed.Text}' was measured on {Text(measured.Day)}, more than {MeasuredLoss.Days} days ago, so the reference no longer counts",
                    "measure it again, with an engineer there");
        }
    }

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
