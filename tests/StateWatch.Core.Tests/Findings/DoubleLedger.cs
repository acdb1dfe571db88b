using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Core.Tests.Findings;

/// <summary>A ledger and the reference model side by side: whatever happens to one happens to the other, and they must say the same.</summary>
internal sealed class DoubleLedger
{
    public const int Checks = 32;
    public static readonly DateTimeOffset Morning = new(2026, 11, 25, 9, 0, 0, TimeSpan.Zero);
    private static readonly string[] SinkNames = ["A", "B"];
    private static readonly LedgerSink[] Sinks = [new("A"), new("B", Severity.Warning)];
    private static readonly string[] Values = ["on", "off", "-10.0 dB"];
    private readonly ModelReading[] _desk = new ModelReading[Checks];
    private readonly List<Announcement>[] _waiting = [[], []];
    private readonly LedgerModel _model;
    private FindingLedger _ledger;
    private bool[] _isPlanned = [.. Enumerable.Repeat(true, Checks)];
    private TimeSpan _base = TimeSpan.FromHours(3);
    private int _tick;
    private int _revision;
    private long _session;

    public DoubleLedger(bool connects)
    {
        _ledger = new FindingLedger("hall/desk", Plan(), Sinks, Now);
        _model = new LedgerModel(ModelPlan());
        Array.Fill(_desk, new ModelReading('='));
        _ledger.Start(Now);
        _model.Start();
        if (connects)
            Connect(3);
    }

    public List<string> Told { get; } = [];

    public HashSet<string> Seen { get; } = new(StringComparer.Ordinal);

    private Moment Now => new(_base + Ticks(_tick), Morning + Ticks(_tick));

    // Every fourth has delays of its own, and a plan that is read anew may change them.
    private static int? OwnOn(int number, int revision) => number % 4 == 1 ? ((int[])[150, 0, 7, 40])[(number / 4 + revision) % 4] : null;

    private static int? OwnOff(int number, int revision) => number % 8 == 1 ? 30 + 25 * (revision % 3) : null;

    public static WatchedCheck Check(int number, int revision) => new($"rule-{number % 5}:input/{number:00}", (TimerClass)(number % 3), number % 7 == 3, number % 8 == 5,
        OwnOn(number, revision) is { } on ? Ticks(on) : null, OwnOff(number, revision) is { } off ? Ticks(off) : null);

    public static ModelRow Row(int number, int revision) => new(Key(number), OwnOn(number, revision) ?? ((int[])[3, 20, 10])[number % 3], OwnOff(number, revision) ?? ((int[])[20, 50, 50])[number % 3],
        number % 7 == 3, number % 8 == 5, "plan");

    public static string Key(int number) => $"hall/desk/rule-{number % 5}:input/{number:00}";

    public void Happen(LedgerHappening happening)
    {
        Wait(happening.Wait);
        var (check, number, flag) = (happening.Check, happening.Number, happening.Flag);
        switch (happening.Kind)
        {
            case HappeningKind.Observe: Observe(check, ReadingOf(number)); break;
            case HappeningKind.Flutter: Flutter(check, 1 + number % 6, flag); break;
            case HappeningKind.Many: Many(check, 6 + number % 26, flag, number); break;
            case HappeningKind.LinkUp: Link(flag || number > 300, session => _ledger.LinkUp(session, Now), _model.LinkUp); break;
            case HappeningKind.LinkLost: Lost(number, flag); break;
            case HappeningKind.Gap: Gap(number, flag); break;
            case HappeningKind.Snapshot: Snapshot(number > 50 ? _session : _session - 1); break;
            case HappeningKind.SinkLost: Sink(number % 2, null); break;
            case HappeningKind.SinkRecovered: Sink(number % 2, flag && number > 500); break;
            case HappeningKind.Deliver: Deliver(number % 2, 1 + number / 2 % 9); break;
            case HappeningKind.Reload: Reload(number, flag); break;
            case HappeningKind.Phase: Phase(number); break;
            case HappeningKind.Restart: Restart(number, flag || number % 2 == 0); break;
            case HappeningKind.Restore: Restore(); break;
            case HappeningKind.Settle: Settle(check, number, flag); break;
            case HappeningKind.EndSettling: EndSettling(number); break;
            case HappeningKind.Look: Compare(happening.ToString()); break;
            default: Command(happening); break;
        }
    }

