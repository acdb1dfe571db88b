using System.Text;
using StateWatch.Core.Documents;
using StateWatch.Core.Reports;

namespace StateWatch.Commands;

internal static class DiagnosticText
{
    public static string Write(DiagnosticBag bag, Func<string, SourceText?> source, bool colour) => string.Join("", bag.Items.Select(item => $"{item.At}: {item.Code.Id}: {item.Message}\n"));
}

internal static class SweepJson
{
    public static string Write(SweepResult result) => "{}";
}

internal static class VolunteerText
{
    public static string Write(SweepResult result, bool colour) => EngineerText.Write(result, colour);
}

internal static class EngineerText
{
    public static string Write(SweepResult result, bool colour)
    {
        var text = new StringBuilder($"{result.Verdict} {result.Read} {result.Planned} planned {result.Verified} verified\n");
        foreach (var finding in result.Audit.Findings)
            text.Append($"{finding.Severity} {finding.Id}: {finding.Words.What}\n");
        return text.ToString();
    }
}
