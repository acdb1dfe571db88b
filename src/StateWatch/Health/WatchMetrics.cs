using System.Diagnostics.Metrics;
using StateWatch.Alerts;
using StateWatch.Core.Auditing;
using StateWatch.Core.Watching;
using StateWatch.Hosting;

namespace StateWatch.Health;

/// <summary>
/// The numbers of a watch, named by OpenTelemetry's rules (units apart, after UCUM); Prometheus adds unit and <c>_total</c> to the names. They are read
/// when somebody asks, but for the latency, which is noted in the loop.
/// </summary>
internal sealed class WatchMetrics : IDisposable
{
    /// <summary>The meter's name.</summary>
    public const string MeterName = "StateWatch";

    /// <summary>The histogram from datagram to decision.</summary>
    public const string LatencyName = "statewatch.loop.latency";

    private static readonly Severity[] Severities = [Severity.Notice, Severity.Warning, Severity.Urgent];

    private readonly Meter _meter;
    private readonly Histogram<double> _latency;
    private readonly WatchSite _site;

    public WatchMetrics(WatchSite site, IReadOnlyList<SinkRunner> sinks, HistoryWriter writer)
    {
        _site = site;
        _meter = new Meter(MeterName);
        _latency = _meter.CreateHistogram<double>(LatencyName, "s", "From the first datagram of a batch to its decision.");
        Gauge("statewatch.desk.settings.planned", "{setting}", "Settings that the plan speaks of.", static status => status.Coverage.Planned);
        Gauge("statewatch.desk.settings.verified", "{setting}", "Settings of the plan with a fresh value.", static status => status.Coverage.Verified);
        Gauge("statewatch.desk.checks.undecided", "{check}", "Checks that cannot be judged.", static status => status.Coverage.CannotTell);
        Gauge("statewatch.desk.silence", "s", "Since when nothing that the profile knows was heard.", static status => status.SilentFor.TotalSeconds);
        _meter.CreateObservableGauge("statewatch.desk.read.age", () => PerDesk(static status => status.ReadAgo?.TotalSeconds), "s", "How old the last full read of the desk is.");
        Gauge("statewatch.desk.session", "{session}", "Number of the session with the desk; each time it was lost begins another.", static status => status.Session);
        _meter.CreateObservableGauge("statewatch.findings", Findings, "{finding}", "Findings that stand, by desk and severity.");
        _meter.CreateObservableCounter("statewatch.link.received", () => PerDesk(static status => (double)status.Link.Received), "{datagram}", "Datagrams of the desk taken in.");
        _meter.CreateObservableCounter("statewatch.link.sent", () => PerDesk(static status => (double)status.Link.Sent), "{datagram}", "Questions sent.");
        _meter.CreateObservableCounter("statewatch.link.dropped", Dropped, "{datagram}", "Datagrams not taken in, by reason: foreign, ring-full, too-long, undecodable.");
        _meter.CreateObservableGauge("statewatch.sink.queue", () => sinks.Select(static sink => Of(sink.State.Waiting, "sink", sink.State.Name)), "{alert}", "Alerts that wait for a sink.");
        _meter.CreateObservableGauge("statewatch.sink.up", () => sinks.Select(static sink => Of(sink.State is { IsUp: true, IsStopped: false } ? 1 : 0, "sink", sink.State.Name)), "1", "1 while a sink takes things.");
        _meter.CreateObservableCounter("statewatch.sink.delivered", () => sinks.Select(static sink => Of(sink.State.Delivered, "sink", sink.State.Name)), "{alert}", "Alerts that a sink has taken.");
        _meter.CreateObservableCounter("statewatch.sink.failures", () => sinks.Select(static sink => Of(sink.State.Failed, "sink", sink.State.Name)), "{try}", "Tries that a sink did not take.");
        _meter.CreateObservableCounter("statewatch.history.commits", () => writer.Commits, "{transaction}", "Transactions stored.");
        _meter.CreateObservableCounter("statewatch.history.failures", () => writer.Failures, "{transaction}", "Transactions that could not be stored.");
    }

    /// <summary>Notes how long one batch of a desk took; on its loop's thread.</summary>
    public void Decided(KeyValuePair<string, object?> desk, TimeSpan time) => _latency.Record(time.TotalSeconds, desk);

    /// <summary>The label of a desk.</summary>
    public static KeyValuePair<string, object?> Label(string desk) => new("desk", desk);

    public void Dispose() => _meter.Dispose();

    private void Gauge(string name, string unit, string meaning, Func<DeskStatus, double> value) =>
        _meter.CreateObservableGauge(name, () => PerDesk(status => value(status)), unit, meaning);

    private IEnumerable<Measurement<double>> PerDesk(Func<DeskStatus, double?> value)
    {
        foreach (var desk in _site.Desks)
        {
            if (desk.Loop.StatusNow is { } status && value(status) is { } number)
                yield return new Measurement<double>(number, Label(desk.Key));
        }
    }

    private IEnumerable<Measurement<double>> Findings()
    {
        var open = _site.Standing.Where(static item => item.Finding.Record.Level.IsOpen).ToLookup(static item => (item.Desk, item.Finding.Record.Severity));
        foreach (var desk in _site.Desks.Select(static desk => desk.Key).Append(_site.Own.Desk))
        {
            foreach (var severity in Severities)
                yield return new Measurement<double>(open[(desk, severity)].Count(), Label(desk), new("severity", severity.Word()));
        }
    }

    private IEnumerable<Measurement<double>> Dropped()
    {
        foreach (var desk in _site.Desks)
        {
            if (desk.Loop.Status is not { } status)
                continue;
            foreach (var (reason, count) in ((string, long)[])[("foreign", status.Link.Foreign), ("ring-full", status.Link.Dropped), ("too-long", status.Link.TooLong), ("undecodable", status.Undecodable)])
                yield return new Measurement<double>(count, Label(desk.Key), new("reason", reason));
        }
    }

    private static Measurement<double> Of(double value, string label, string name) => new(value, new KeyValuePair<string, object?>(label, name));
}