    public void Compare(string when)
    {
        Tell();
        var same = _model.Told.Zip(Told).TakeWhile(static pair => pair.First == pair.Second).Count();
        Assert.True(same == Told.Count && same == _model.Told.Count, $"{when}, tick {_tick}: told\nmodel: {From(_model.Told, same)}\nledger: {From(Told, same)}");
        var states = _ledger.Export(Now).Findings.Select(LedgerWords.Of).ToList();
        var modelled = _model.States.ToList();
        Assert.True(modelled.SequenceEqual(states), $"{when}, tick {_tick}: states\nmodel:\n{string.Join('\n', modelled.Except(states))}\nledger:\n{string.Join('\n', states.Except(modelled))}");
    }

    /// <summary>Everything calms down, every sink listens, everything is delivered: then every sink knows what there is.</summary>
    /// <param name="onPlan">Whether the desk is on plan at last; else it stays as it is, and what a bulk change stands for is not told.</param>
    public void Settle(bool onPlan)
    {
        if (onPlan)
            Array.Fill(_desk, new ModelReading('='));
        Link(true, session => _ledger.LinkUp(session, Now), _model.LinkUp);
        Snapshot(_session);
        Sink(0, false);
        Sink(1, false);
        Wait(16 * 600);
        Snapshot(_session);
        Wait(32 * 600);
        Compare("settled");
        Deliver(0, int.MaxValue);
        Deliver(1, int.MaxValue);
        foreach (var record in _ledger.Export(Now).Findings)
        {
            Assert.True(!onPlan || record.Condition == Condition.Normal, LedgerWords.Of(record));
            if (!onPlan && record.Holds.HasFlag(Holds.Inhibited))
                continue;
            foreach (var sink in record.Sinks)
                Assert.True(sink.Told == sink.Offered && LedgerWords.Knows(sink.Told, record, sink.Sink == "B" ? Severity.Warning : Severity.Notice), $"{sink.Sink} was told {sink.Told} of {LedgerWords.Of(record)}");
        }
    }

    private static TimeSpan Ticks(int count) => TimeSpan.FromMilliseconds(100L * count);

    private static string From(List<string> lines, int first) => string.Join("\n  ", lines.Skip(first).Take(3));

    private IReadOnlyList<WatchedCheck> Plan() => [.. Enumerable.Range(0, Checks).Where(number => _isPlanned[number]).Select(number => Check(number, _revision))];

    private IEnumerable<ModelRow> ModelPlan() => Enumerable.Range(0, Checks).Where(number => _isPlanned[number]).Select(number => Row(number, _revision));

    private void Wait(int ticks)
    {
        _tick += ticks;
        _model.Reach(_tick);
    }

    private void Tell()
    {
        _ledger.Advance(Now);
        _model.Tell();
        foreach (var announcement in _ledger.Announcements)
        {
            Told.Add(LedgerWords.Of(announcement));
            _waiting[announcement.Sink == "A" ? 0 : 1].Add(announcement);
            Seen.Add(announcement.Digest is null ? announcement.Level.Kind.ToString() : "digest");
            if (announcement.Level.IsOpen)
                Seen.Add(announcement.Key.Split('/')[2].Split(':')[0]);
        }

        foreach (var line in _ledger.Events)
            Seen.Add($"{line.Kind} {line.Text}");
        _ledger.ClearOutputs();
    }

