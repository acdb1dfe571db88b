using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>What a microphone hears of a loudspeaker by distances and data sheets, against examples worked by hand.</summary>
public class CouplingEstimateTests
{
    private static readonly LoudspeakerChain Hall = new(98, 32, 5);
    private static readonly MicrophoneChain Lectern = new(2.5, new MicrophonePattern(0.5));

    // By hand, from a level of 0 dBV at the output: 98 + 32 - 9.04 (20 lg 2.83) = 120.96 dB at 1 m; 2.5 mV per Pa are -52.04 dBV at 94 dB.
    [Theory]
    // At 1 m in front: 120.96 - 94 - 52.04 = -25.08 dBV at the socket; 25.08 - 10 for peaks.
    [InlineData(1, 0, 15.08)]
    // At 2 m, 60 degrees off: 20 lg 2 = 6.02; the cardioid is 0.75 there, 2.50 dB. 25.08 + 6.02 + 2.50 - 10.
    [InlineData(2, 60, 23.60)]
    // At 2 m behind it: the null is credited with 6 dB, not more. 25.08 + 6.02 + 6 - 10.
    [InlineData(2, 180, 27.10)]
    // At 6 m, 120 degrees off: direct -15.56 - 6 = -21.56 dB, the room from 5 m on -13.98 dB: 25.08 + 13.98 - 10.
    [InlineData(6, 120, 29.06)]
    // Four times as far: the room is as loud there.
    [InlineData(24, 120, 29.06)]
    public void Loss_is_what_is_worked_out_by_hand(double distance, double angle, double loss) =>
        Assert.Equal(loss, CouplingEstimate.Loss(Hall, Lectern, distance, angle), 0.01);

    [Fact]
    public void Subs_get_no_credit_for_a_direction() =>
        Assert.Equal(CouplingEstimate.Loss(Hall, Lectern, 2, 0), CouplingEstimate.Loss(Hall, Lectern, 2, 180, lowFrequencies: true), 1e-9);

    [Fact]
    public void Every_figure_moves_the_loss_the_way_it_should()
    {
        var random = new Random(TestSeed.Value);
        for (var i = 0; i < 10_000; i++)
        {
            double Between(double least, double most) => least + (most - least) * random.NextDouble();
            var loudspeaker = new LoudspeakerChain(Between(60, 140), Between(0, 80), Between(0.02, 500));
            var microphone = new MicrophoneChain(Between(0.01, 1000), new MicrophonePattern(random.NextDouble()));
            var (distance, angle, more) = (Between(0.02, 250), Between(0, 180), Between(0, 20));
            var loss = CouplingEstimate.Loss(loudspeaker, microphone, distance, angle);
            double With(LoudspeakerChain one) => CouplingEstimate.Loss(one, microphone, distance, angle);
            Assert.Equal(loss - more, With(loudspeaker with { Sensitivity = loudspeaker.Sensitivity + more }), 1e-9);
            Assert.Equal(loss - more, With(loudspeaker with { Amplifier = loudspeaker.Amplifier + more }), 1e-9);
            Assert.Equal(loss - more, CouplingEstimate.Loss(loudspeaker, microphone with { Sensitivity = microphone.Sensitivity * Decibels.ToFactor(more) }, distance, angle), 1e-9);
            Assert.True(With(loudspeaker with { CriticalDistance = loudspeaker.CriticalDistance * 2 }) >= loss);
            Assert.True(CouplingEstimate.Loss(loudspeaker, microphone, distance * 2, angle) >= loss);
            Assert.InRange(loss - CouplingEstimate.Loss(loudspeaker, microphone, distance, 0), -1e-9, MicrophonePattern.MostCredit + 1e-9);
            // Nowhere does it hear less than the room's own sound, by whatever angle.
            var room = CouplingEstimate.Loss(loudspeaker, microphone with { Pattern = new MicrophonePattern(1) }, loudspeaker.CriticalDistance, 0);
            Assert.True(loss <= room + 1e-9);
        }
    }

    [Theory]
    [InlineData(0, 5, 2.5)]
    [InlineData(1, 0, 2.5)]
    [InlineData(1, 5, 0)]
    public void What_cannot_be_is_refused(double distance, double critical, double sensitivity) => Assert.Throws<ArgumentOutOfRangeException>(() =>
        CouplingEstimate.Loss(Hall with { CriticalDistance = critical }, Lectern with { Sensitivity = sensitivity }, distance, 0));

    [Theory] // Eargle, The Microphone Book: level at 90 degrees.
    [InlineData("omni", 0)]
    [InlineData("cardioid", -6.02)]
    [InlineData("supercardioid", -8.64)]
    [InlineData("hypercardioid", -12.04)]
    [InlineData("subcardioid", -3.10)]
    public void Patterns_of_data_sheets_are_known_by_name(string word, double sideways)
    {
        Assert.True(MicrophonePattern.TryParse(word, out var pattern));
        Assert.Equal(sideways, pattern.At(90), 0.01);
    }

    [Fact]
    public void Figure_of_eight_is_known_and_another_word_is_none()
    {
        Assert.True(MicrophonePattern.TryParse("figure-8", out var pattern));
        Assert.True(double.IsNegativeInfinity(pattern.At(90)));
        Assert.False(MicrophonePattern.TryParse("lobar", out _));
    }
}
