namespace StateWatch.Core.Tests.Findings;

/// <summary>One key in the reference model. Times are whole ticks of 100 ms; words are strings; nothing is shared with the ledger.</summary>
internal sealed class ModelRow(string key, int on, int off, bool latching, bool guarded, string origin)
{
    public string Key = key;
    public int On = on, Off = off;
    public bool Latching = latching, Guarded = guarded;

    /// <summary>plan, watch or bulk.</summary>
    public string Origin = origin;

    public bool Retired;
    public string Evidence = "unseen";
    public ModelReading Last = new('?');
    public ModelReading Drift = new('?');
    public string Condition = "normal";
    public int DriftTicks, MatchTicks;

    /// <summary>For how long it has weighed less than its severity; null when it does not.</summary>
    public int? LesserTicks;
    public int WentOff;
    public int? Closed;
    public int Episode, Relapses, Severity;
    public bool Latched;
    public (int Until, int Severity, int Band)? Known;
    public (int Until, int? Only)? Shelf;
    public int? OutOfServiceUntil;
    public bool Settling, Inhibited, Expected, Damped;
    public List<int> Stirs = [];
    public int DampedFrom, Looks, SteadyFrom;
    public bool Gathering, Recent, Remind, Folded;
    public ModelLevel Level = new("none", 0, 0, 0);
    public int First;
    public ModelSinkRow[] Sinks = [new(), new()];

    /// <summary>The same with the delays of another plan.</summary>
    public ModelRow TimedAs(ModelRow other)
    {
        (On, Off) = (other.On, other.Off);
        return this;
    }

    /// <summary>How much its drift matters: in full after a minute of it.</summary>
    public int Weight => DriftTicks >= 600 ? Math.Max(Drift.Severity, Drift.Lasting) : Drift.Severity;

    public bool IsOn => Condition is "active" or "clearing";

    public double Restless(int now) => Stirs.Sum(at => Math.Pow(0.5, (now - at) / 1200.0));

    public string Held => string.Join('+', ((string[])
    [
        Settling ? "settling" : "", Inhibited ? "inhibited" : "", Expected ? "expected" : "", Shelf is null ? "" : "shelved", Damped ? "damped" : "",
        OutOfServiceUntil is null ? "" : "out-of-service",
    ]).Where(static word => word.Length > 0));

    public override string ToString() => $"{Key} {Evidence} {Condition} ep{Episode} re{Relapses} sev{Severity} {(Known is null ? "unacked" : "acked")}{(Latched ? " latched" : "")} [{Held}] "
        + $"{Level} | {string.Join(" | ", Sinks.Select(static sink => $"{sink.Offered} {sink.Told} passed{sink.Passed}"))}";
}

internal sealed class ModelSinkRow
{
    public ModelLevel Offered = new("none", 0, 0, 0);
    public ModelLevel Told = new("none", 0, 0, 0);
    public int Passed, PassedEpisode, PassedSeverity;
}

/// <summary>What a check says: '=' match, '~' match outside the inner band, '!' drift, '?' unknown, '-' unsupported.</summary>
internal readonly record struct ModelReading(char Kind, int Severity = 0, int Band = 0, string? Live = null, int Lasting = 0);

internal readonly record struct ModelLevel(string Kind, int Severity, int Episode, int Transition)
{
    public bool Open => Kind != "none";

    public bool News => Kind is not ("none" or "held");

    public bool Same(ModelLevel other) => Kind == other.Kind && Episode == other.Episode && (Kind == "none" || Severity == other.Severity);

    public override string ToString() => $"{Kind}/{Severity}#{Episode}#{Transition}";
}
