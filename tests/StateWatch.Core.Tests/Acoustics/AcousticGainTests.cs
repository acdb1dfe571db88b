using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

/// <summary>
/// The formulas at 0.01 dB against values computed by hand from them, and against what handbooks print at 0.2 dB, because they round
/// every term. Sources: Sound System Design Reference Manual, chapters 4 and 6 (SSDRM); Digital Sound and Music, chapter 4 (DSM);
/// Handbook for Sound Engineers, page 1243 (HSE, inputs only); articles as named.
/// </summary>
public class AcousticGainTests
{
    private const double Exact = 0.01;
    private const double Handbook = 0.2;

    [Theory] // DSM and SSDRM: -20 lg of the ratio.
    [InlineData(2, -6.02)]
    [InlineData(3, -9.54)]
    [InlineData(4, -12.04)]
    [InlineData(5, -13.98)]
    [InlineData(7, -16.90)]
    [InlineData(8, -18.06)]
    [InlineData(10, -20.00)]
    [InlineData(16, -24.08)]
    [InlineData(20, -26.02)]
    [InlineData(50, -33.98)]
    [InlineData(100, -40.00)]
    public void Level_falls_with_distance(double ratio, double change) =>
        Assert.Equal(change, AcousticGain.DistanceChange(1.5, 1.5 * ratio), Exact);

    [Theory] // SSDRM 4-2: a talker of 70 dB at 1, heard at 7; a loudspeaker of 70 dB at 4, heard at 6.
    [InlineData(70, 1, 7, 53.10, 53)]
    [InlineData(70, 4, 6, 66.48, 66.5)]
    public void Levels_at_the_listener(double level, double at, double listener, double exact, double published)
    {
        var heard = level + AcousticGain.DistanceChange(at, listener);
        Assert.Equal(exact, heard, Exact);
        Assert.Equal(published, heard, Handbook);
    }

    [Theory]
    [InlineData(1, 7, 4, 6, 1, 0, 13.38, 13.5)] // SSDRM chapter 4
    [InlineData(1, 7, 4, 6, 1, 6, 7.38, 7.5)] // SSDRM 4-4
    [InlineData(0.5, 7, 4, 6, 1, 6, 13.40, 13.5)] // SSDRM: half the distance to the microphone as the remedy, +6 dB
    [InlineData(1, 10, 10, 10, 1, 6, 14.00, 14.00)] // by hand
    [InlineData(1, 10, 10, 10, 4, 6, 7.98, 7.98)] // by hand
    [InlineData(0.5, 16, 8, 12, 3, 6, 15.81, 15.81)] // by hand
    [InlineData(0.1, 20, 5, 20, 8, 6, 18.95, 18.95)] // by hand
    public void Potential_gain(double ds, double d0, double d1, double d2, double open, double stability, double exact, double published)
    {
        var gain = AcousticGain.Potential(new GainGeometry(ds, d0, d1, d2), open, stability);
        Assert.Equal(exact, gain, Exact);
        Assert.Equal(published, gain, Handbook);
    }

    [Fact] // SSDRM: a directional loudspeaker, or a microphone 6 dB down towards it, gains 6 dB each.
    public void What_a_direction_attenuates_is_added()
    {
        var geometry = new GainGeometry(1, 7, 4, 6);
        var cardioid = new MicrophonePattern(0.5);
        Assert.Equal(13.38, AcousticGain.Potential(geometry, 1) + cardioid.Credit(90), 0.03);
    }

    [Theory]
    [InlineData(7, 3, 7.36, 7.5)] // SSDRM: just workable
    [InlineData(7, 1.5, 13.38, 13.5)] // SSDRM: 6 dB more is needed
    [InlineData(128, 4, 30.10, 30.10)] // HSE inputs; result by hand
    public void Needed_gain(double d0, double ead, double exact, double published)
    {
        var gain = AcousticGain.Needed(d0, ead);
        Assert.Equal(exact, gain, Exact);
        Assert.Equal(published, gain, Handbook);
    }

    [Fact] // SSDRM chapter 4: case 4 is just not short of the first need, and short of the second by 6 dB.
    public void Workable_when_potential_reaches_need()
    {
        var potential = AcousticGain.Potential(new GainGeometry(1, 7, 4, 6), 1);
        Assert.True(potential >= AcousticGain.Needed(7, 3));
        Assert.Equal(6, AcousticGain.Needed(7, 1.5) - potential, Handbook);
    }

    [Theory]
    [InlineData(2, 3.01, 3)] // a column on too many microphones in a trade paper
    [InlineData(4, 6.02, 6)] // same
    [InlineData(8, 9.03, 9)] // same
    [InlineData(20, 13.01, 13)] // an article on PAG and NAG
    public void Open_microphones_cost(double open, double exact, double published)
    {
        Assert.Equal(exact, AcousticGain.OpenMicrophones(open), Exact);
        Assert.Equal(published, AcousticGain.OpenMicrophones(open), Handbook);
    }

    [Fact] // A microphone maker's technical note on gain changes: 4 to 9 open costs 3.5 dB; 12 inches to 3 inches gains 12 dB.
    public void Changes_of_a_published_note()
    {
        Assert.Equal(-3.52, AcousticGain.OpenMicrophones(4) - AcousticGain.OpenMicrophones(9), Exact);
        Assert.Equal(-3.5, AcousticGain.OpenMicrophones(4) - AcousticGain.OpenMicrophones(9), Handbook);
        Assert.Equal(12.04, AcousticGain.DistanceChange(12, 3), Exact);
        Assert.Equal(12, AcousticGain.DistanceChange(12, 3), Handbook);
    }

    [Theory] // 10 lg N by hand (the handbook's NOM).
    [InlineData(1, 0)]
    [InlineData(3, 4.77)]
    [InlineData(5, 6.99)]
    [InlineData(6, 7.78)]
    [InlineData(7, 8.45)]
    [InlineData(9, 9.54)]
    [InlineData(10, 10.00)]
    [InlineData(12, 10.79)]
    [InlineData(16, 12.04)]
    [InlineData(24, 13.80)]
    [InlineData(32, 15.05)]
    public void Open_microphones_by_number(double open, double cost) => Assert.Equal(cost, AcousticGain.OpenMicrophones(open), Exact);

    [Fact] // SSDRM 6-4: the talker alone gives 65.4 dB at the listener, the loudspeaker at its limit 68 dB: judged useless.
    public void Gain_indoors_that_a_handbook_calls_useless() => Assert.Equal(2.6, AcousticGain.Gained(65.4, 68), Exact);

    [Fact] // Formula: SSDRM 6-10; the example by hand.
    public void Potential_gain_in_a_live_room() => Assert.Equal(7.38, AcousticGain.PotentialIndoors(2.8, 0.6), Exact);

    [Theory]
    [InlineData(0, 7, 4, 6, 1)]
    [InlineData(1, -7, 4, 6, 1)]
    [InlineData(1, 7, 0, 6, 1)]
    [InlineData(1, 7, 4, 0, 1)]
    [InlineData(1, 7, 4, 6, 0)]
    public void Distances_and_microphones_that_cannot_be_are_refused(double ds, double d0, double d1, double d2, double open) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => AcousticGain.Potential(new GainGeometry(ds, d0, d1, d2), open));
}
