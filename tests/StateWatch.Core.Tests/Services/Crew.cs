using System.Globalization;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Services;

/// <summary>
/// The people of a normal service: an engineer and musicians at their own mixes. They see the desk and nothing else: no plan, no rule.
/// What they do is this list of human habits (common practice, no source), each with how often it happens:
/// riding faders, groups, DCAs, returns and feeds; fading out and in again over many seconds; muting and opening channels, mute groups,
/// DCAs and effects; turning one's own monitor mix; talking to the stage for a few seconds; swapping a handheld for the spare one, and a
/// microphone for the second one on its stand; correcting gains by a few dB in the first song, fader the other way; panning;
/// renaming and colouring for a guest; looking at a mix with sends-on-fader for some seconds; going on to the next scene.
/// </summary>
internal sealed class Crew
{
    private readonly ServiceDesk _desk;
    private readonly SeededNumbers _numbers;
    private readonly PriorityQueue<Action, double> _later = new();
    private readonly (double PerMinute, Action Do)[] _habits;
    private readonly List<string> _faders;
    private readonly List<string> _inputs;
    private readonly List<string> _monitors;
    private double _now;
    private double _begun;
    private bool _music = true;

    /// <param name="desk">The desk.</param>
    /// <param name="seed">Where chance begins.</param>
    /// <param name="ownSwitches">Whether musicians also switch sends into their own mixes off and on.</param>
    /// <param name="alternates">Whether a microphone is swapped for the second one on its stand.</param>
    public Crew(ServiceDesk desk, ulong seed, bool ownSwitches, bool alternates)
    {
        _desk = desk;
        _numbers = new SeededNumbers(seed);
        _inputs = [.. Paths("input/{0}", 48).Where(strip => _desk.Text($"{strip}/source") != "none")];
        _faders = [.. ((string[])["group/{0}", "fx-return/{0}", "dca/{0}", "main/{0}", "matrix/{0}", "mix/{0}"]).SelectMany(kind => Paths(kind, 16)).Concat(_inputs).Where(strip => _desk.Has($"{strip}/fader"))];
        _monitors = [.. Paths("mix/{0}", 16).Where(mix => _desk.Text($"{mix}/name") is var name && (name.StartsWith("Wedge", StringComparison.Ordinal) || name.StartsWith("Ears", StringComparison.Ordinal)))];
        _habits =
        [
            (6, Ride),
            (0.7, FadeOutAndIn),
            (2, () => Toggle($"{One(_inputs)}/on")),
            (0.3, () => Hold($"mute-group/{1 + _numbers.NextBelow(3)}/active", 10, 180)),
            (0.3, () => Release($"dca/{1 + _numbers.NextBelow(8)}/on", 5, 90)),
            (0.5, () => Toggle($"fx-return/{1 + _numbers.NextBelow(2)}/on")),
            (5, TurnOwnMix),
            (ownSwitches ? 0.5 : 0, SwitchOwnMix),
            (0.4, () => Hold($"desk/talk/{1 + _numbers.NextBelow(2)}/on", 1, 6)),
            (0.15, SwapHandheld),
            (alternates ? 0.05 : 0, TakeAlternate),
            (1.5, TrimGain),
            (0.2, () => _desk.Set($"{One(_inputs)}/pan", $"{_numbers.NextBelow(121) - 60} %")),
            (0.05, Relabel),
            (0.2, () => Hold("desk/sends-on-fader", 3, 20)),
            (0.15, () => { _desk.Set("desk/scene", $"Song {_numbers.NextBelow(9)}"); _desk.Set("desk/edited", _numbers.Chance(0.5)); }),
        ];
    }

    /// <summary>How many things were done.</summary>
    public int Moves { get; private set; }

    /// <summary>A service begins: its first song is the time for corrections.</summary>
    public void Begin() => _begun = _now;

    /// <summary>Half a second goes by.</summary>
    public void Step()
    {
        const double Tick = 0.5;
        _now += Tick;
        while (_later.TryPeek(out _, out var due) && due <= _now)
            _later.Dequeue()();
        foreach (var (perMinute, act) in _habits)
        {
            if (!_numbers.Chance(perMinute * Tick / 60))
                continue;
            Moves++;
            act();
        }

        // Music and words take turns: the band is faded, then muted by its group, the effects with it; and opened again.
        if (!_numbers.Chance(Tick / 300))
            return;
        Moves++;
        _music = !_music;
        _desk.Set("mute-group/1/active", !_music);
        _desk.Set("mute-group/3/active", !_music);
    }

