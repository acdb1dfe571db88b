using StateWatch.Core.Acoustics;
using StateWatch.Core.Auditing.Flows;

namespace StateWatch.Core.Auditing.Margins;

/// <summary>Which couplings of the plan are short of margin, and nearer to feedback than the plan has them.</summary>
internal sealed class TightLoops(CoupledLoops coupled, LoopReferences references, int lines, DerivedFacts facts)
{
    /// <summary>Margin in dB below which it is a warning: the feedback stability margin of the handbooks (Davis; Ballou).</summary>
    public const double Warning = AcousticGain.StabilityMargin;

    /// <summary>Margin in dB below which it is urgent, if the coupling was measured: as much as a measured one may err. Common practice, no source.</summary>
    public const double Urgent = 3;

    // Nearer than planned by less is a rounding of faders.
    private const double Worse = 0.5;

    // So that rounding does not decide at exactly 6 dB.
    private const double Rounding = 1e-9;

    private readonly int _firstFact = facts.Reserve(lines);
    private readonly TightLoop?[] _tight = new TightLoop?[lines];

    /// <summary>A coupling that is short of margin, by its number in the plan; null when it is not.</summary>
    public TightLoop? this[int line] => _tight[line];

    /// <summary>The number of the fact that a coupling is short of margin.</summary>
    public int FactOf(int line) => _firstFact + line;

    /// <summary>Looks at every coupling again.</summary>
    public void Update(int microphones)
    {
        Note();
        Array.Clear(_tight);
        for (var microphone = 0; microphone < microphones; microphone++)
        {
            if (coupled.IsCoupled(microphone) && coupled.Alone(microphone) is { Loudest: >= 0 and var loudest } own && own.Margins.Power < Warning)
                Take(coupled.LineOf(microphone, loudest), new TightLoop(own.Margins.Power, coupled.PlannedAlone(microphone).Power, IsAlone: true, references.IsCertain(coupled.LineOf(microphone, loudest))));
        }

        if (coupled.Together.Power < Warning && coupled.Heaviest() is { } pair && coupled.LineOf(pair.Microphone, pair.Feed) is >= 0 and var line)
        {
            // What is short already alone is told as that, since all together are always shorter; unless they are urgent and it is not.
            var together = new TightLoop(coupled.Together.Power, coupled.Planned.Power, IsAlone: false, coupled.HasLine(pair.Microphone, pair.Feed) && references.IsCertain(line));
            if (_tight[line] is not { } alone || (together is { Margin: < Urgent, IsCertain: true } && !(alone is { Margin: < Urgent, IsCertain: true })))
                Take(line, together);
        }

        Note();
    }

    private void Take(int line, TightLoop loop)
    {
        if (loop.Margin < Warning - Rounding && loop.Margin < loop.Planned - Worse)
            _tight[line] = loop;
    }

    // What would win back most may be another setting than before, even where the margin is the same.
    private void Note()
    {
        for (var line = 0; line < lines; line++)
        {
            if (_tight[line] is not null)
                facts.Mark(_firstFact + line);
        }
    }
}

/// <summary>A loop that is short of margin.</summary>
/// <param name="Margin">Power margin in dB.</param>
/// <param name="Planned">The same with the plan's values; +inf when the plan makes no loop.</param>
/// <param name="IsAlone">Whether it is of one microphone as it will be when opened, or of all that is open now.</param>
/// <param name="IsCertain">Whether a measured coupling that still counts makes most of it.</param>
internal readonly record struct TightLoop(double Margin, double Planned, bool IsAlone, bool IsCertain);
