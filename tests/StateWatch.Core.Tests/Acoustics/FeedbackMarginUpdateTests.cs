using StateWatch.Core.Acoustics;

namespace StateWatch.Core.Tests.Acoustics;

public class FeedbackMarginUpdateTests
{
    [Theory]
    [InlineData(6, 4, 0.4, 200)]
    [InlineData(4, 6, 0.4, 200)]
    [InlineData(24, 12, 0.1, 40)]
    public void A_change_gives_to_the_last_bit_what_a_fresh_computation_gives(int microphones, int feeds, double density, int stages)
    {
        var random = new Random(TestSeed.Value + microphones);
        for (var number = 0; number < stages; number++)
        {
            var stage = new RandomStage(random, microphones, feeds, density);
            var margin = stage.Build();
            margin.Update();
            for (var round = 0; round < 12; round++)
            {
                var (microphone, feed) = (random.Next(microphones), random.Next(feeds));
                if (random.Next(3) == 0)
                {
                    stage.Coupling[microphone, feed] = RandomStage.Factor(random, 0.7);
                    margin.SetCoupling(microphone, feed, stage.Coupling[microphone, feed]);
                }
                else
                {
                    stage.Total[feed, microphone] = RandomStage.Factor(random, 0.7);
                    stage.Power[feed, microphone] = stage.Total[feed, microphone] * stage.Total[feed, microphone];
                    margin.SetGain(microphone, feed, stage.Total[feed, microphone], stage.Power[feed, microphone]);
                }

                var (fresh, updated) = (stage.Build().Update(), margin.Update());
                Assert.Equal(BitConverter.DoubleToInt64Bits(fresh.Coherent), BitConverter.DoubleToInt64Bits(updated.Coherent));
                Assert.Equal(BitConverter.DoubleToInt64Bits(fresh.Power), BitConverter.DoubleToInt64Bits(updated.Power));
            }
        }
    }

    [Fact]
    public void Nothing_is_allocated_by_changes_and_questions()
    {
        var margin = new RandomStage(new Random(TestSeed.Value), 24, 8, 0.5).Build();
        for (var i = 0; i < 100; i++)
            Step(i);
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (var i = 0; i < 100; i++)
                Step(i);
        }));

        void Step(int i)
        {
            var gain = i % 3 == 0 ? 0 : 0.1 + i % 7 * 0.01;
            margin.SetGain(i % 24, i % 8, gain, gain * gain);
            margin.SetCoupling(i % 24, i * 5 % 8, i % 4 == 0 ? 0 : 0.1);
            margin.Update();
            margin.Heaviest();
            margin.OpenMicrophones(i % 8);
        }
    }

    [Fact]
    public void Without_couplings_the_largest_rise_bounds_every_margin()
    {
        var random = new Random(TestSeed.Value + 5);
        var lowered = 0;
        for (var number = 0; number < 300; number++)
        {
            var stage = new RandomStage(random, 5, 4, 0.9);
            var approved = new ApprovedGains(5, 4);
            Tell(stage, approved);
            approved.Approve();
            var before = stage.Build().Update();
            stage.Total.MapInplace(total => total * Decibels.ToFactor(random.NextDouble() * 12 - 8));
            Tell(stage, approved);
            var rise = approved.LargestRise()!.Value.Rise;
            var change = stage.Build().Update().ChangeFrom(before).Coherent;
            Assert.True(change >= -rise - 1e-9, $"{change} beyond {-rise}");
            lowered += change < 0 ? 1 : 0;
        }

        Assert.True(lowered > 30);
    }

    [Fact]
    public void A_way_that_opens_rises_without_end_and_one_that_stays_does_not_rise()
    {
        var approved = new ApprovedGains(2, 2);
        Assert.Null(approved.LargestRise());
        approved.SetGain(1, 0, 0.5);
        approved.Approve();
        Assert.Equal((1, 0, 0), approved.LargestRise());
        approved.SetGain(1, 0, 0.25);
        Assert.Equal(-6.02, approved.LargestRise()!.Value.Rise, 0.005);
        approved.SetGain(0, 1, 1e-6);
        Assert.Equal((0, 1, double.PositiveInfinity), approved.LargestRise());
    }

    private static void Tell(RandomStage stage, ApprovedGains gains)
    {
        for (var microphone = 0; microphone < stage.Coupling.RowCount; microphone++)
        {
            for (var feed = 0; feed < stage.Coupling.ColumnCount; feed++)
                gains.SetGain(microphone, feed, stage.Total[feed, microphone]);
        }
    }
}