    private static ModelReading ReadingOf(int number) => (number % 10) switch
    {
        0 or 1 or 2 => new ModelReading('='),
        3 => new ModelReading('~'),
        4 => new ModelReading(number % 40 == 4 ? '-' : '?'),
        _ => new ModelReading('!', number / 10 % 20 == 0 ? 0 : 1 + number / 10 % 3, number / 30 % 3, number % 2 == 0 ? Values[number / 10 % 3] : null, number % 4 == 1 ? number / 7 % 4 : 0),
    };

    private void Observe(int check, ModelReading reading)
    {
        _desk[check] = reading;
        if (!_isPlanned[check])
            return;
        _ledger.Observe(NumberOf(check), LedgerWords.Of(reading), Now);
        _model.Observe(Key(check), reading);
    }

    private void Flutter(int check, int times, bool isSlow)
    {
        for (var time = 0; time < times; time++)
        {
            Observe(check, new ModelReading('!', 3));
            Wait(isSlow ? 25 : 4);
            Observe(check, new ModelReading('='));
            Wait(isSlow ? 60 : 1);
        }
    }

    private void Many(int first, int count, bool drift, int spread)
    {
        for (var number = 0; number < count; number++)
        {
            Observe((first + number) % Checks, drift ? new ModelReading('!', 1 + number % 3, 0, Values[0]) : new ModelReading('='));
            if (spread % 3 == 0)
                Wait(number % 2);
        }
    }

    private void Link(bool isNew, Action<long> ledger, Action<long> model)
    {
        var session = isNew ? ++_session : _session;
        ledger(session);
        model(session);
    }

    private void Gap(int number, bool isRead)
    {
        Link(isRead || number > 300, session => _ledger.Gap(session, Now), _model.Gap);
        if (!isRead)
            return;
        Wait(1 + number % 40);
        Snapshot(_session);
    }

    private void Connect(int ticks)
    {
        Wait(ticks);
        Link(true, session => _ledger.LinkUp(session, Now), _model.LinkUp);
        Wait(ticks);
        Snapshot(_session);
    }

    private void Lost(int number, bool comesBack)
    {
        var session = number % 4 == 0 ? _session - 1 : number % 17 == 1 ? ++_session : _session;
        _ledger.LinkLost(session, Now);
        _model.LinkLost(session);
        if (comesBack)
            Connect(number % 60);
    }

    private void Snapshot(long session)
    {
        HandInEverything();
        _ledger.SnapshotDone(session, Now);
        _model.Snapshot(session);
    }

    private void HandInEverything()
    {
        for (var check = 0; check < Checks; check++)
            Observe(check, _desk[check]);
    }

    private void Sink(int number, bool? lost)
    {
        if (lost is not { } forever)
        {
            _ledger.SinkLost(SinkNames[number], Now);
            _model.SinkLost(number);
            return;
        }

        Tell();
        _ledger.SinkRecovered(SinkNames[number], forever, Now);
        _model.SinkRecovered(number, forever);
        if (forever)
            _waiting[number].Clear();
    }

    private void Deliver(int sink, int count)
    {
        Tell();
        foreach (var announcement in _waiting[sink].Take(count))
            _ledger.Delivered(announcement, Now);
        _waiting[sink].RemoveRange(0, Math.Min(count, _waiting[sink].Count));
        _model.Deliver(sink, count);
    }

    private void Reload(int number, bool flag)
    {
        _revision = number;
        _isPlanned = [.. Enumerable.Range(0, Checks).Select(check => flag || (check * 7 + number) % 5 != 0)];
        _ledger.Reload(Plan(), Now);
        _model.Reload(ModelPlan());
        if (number % 3 == 0)
            _desk[number % Checks] = new ModelReading('=');
        HandInEverything();
    }

    private void Phase(int number)
    {
        _ledger.PhaseChanged(Now);
        _model.Phase();
        for (var check = 0; check < Checks; check += 1 + number % 4)
            _desk[check] = new ModelReading('~');
        HandInEverything();
    }

