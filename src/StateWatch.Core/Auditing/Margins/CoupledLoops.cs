using StateWatch.Core.Acoustics;
using StateWatch.Core.Plans;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>
/// Margins of the loops whose coupling the plan tells: of all that is open now together, and of each microphone alone as it will be when
/// somebody opens it. Both against the same with the plan's values.
/// </summary>
internal sealed class CoupledLoops
{
    private readonly LoopGains _now;
    private readonly LoopGains _open;
    private readonly LoopGains _approved;
    private readonly FeedbackMargin _together;
    private readonly FeedbackMargin _planned;
    private readonly FeedbackMargin _trial;
    private readonly double[] _coupling;
    private readonly int[] _lines;
    private readonly int[] _microphoneOf;
    private readonly bool[] _isCoupled;

    public CoupledLoops(ShowPlan plan, LoopGains now, LoopGains open, LoopGains approved)
    {
        (_now, _open, _approved) = (now, open, approved);
        _together = new FeedbackMargin(now.Microphones, now.Loudspeakers);
        _planned = new FeedbackMargin(now.Microphones, now.Loudspeakers);
        _trial = new FeedbackMargin(now.Microphones, now.Loudspeakers);
        _coupling = new double[now.Microphones * now.Loudspeakers];
        _lines = new int[_coupling.Length];
        _isCoupled = new bool[now.Microphones];
        _microphoneOf = new int[plan.Couplings.Count];
        Array.Fill(_lines, -1);
        var numberOf = new Dictionary<int, int>();
        for (var microphone = 0; microphone < plan.Microphones.Count; microphone++)
            numberOf[plan.Microphones[microphone].Strip.Id] = microphone;
        for (var line = 0; line < plan.Couplings.Count; line++)
        {
            var coupling = plan.Couplings[line];
            var microphone = numberOf[coupling.Microphone.Strip.Id];
            _microphoneOf[line] = microphone;
            var factor = Decibels.ToFactor(-coupling.Loss);
            _coupling[microphone * now.Loudspeakers + coupling.Loudspeaker] = factor;
            _lines[microphone * now.Loudspeakers + coupling.Loudspeaker] = line;
            _isCoupled[microphone] = true;
            _together.SetCoupling(microphone, coupling.Loudspeaker, factor);
            _planned.SetCoupling(microphone, coupling.Loudspeaker, factor);
            _trial.SetCoupling(microphone, coupling.Loudspeaker, factor);
        }
    }

    /// <summary>The margins of all that is open now, together.</summary>
    public LoopMargins Together => _together.Margins;

    /// <summary>The same with the gains of the plan.</summary>
    public LoopMargins Planned => _planned.Margins;

    /// <summary>The pair that weighs most in the margin of now; null without a loop.</summary>
    public LoopPair? Heaviest() => _together.Heaviest();

    /// <summary>Whether the plan couples a microphone to any loudspeaker.</summary>
    public bool IsCoupled(int microphone) => _isCoupled[microphone];

    /// <summary>The microphone of a coupling, by its number.</summary>
    public int MicrophoneOf(int line) => _microphoneOf[line];

    /// <summary>Whether the plan couples a pair.</summary>
    public bool HasLine(int microphone, int loudspeaker) => _lines[microphone * _now.Loudspeakers + loudspeaker] >= 0;

    /// <summary>
    /// The plan's coupling by which a pair takes part in a loop, by its number: its own, or, where the microphone goes to a loudspeaker that it
    /// does not hear and hears another one, the loudest of the microphone's; -1 when it hears none.
    /// </summary>
    public int LineOf(int microphone, int loudspeaker)
    {
        var row = microphone * _now.Loudspeakers;
        if (_lines[row + loudspeaker] >= 0)
            return _lines[row + loudspeaker];
        var loudest = -1;
        for (var other = 0; other < _now.Loudspeakers; other++)
        {
            if (_lines[row + other] >= 0 && (loudest < 0 || _coupling[row + other] > _coupling[row + loudest]))
                loudest = other;
        }

        return loudest < 0 ? -1 : _lines[row + loudest];
    }

    /// <summary>How many equally loud microphones would be as many as are open at a loudspeaker now.</summary>
    public double OpenMicrophones(int loudspeaker) => _together.OpenMicrophones(loudspeaker);

    /// <summary>Computes everything from the gains as they are now.</summary>
    public void Update()
    {
        for (var microphone = 0; microphone < _now.Microphones; microphone++)
        {
            var isOpen = false;
            for (var loudspeaker = 0; loudspeaker < _now.Loudspeakers; loudspeaker++)
            {
                isOpen |= _now.Total(microphone, loudspeaker) > 0;
                _together.SetGain(microphone, loudspeaker, _now.Total(microphone, loudspeaker), _now.Power(microphone, loudspeaker));
            }

            // Who is shut now is in no loop of now, whatever the plan would have of him.
            for (var loudspeaker = 0; loudspeaker < _now.Loudspeakers; loudspeaker++)
                _planned.SetGain(microphone, loudspeaker, isOpen ? _approved.Total(microphone, loudspeaker) : 0, isOpen ? _approved.Power(microphone, loudspeaker) : 0);
        }

        _planned.Update();
        _together.Update();
    }

    /// <summary>The margins of one microphone alone as it will be when it is opened, and the loudspeaker that weighs most in them (-1 for none).</summary>
    public (LoopMargins Margins, int Loudest) Alone(int microphone) => AloneIn(_open, microphone);

    /// <summary>The same with the gains of the plan.</summary>
    public LoopMargins PlannedAlone(int microphone) => AloneIn(_approved, microphone).Margins;

    /// <summary>The margins of all that is open in a reading of its own.</summary>
    public LoopMargins TogetherIn(LoopGains gains)
    {
        for (var microphone = 0; microphone < gains.Microphones; microphone++)
        {
            for (var loudspeaker = 0; loudspeaker < gains.Loudspeakers; loudspeaker++)
                _trial.SetGain(microphone, loudspeaker, gains.Total(microphone, loudspeaker), gains.Power(microphone, loudspeaker));
        }

        return _trial.Update();
    }

    /// <summary>The margins of one microphone alone in a reading of its own; of one the loop is a single number, the sum over loudspeakers.</summary>
    public (LoopMargins Margins, int Loudest) AloneIn(LoopGains gains, int microphone)
    {
        var (sum, power, most, loudest) = (0.0, 0.0, 0.0, -1);
        for (var loudspeaker = 0; loudspeaker < gains.Loudspeakers; loudspeaker++)
        {
            var coupling = _coupling[microphone * gains.Loudspeakers + loudspeaker];
            if (coupling == 0 || gains.Total(microphone, loudspeaker) == 0)
                continue;
            var part = coupling * coupling * gains.Power(microphone, loudspeaker);
            sum += coupling * gains.Total(microphone, loudspeaker);
            power += part;
            if (part > most)
                (most, loudest) = (part, loudspeaker);
        }

        return (new LoopMargins(0 - Decibels.OfFactor(sum), 0 - Decibels.OfPower(power)), loudest);
    }
}
