using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Alerts;

/// <summary>What a sink is told at the least.</summary>
internal static class SinkLeast
{
    /// <summary>The sink as the ledger knows it. A log takes everything; people and lights are not told of what nobody would act on in a show.</summary>
    public static LedgerSink Of(SinkSettings settings) => new(settings.Name!, settings.Least switch
    {
        "notice" => Severity.Notice,
        "urgent" => Severity.Urgent,
        null when settings.Kind == "log" => Severity.Notice,
        _ => Severity.Warning,
    });
}