    private List<string> Paths(string kind, int most) =>
        [.. Enumerable.Range(1, most).Select(number => string.Format(CultureInfo.InvariantCulture, kind, number)).Where(strip => _desk.Has($"{strip}/name"))];

    private T One<T>(List<T> items) => items[_numbers.NextBelow(items.Count)];

    private double Between(double least, double most) => least + ((most - least) * _numbers.NextUnit());

    private void In(double seconds, Action act) => _later.Enqueue(act, _now + seconds);

    private void Glide(string path, double to, double seconds)
    {
        var from = Math.Max(_desk.Number(path), -65);
        var steps = Math.Max(1, (int)(seconds / 0.5));
        for (var i = 1; i <= steps; i++)
        {
            var level = from + ((to - from) * i / steps);
            In(i * seconds / steps, () => _desk.Move(path, level));
        }
    }

    private void Ride()
    {
        var path = $"{One(_faders)}/fader";
        Glide(path, Math.Clamp(Math.Max(_desk.Number(path), -40) + Between(-6, 6), -40, 6), Between(0.5, 8));
    }

    private void FadeOutAndIn()
    {
        var path = $"{One(_faders)}/fader";
        var before = Math.Max(_desk.Number(path), -40);
        var fade = Between(4, 25);
        Glide(path, -65, fade);
        In(fade + Between(10, 120), () => Glide(path, before, Between(2, 15)));
    }

    private void Toggle(string path) => _desk.Set(path, !_desk.IsOn(path));

    private void Hold(string path, double least, double most)
    {
        _desk.Set(path, on: true);
        In(Between(least, most), () => _desk.Set(path, on: false));
    }

    private void Release(string path, double least, double most)
    {
        _desk.Set(path, on: false);
        In(Between(least, most), () => _desk.Set(path, on: true));
    }


    private void TurnOwnMix()
    {
        var send = OwnSend();
        if (send is not null)
            _desk.Move($"{send}/level", Math.Clamp(Math.Max(_desk.Number($"{send}/level"), -40) + Between(-6, 6), -62, 5));
    }

    private void SwitchOwnMix()
    {
        var send = OwnSend();
        if (send is not null)
            Release($"{send}/on", 20, 200);
    }

    private string? OwnSend()
    {
        var mix = One(_monitors);
        var heard = _inputs.Select(strip => $"{strip}/send/{mix}").Where(send => _desk.IsOn($"{send}/on")).ToList();
        return heard.Count == 0 ? null : One(heard);
    }

    private void SwapHandheld()
    {
        var handhelds = _inputs.Where(strip => _desk.Text($"{strip}/name").StartsWith("Handheld", StringComparison.Ordinal)).ToList();
        if (handhelds.Count < 2)
            return;
        var away = One(handhelds);
        var taken = One([.. handhelds.Where(strip => strip != away)]);
        _desk.Set($"{away}/on", on: false);
        Glide($"{away}/fader", -65, 2);
        _desk.Set($"{taken}/on", on: true);
        Glide($"{taken}/fader", Between(-5, 0), 2);
    }

    private void TakeAlternate()
    {
        var stands = _inputs.Where(strip => _desk.Has($"{strip}/source/alternate") && _desk.Text($"{strip}/source/alternate") is not "none" and var second && _desk.Text($"{strip}/source") != second).ToList();
        if (stands.Count == 0)
            return;
        var stand = One(stands);
        var first = _desk.Text($"{stand}/source");
        _desk.Set($"{stand}/source", _desk.Text($"{stand}/source/alternate"));
        In(Between(120, 900), () => _desk.Set($"{stand}/source", first));
    }

    private void TrimGain()
    {
        if (_now - _begun > 480)
            return;
        var strip = One(_inputs);
        var words = _desk.Text($"{strip}/source").Split(' ');
        var gain = $"socket/{words[0]}-{words[^1]}/gain";
        if (!_desk.Has(gain))
            return;
        var by = _numbers.NextBelow(7) - 3;
        _desk.Set(gain, $"{Math.Clamp(_desk.Number(gain) + by, 0, 60):0} dB");
        _desk.Move($"{strip}/fader", Math.Max(_desk.Number($"{strip}/fader"), -40) - by);
    }

    private void Relabel()
    {
        var strip = One(_inputs);
        if (_numbers.Chance(0.5))
            _desk.Set($"{strip}/colour", _numbers.Chance(0.5) ? "plum" : "teal");
        else
            _desk.Set($"{strip}/name", $"Guest {_numbers.NextBelow(9)}");
    }
}