    private void Settle(int first, int number, bool isLong)
    {
        int[] checks = [.. Enumerable.Range(first, 1 + number % 24).Select(static check => check % Checks).Where(check => _isPlanned[check])];
        var span = number % 40 == 13 ? 0 : isLong ? 20 + number / 5 : 1 + number % 30;
        var id = number % 4 == 0 ? "other" : "cue";
        _ledger.Settle(id, "Ada", [.. checks.Select(NumberOf)], Ticks(span), Now);
        _model.Settle(id, checks.Select(Key), span);
    }

    private void EndSettling(int number)
    {
        var id = number % 4 == 0 ? "other" : "cue";
        _ledger.EndExpected(id, Now);
        _model.EndSettling(id);
    }

    private int NumberOf(int check) => _isPlanned.Take(check).Count(static planned => planned);

    private void Restart(int number, bool comesBack)
    {
        Tell();
        var record = _ledger.Export(Now);
        var ticks = number % 3 == 0 ? number % 60 : number * 8;
        // The new run's clock begins anywhere.
        _base += TimeSpan.FromSeconds(number - 500);
        _tick += ticks;
        _ledger = FindingLedger.Restore(record, Plan(), Sinks, Now);
        _ledger.Start(Now);
        _model.SleepAndStart(ticks);
        _session = 0;
        if (comesBack)
            Connect(number % 30);
    }

    private void Restore()
    {
        Tell();
        var record = _ledger.Export(Now);
        _base += TimeSpan.FromSeconds(17);
        _ledger = FindingLedger.Restore(record, Plan(), Sinks, Now);
    }

    private void Command(LedgerHappening happening)
    {
        var (number, flag) = (happening.Number, happening.Flag);
        var key = number % 50 == 7 ? "hall/desk/no-such:rule" : number % 20 == 8 ? "hall/desk/bulk-change:desk" : Key(happening.Check);
        var by = number % 60 == 9 ? " " : "Ada";
        var why = number % 60 == 10 ? "" : "spare microphone";
        var span = number % 60 == 11 ? 0 : 1 + number * 5 / (flag ? 1 : 20);
        string[] values = number % 60 == 12 ? [] : flag ? [Values[0], Values[1]] : [Values[2]];
        var window = number % 2 == 0 ? "song" : "video";
        int? end = number % 3 == 0 ? null : _tick - 100 + number * 6;
        var (ledger, model) = happening.Kind switch
        {
            HappeningKind.Acknowledge => (_ledger.Acknowledge(key, by, Now), _model.Acknowledge(key, by)),
            HappeningKind.Shelve => (_ledger.Shelve(key, by, why, flag ? Ticks(span) : null, number % 4 == 0, Now), _model.Shelve(key, by, why, flag ? span : null, number % 4 == 0)),
            HappeningKind.Unshelve => (_ledger.Unshelve(key, by, Now), _model.Unshelve(key)),
            HappeningKind.OutOfService => (_ledger.TakeOutOfService(key, by, why, Ticks(span), Now), _model.TakeOutOfService(key, by, why, span)),
            HappeningKind.Return => (_ledger.ReturnToService(key, by, Now), _model.ReturnToService(key)),
            HappeningKind.Expect => (_ledger.Expect(window, by, why, [new ExpectedChange(key, values)], Ticks(span), Now), _model.Expect(window, by, why, key, values, span)),
            HappeningKind.EndExpected => (_ledger.EndExpected(window, Now), _model.EndExpected(window)),
            _ => (CommandOutcome.Done, "Done"),
        };
        Assert.Equal(model, ledger.ToString());
        Seen.Add($"{happening.Kind} {ledger}");
        if (happening.Kind != HappeningKind.EventEnds)
            return;
        _ledger.EventEnds(end is { } tick ? Morning + Ticks(tick) : null, Now);
        _model.EventEnds(end);
    }
}
