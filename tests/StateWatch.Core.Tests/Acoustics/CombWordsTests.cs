using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>
/// J. O. Smith, Physical Audio Signal Processing, feedforward comb filters: y(n) = x(n) + g x(n - M) has its notches at odd multiples of half
/// the sample rate over M, of depth 1 - g; with -g they lie at its multiples, from 0 Hz on.
/// </summary>
public class CombWordsTests
{
    [Theory]
    [InlineData(1, 0, false, "notches at 500 Hz, 1.5 kHz and 2.5 kHz, to nothing")]
    // g = 10^(-6/20) = 0.5012; 20 lg 0.4988 = -6.04.
    [InlineData(2, 6, false, "notches at 250 Hz, 750 Hz and 1.25 kHz, 6.0 dB deep")]
    // g = 0.1; 20 lg 0.9 = -0.92.
    [InlineData(0.1, 20, false, "notches at 5 kHz and 15 kHz, 0.9 dB deep")]
    [InlineData(0.03, 0, false, "notch at 16.67 kHz, to nothing")]
    [InlineData(0.024, 0, false, "no notch below 20 kHz")]
    [InlineData(1, 20, true, "the lowest notes missing, and notches at 1 kHz, 2 kHz and 3 kHz, 0.9 dB deep")]
    public void Notches_are_told_by_frequency_and_depth(double delay, double lower, bool turned, string words) => Assert.Equal(words, CombWords.Of(delay, lower, turned));

    // The formula itself, against the words' numbers: |1 + g e^(-j w t)| is least there.
    [Theory]
    [InlineData(1, 500)]
    [InlineData(2, 1250)]
    [InlineData(0.1, 15000)]
    public void Response_is_least_at_a_notch(double delay, double notch)
    {
        double Response(double hertz) => (System.Numerics.Complex.One + 0.5 * System.Numerics.Complex.Exp(-System.Numerics.Complex.ImaginaryOne * 2 * Math.PI * hertz * delay / 1000)).Magnitude;
        Assert.Equal(0.5, Response(notch), 1e-9);
        Assert.True(Response(notch * 1.01) > Response(notch) && Response(notch * 0.99) > Response(notch));
    }
}
