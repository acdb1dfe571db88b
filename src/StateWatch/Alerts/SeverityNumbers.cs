using StateWatch.Core.Auditing;

namespace StateWatch.Alerts;

/// <summary>
/// Severities as numbers of the OpenTelemetry log data model ("Severity fields": 5 to 8 debug, 9 to 12 info, 13 to 16 warn, 17 to 20 error), which the
/// severity extension of CloudEvents recommends. A notice is INFO2, as that model maps the notice of syslog.
/// </summary>
internal static class SeverityNumbers
{
    public static int Of(Severity severity) => severity switch
    {
        Severity.Urgent => 17,
        Severity.Warning => 13,
        Severity.Notice => 10,
        _ => 5,
    };
}
