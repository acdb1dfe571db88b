using System.Globalization;
using StateWatch.Core.Settings;

namespace StateWatch.Simulator.Scenarios;

/// <summary>
/// Does to a virtual desk what a scenario says, at its moments. What a scenario leaves to chance is the same for the same seed. Knows no clock: whoever
/// holds it moves time to <see cref="NextDue"/> and calls <see cref="Act"/>.
/// </summary>
public sealed class ScriptedHands
{
    private const double Lowest = -60;
    private static readonly TimeSpan GlideStep = TimeSpan.FromMilliseconds(250);

    private readonly VirtualDesk _desk;
    private readonly Func<string?, IEnumerable<(int Setting, SettingValue Value)>> _recalled;
    private readonly SettingValue[] _before;
    private readonly SeededNumbers _numbers;

    // How often each setting was turned: what glides is left alone when it is turned again.
    private readonly int[] _turns;
    private readonly PriorityQueue<Action, (DateTime At, int Order)> _later = new();
    private DateTime _now;
    private DateTime _silentUntil;
    private int _order;

    /// <summary>Prepares everything that the scenario does to the desk.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="desk">The desk, as it is when the scenario begins.</param>
    /// <param name="recalled">What the desk recalls for a cue of the plan; without a name: for the plan alone.</param>
    public ScriptedHands(Scenario scenario, VirtualDesk desk, Func<string?, IEnumerable<(int Setting, SettingValue Value)>> recalled)
    {
        _recalled = recalled;
        (_desk, _now, _numbers) = (desk, scenario.Begins, new SeededNumbers(scenario.Seed));
        _before = new SettingValue[desk.Profile.Settings.Count];
        _turns = new int[_before.Length];
        for (var setting = 0; setting < _before.Length; setting++)
            _before[setting] = desk[setting];
        foreach (var happening in scenario.Happenings)
            In(happening.At, () => Begin(happening));
    }

    /// <summary>How much is still to come, as far as it is known by now.</summary>
    public int Waiting => _later.Count;

    /// <summary>How often somebody moved something.</summary>
    public long Moves { get; private set; }

    /// <summary>When something happens next; null when nothing does any more.</summary>
    public DateTime? NextDue => _later.TryPeek(out _, out var due) ? due.At : null;

    /// <summary>Does everything that is due.</summary>
    public void Act(DateTime now)
    {
        while (_later.TryPeek(out _, out var due) && due.At <= now)
        {
            _now = due.At;
            _later.Dequeue()();
        }
    }

    private void In(DateTime at, Action act) => _later.Enqueue(act, (at, _order++));

    private void Begin(Happening happening)
    {
        foreach (var (setting, value) in happening.Recall is { } cue ? _recalled(cue == "none" ? null : cue) : [])
            Turn(setting, value, happening.Over);
        foreach (var (setting, value) in happening.Set)
            Turn(setting, value, happening.Over);
        foreach (var setting in happening.PutBack)
            Turn(setting, _before[setting], happening.Over);
        if (happening.Ride is { } riding)
            BeginRiding(riding);
        if (happening.Silent > TimeSpan.Zero)
        {
            _desk.Silent = true;
            _silentUntil = _now + happening.Silent > _silentUntil ? _now + happening.Silent : _silentUntil;
            In(_now + happening.Silent, () => _desk.Silent = _now < _silentUntil);
        }
    }

    private void Turn(int setting, SettingValue value, TimeSpan over)
    {
        _turns[setting]++;
        if (over > TimeSpan.Zero && value.Kind == ValueKind.Level && value != _desk[setting])
            Glide(setting, value, over);
        else
            Set(setting, value);
    }

    private void Glide(int setting, SettingValue value, TimeSpan over)
    {
        var steps = Math.Max(1, (int)(over / GlideStep));
        var (from, to) = (Level(_desk[setting]), Level(value));
        var (began, turn) = (_now, _turns[setting]);
        Go(1);

        // Only the next step waits: a glide may last all day.
        void Go(int step) => In(began + (over * step / steps), () =>
        {
            if (_turns[setting] != turn)
                return;
            if (step == steps)
            {
                Set(setting, value);
                return;
            }

            Move(setting, from + ((to - from) * step / steps));
            Go(step + 1);
        });
    }

    private void BeginRiding(Riding riding)
    {
        var stood = riding.Settings.Select(setting => Level(_desk[setting])).ToArray();
        var (ends, every) = (_now + riding.For, TimeSpan.FromMinutes(1) / riding.PerMinute);
        Ride(_now);

        void Ride(DateTime at)
        {
            // Spread around their rate, as hands are.
            var next = at + (every * (0.5 + _numbers.NextUnit()));
            if (next > ends)
                return;
            In(next, () =>
            {
                var one = _numbers.NextBelow(stood.Length);
                if (stood[one] > Lowest)
                    Move(riding.Settings[one], stood[one] + (riding.Within * ((2 * _numbers.NextUnit()) - 1)));
                Ride(next);
            });
        }
    }

    private void Move(int setting, double level)
    {
        var text = level <= Lowest ? "-inf dB" : string.Create(CultureInfo.InvariantCulture, $"{Math.Min(level, 10):0.00} dB");
        if (!_desk.Profile.Settings[setting].Codec.TryParse(text, out var value, out _))
            return;
        Set(setting, value);
        if (PartnerOf(setting) is >= 0 and var partner)
            _desk.Set(partner, value);
    }

    // What a hand does to one side of a linked pair the desk does to the other.
    private int PartnerOf(int setting)
    {
        var parts = _desk.Profile.Settings[setting].Path.Split('/', 3);
        if (parts.Length < 3 || !int.TryParse(parts[1], CultureInfo.InvariantCulture, out var number)
            || _desk.Profile.Find($"{parts[0]}/{number}/linked") is not (>= 0 and var linked) || !_desk[linked].IsOn)
            return -1;
        return _desk.Profile.Find($"{parts[0]}/{(number % 2 == 1 ? number + 1 : number - 1)}/{parts[2]}");
    }

    private void Set(int setting, SettingValue value)
    {
        Moves++;
        _desk.Set(setting, value);
    }

    private static double Level(SettingValue value) => Math.Max(Lowest, value.Number);
}
