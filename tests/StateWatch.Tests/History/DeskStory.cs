using System.Globalization;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;
using StateWatch.Core.Plans;
using StateWatch.Core.Watching;

namespace StateWatch.Tests.History;

/// <summary>A desk whose findings live in a real ledger in virtual time, and what comes out of it as a watch would hand it to storage.</summary>
internal sealed class DeskStory
{
    public const string Fingerprint = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08";
    public static readonly DateTimeOffset Morning = new(2026, 11, 29, 9, 0, 0, TimeSpan.Zero);
    private readonly WatchedCheck[] _checks;
    private readonly string[] _sinks;
    private readonly List<SettingChange> _changes = [];
    private readonly List<CoverageSample> _coverage = [];
    private readonly List<ShowEvent> _happenings = [];
    private TimeSpan _base = TimeSpan.FromHours(1);
    private TimeSpan _gone;
    private long _session;

    public DeskStory(string desk = "hall/desk", int checks = 6, params string[] sinks)
    {
        Desk = desk;
        _sinks = sinks is [] ? ["light", "phone"] : sinks;
        _checks = [.. Enumerable.Range(0, checks).Select(static number => new WatchedCheck(IdOf(number), (TimerClass)(number % 3), number % 4 == 3, number % 5 == 4))];
        Ledger = new FindingLedger(desk, _checks, [.. _sinks.Select(LedgerSink.FromString)], Now);
        Begin();
    }

    public string Desk { get; }

    public FindingLedger Ledger { get; private set; }

    public Phase Phase { get; set; } = Phase.Show;

    public string? Cue { get; set; }

    public IReadOnlyList<BaselineLevel> Baseline { get; set; } = [];

    public Moment Now => new(_base + _gone, Morning + _gone);

    public static string IdOf(int check) => $"drift:input/{check + 1}/on";

    public string KeyOf(int check) => $"{Desk}/{IdOf(check)}";

    public void Wait(double seconds)
    {
        _gone += TimeSpan.FromSeconds(seconds);
        Ledger.Advance(Now);
    }

    public void Drift(int check, Severity severity = Severity.Warning, string live = "off")
    {
        Ledger.Observe(check, Reading.Drift(severity, live), Now);
        _changes.Add(new SettingChange(Now.Wall, $"input/{check + 1}/on", "on", live, true));
    }

    public void Match(int check)
    {
        Ledger.Observe(check, Reading.Match, Now);
        _changes.Add(new SettingChange(Now.Wall, $"input/{check + 1}/on", "off", "on", true));
    }

    public void Move(string setting, string? before, string? after) => _changes.Add(new SettingChange(Now.Wall, setting, before, after, false));

    public void See(int planned, int verified, int cannotTell) => _coverage.Add(new CoverageSample(Now.Wall, planned, verified, cannotTell));

    public void Tell(ShowEventKind kind, string text = "", string? by = null) => _happenings.Add(new ShowEvent(Now.Wall, "Midwinter", Phase, kind, text, by));

    /// <summary>What came about since the last call, with words that name the moment.</summary>
    public WatchOutput Take()
    {
        Ledger.Advance(Now);
        var output = new WatchOutput(Desk, Ledger.State, new ShowStanding("Midwinter", Phase, Cue, Morning, Fingerprint) { Baseline = Baseline })
        {
            Findings = [.. Ledger.TakeChanged().Select(record => new StoredFinding(record, record.Episode == 0 ? null : WordsOf(record.Key)))],
            Events = [.. Ledger.Events],
            Alerts = [.. Ledger.Announcements.Select(Alert)],
            Changes = [.. _changes],
            Coverage = [.. _coverage],
            Happenings = [.. _happenings],
        };
        Ledger.ClearOutputs();
        _changes.Clear();
        _coverage.Clear();
        _happenings.Clear();
        return output;
    }

    /// <summary>The watch dies and a new one goes on from what was stored.</summary>
    /// <param name="stored">What was stored.</param>
    /// <param name="away">Seconds between them.</param>
    /// <param name="match">Whether it finds everything on plan; else it is to be told, and then <see cref="Settle"/>.</param>
    public void Restart(StoredDesk stored, double away, bool match = true)
    {
        _gone += TimeSpan.FromSeconds(away);
        _base = TimeSpan.FromMinutes(7);
        Ledger = FindingLedger.Restore(stored.Ledger, _checks, [.. _sinks.Select(LedgerSink.FromString)], Now);
        Link();
        if (match)
            Settle();
    }

    /// <summary>The desk was read whole.</summary>
    public void Settle() => Ledger.SnapshotDone(_session, Now);

    private void Begin()
    {
        Link();
        Settle();
    }

    private void Link()
    {
        Ledger.Start(Now);
        Ledger.LinkUp(++_session, Now);
        for (var check = 0; check < _checks.Length; check++)
            Ledger.Observe(check, Reading.Match, Now);
    }

    private Alert Alert(Announcement told) => new(told, "Midwinter", Phase, Cue)
    {
        Words = told.Digest is null ? WordsOf(told.Key) : null,
        DigestWords = told.Digest is { } lines ? [.. lines.Select(line => line.Passed > 0 ? null : WordsOf(line.Key))] : [],
    };

    private AlertWords WordsOf(string key)
    {
        var strip = key[(key.IndexOf(':', StringComparison.Ordinal) + 1)..].Replace("/on", "", StringComparison.Ordinal);
        return new AlertWords("drift", $"{strip} is muted", "Nobody hears it.", "Fader down first, then unmute it.")
        {
            Strip = strip,
            Name = $"Voice {strip.Split('/')[^1]}",
            Setting = $"{strip}/on",
            Planned = "on",
            Live = string.Create(CultureInfo.InvariantCulture, $"off at {_gone.TotalSeconds}"),
            PlanAt = "midwinter.plan.yaml:14:38",
        };
    }
}
