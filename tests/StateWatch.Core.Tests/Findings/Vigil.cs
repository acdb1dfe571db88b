using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>A ledger that watches a desk in virtual time, for tests that tell a story: it begins with the desk on plan and seen whole.</summary>
internal sealed class Vigil
{
    public const string Mute = "hall/desk/muted:input/1";
    private static readonly DateTimeOffset Morning = new(2026, 11, 25, 9, 0, 0, TimeSpan.Zero);
    private readonly Dictionary<int, Reading> _desk = [];
    private readonly List<Announcement> _waiting = [];
    private TimeSpan _base = TimeSpan.FromHours(1);

    public Vigil(params WatchedCheck[] checks)
    {
        Checks = checks is [] ? [new WatchedCheck("muted:input/1", TimerClass.Switch)] : checks;
        Ledger = new FindingLedger("hall/desk", Checks, ["light", "phone"], Now);
        Ledger.Start(Now);
        Connect();
        Told();
    }

    public IReadOnlyList<WatchedCheck> Checks { get; set; }

    public FindingLedger Ledger { get; private set; }

    public double Seconds { get; private set; }

    public long Session { get; private set; }

    public Moment Now => new(_base + TimeSpan.FromSeconds(Seconds), Morning + TimeSpan.FromSeconds(Seconds));

    /// <summary>Everything handed over since the beginning.</summary>
    public List<Announcement> All { get; } = [];

    public FindingRecord this[string key] => Ledger.Find(key) ?? throw new InvalidOperationException($"no {key}");

    public FindingRecord this[int check] => this[KeyOf(check)];

    public static Vigil OfMany(int count, TimerClass timers = TimerClass.Switch, int protectedFrom = int.MaxValue) =>
        new([.. Enumerable.Range(0, count).Select(number => new WatchedCheck($"muted:input/{number:0000}", timers, IsProtected: number >= protectedFrom))]);

    public string KeyOf(int check) => $"hall/desk/{Checks[check].Id}";

    public void Wait(double seconds)
    {
        Seconds = Math.Round(Seconds + seconds, 6);
        Ledger.Advance(Now);
    }

    public void Drift(int check = 0, Severity severity = Severity.Urgent, string? live = null, int band = 0) => Say(check, Reading.Drift(severity, live, band));

    public void Match(int check = 0) => Say(check, Reading.Match);

    public void Unknown(int check = 0) => Say(check, Reading.Unknown);

    public void Say(int check, Reading reading)
    {
        _desk[check] = reading;
        Ledger.Observe(check, reading, Now);
    }

    /// <summary>A new connection and a full read, of what the desk last was.</summary>
    public void Connect()
    {
        Ledger.LinkUp(++Session, Now);
        Read();
    }

    public void Gap() => Ledger.Gap(++Session, Now);

    public void Read()
    {
        HandInEverything();
        Ledger.SnapshotDone(Session, Now);
    }

    public void HandInEverything()
    {
        for (var check = 0; check < Checks.Count; check++)
            Ledger.Observe(check, _desk.TryGetValue(check, out var reading) ? reading : Reading.Match, Now);
    }

    /// <summary>The same desk with another state while nobody looks.</summary>
    public void Becomes(int check, Reading reading) => _desk[check] = reading;

    /// <summary>The program dies and starts again; the clock of the new run begins elsewhere.</summary>
    public void Restart(double away, Func<LedgerRecord, LedgerRecord>? storage = null)
    {
        Told();
        var record = Ledger.Export(Now);
        _base = TimeSpan.FromMinutes(7);
        Seconds += away;
        Ledger = FindingLedger.Restore(storage is null ? record : storage(record), Checks, ["light", "phone"], Now);
        Ledger.Start(Now);
        Session = 0;
    }

    /// <summary>What the first sink was told since the last call, such as <c>raised muted:input/1</c>; both are told the same unless one was lost.</summary>
    public IReadOnlyList<string> Told(string sink = "light")
    {
        Ledger.Advance(Now);
        All.AddRange(Ledger.Announcements);
        _waiting.AddRange(Ledger.Announcements);
        Ledger.ClearOutputs();
        var told = _waiting.Where(announcement => announcement.Sink == sink).ToList();
        _waiting.RemoveAll(announcement => announcement.Sink == sink);
        return [.. told.Select(Line)];
    }

    /// <summary>Everything handed over is taken.</summary>
    public void Deliver(string sink = "light")
    {
        Told(sink);
        foreach (var announcement in All.Where(announcement => announcement.Sink == sink))
            Ledger.Delivered(announcement, Now);
    }

    private static string Line(Announcement announcement)
    {
        var id = announcement.Key["hall/desk/".Length..];
        if (announcement.Digest is { } digest)
            return $"digest {string.Join(", ", digest.Select(static line => $"{(line.Passed > 0 ? $"passed {line.Passed}" : Word(line.Level.Kind))} {line.Key["hall/desk/".Length..]}"))}";
        return $"{Word(announcement.Level.Kind)} {id}";
    }

    private static string Word(LevelKind kind) => kind == LevelKind.None ? "cleared" : kind.ToString().ToLowerInvariant();
}
