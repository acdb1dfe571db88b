using MathNet.Numerics.LinearAlgebra;
using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>Microphones and loudspeakers that hear each other at random levels, over 80 dB.</summary>
internal sealed class RandomStage
{
    public RandomStage(Random random, int microphones, int feeds, double density)
    {
        Coupling = Matrix<double>.Build.Dense(microphones, feeds, (_, _) => Factor(random, density));
        Total = Matrix<double>.Build.Dense(feeds, microphones, (_, _) => Factor(random, density));
        // Several ways have less power than the square of their sum.
        Power = Total.Map(total => total * total * (0.5 + random.NextDouble() / 2), Zeros.AllowSkip);
    }

    /// <summary>Microphone by feed.</summary>
    public Matrix<double> Coupling { get; }

    /// <summary>Feed by microphone.</summary>
    public Matrix<double> Total { get; set; }

    /// <summary>Feed by microphone.</summary>
    public Matrix<double> Power { get; set; }

    public FeedbackMargin Build()
    {
        var margin = new FeedbackMargin(Coupling.RowCount, Coupling.ColumnCount);
        for (var microphone = 0; microphone < Coupling.RowCount; microphone++)
        {
            for (var feed = 0; feed < Coupling.ColumnCount; feed++)
            {
                margin.SetCoupling(microphone, feed, Coupling[microphone, feed]);
                margin.SetGain(microphone, feed, Total[feed, microphone], Power[feed, microphone]);
            }
        }

        return margin;
    }

    public static double Factor(Random random, double density) => random.NextDouble() < density ? Math.Pow(10, -4 * random.NextDouble()) : 0;
}
