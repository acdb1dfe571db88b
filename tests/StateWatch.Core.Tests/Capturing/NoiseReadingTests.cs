using StateWatch.Core.Capturing;

namespace StateWatch.Core.Tests.Capturing;

/// <summary>Loss from levels: hand-computed, against background and unsteady noise.</summary>
public class NoiseReadingTests
{
    [Fact] // Output -30 dB, socket -62 dB: 32 dB of loss, by the definition alone.
    public void Loss_is_output_less_input()
    {
        var reading = new NoiseReading();
        Assert.Equal(NoiseEvent.Background, Take(reading, -90, -95));
        Assert.Equal((-90, -95), (reading.Background, reading.OutputBackground));
        Assert.Equal(NoiseEvent.Kept, Take(reading, -62, -30));
        Assert.Equal(NoiseEvent.Kept, Take(reading, -61.5, -30));
        Assert.Equal(NoiseEvent.Captured, Take(reading, -62.5, -30));
        Assert.Equal(31.5, reading.Loss!.Value, 9);
        Assert.Equal([32, 31.5, 32.5], reading.Losses.Select(loss => Math.Round(loss, 9)));
    }

    [Fact] // Half the time at -60 dB, half at -70 dB: 10 lg((1e-6 + 1e-7) / 2) = -62.596 dB.
    public void Noise_that_wavers_is_averaged_by_power()
    {
        var reading = new NoiseReading();
        Take(reading, -90, -90);
        for (var i = 0; i < NoiseReading.Samples; i++)
            reading.Take(new NoiseSample(i % 2 == 0 ? -60 : -70, -30));
        Assert.Equal(32.596, reading.Losses.Single(), 3);
    }

    [Theory]
    [InlineData(-79.9, NoiseEvent.Kept)]
    [InlineData(-80.1, NoiseEvent.Discarded)]
    [InlineData(double.NegativeInfinity, NoiseEvent.Discarded)]
    public void Input_must_rise_10_dB_over_the_loudest_background(double input, NoiseEvent expected)
    {
        var reading = new NoiseReading();
        for (var i = 0; i < NoiseReading.Samples; i++)
            reading.Take(new NoiseSample(i == 4 ? -90 : -110, -100));
        Assert.Equal(expected, Take(reading, input, -40));
        Assert.Equal(expected == NoiseEvent.Discarded, reading.Why?.Contains("background", StringComparison.Ordinal) ?? false);
    }

    [Fact]
    public void Noise_that_is_not_on_the_feed_is_told()
    {
        var reading = new NoiseReading();
        Take(reading, -90, -100);
        Assert.Equal(NoiseEvent.Discarded, Take(reading, -60, -95));
        Assert.Contains("not on this feed", reading.Why, StringComparison.Ordinal);
    }

    [Fact] // A meter that shows nothing at all in a quiet room is the best background there is.
    public void Meter_without_background_is_welcome()
    {
        var reading = new NoiseReading();
        Take(reading, double.NegativeInfinity, double.NegativeInfinity);
        Assert.Equal(NoiseEvent.Kept, Take(reading, -70, -40));
    }

    [Theory]
    [InlineData(2.0, NoiseEvent.Captured)]
    [InlineData(2.1, NoiseEvent.Discarded)]
    public void Readings_more_than_2_dB_apart_are_discarded(double apart, NoiseEvent expected)
    {
        var reading = new NoiseReading();
        Take(reading, -95, -95);
        Take(reading, -60, -30);
        Take(reading, -60 + apart, -30);
        Assert.Equal(expected, Take(reading, -60, -30));
        Assert.Equal(expected == NoiseEvent.Captured, reading.Loss is not null);
        Assert.Equal(28, reading.Loss ?? 28, 6);
    }

    [Fact]
    public void Fault_of_a_reading_makes_it_void_and_nothing_is_taken_after_it()
    {
        var reading = new NoiseReading();
        Take(reading, -95, -95);
        Assert.Equal(NoiseEvent.Void, reading.Take(new NoiseSample(-60, -30, "The desk fell silent.")));
        Assert.Equal("The desk fell silent.", reading.Why);
        Assert.Equal(NoiseEvent.None, Take(reading, -60, -30));
        Assert.True(reading.HasEnded);
    }

    [Theory]
    [InlineData(double.NaN, -30)]
    [InlineData(-60, double.PositiveInfinity)]
    public void Meter_that_shows_no_level_makes_it_void(double input, double output) =>
        Assert.Equal(NoiseEvent.Void, new NoiseReading().Take(new NoiseSample(input, output)));

    private static NoiseEvent Take(NoiseReading reading, double input, double output)
    {
        var told = NoiseEvent.None;
        for (var i = 0; i < NoiseReading.Samples; i++)
        {
            Assert.Equal(NoiseEvent.None, told);
            told = reading.Take(new NoiseSample(input, output));
        }

        return told;
    }
}
