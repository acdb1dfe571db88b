using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

public class OscTimeTagTests
{
    /// <summary>Seconds since 1900 are Unix seconds + 2208988800 (RFC 868); fractions computed independently.</summary>
    [Theory]
    [InlineData("1970-01-01T00:00:00Z", 0x83AA7E80_00000000)]
    [InlineData("2000-01-01T00:00:00.5Z", 0xBC17C200_80000000)]
    [InlineData("2026-01-01T00:00:00.25Z", 0xED003780_40000000)]
    [InlineData("2036-02-07T06:28:15Z", 0xFFFFFFFF_00000000)]
    [InlineData("2036-02-07T06:28:16Z", 0x00000000_00000000)]
    [InlineData("1968-01-20T03:14:08Z", 0x80000000_00000000)]
    [InlineData("2104-02-26T09:42:23Z", 0x7FFFFFFF_00000000)]
    public void Moment_and_bits_agree(string moment, ulong bits)
    {
        var expected = DateTimeOffset.Parse(moment);
        Assert.Equal(bits, OscTimeTag.FromDateTimeOffset(expected).Bits);
        Assert.Equal(expected, OscTimeTag.FromBits(bits).ToDateTimeOffset());
    }

    [Fact]
    public void Immediately_is_63_zero_bits_and_a_one()
    {
        Assert.Equal(1UL, OscTimeTag.Immediately.Bits);
        Assert.True(OscTimeTag.Immediately.IsImmediately);
        Assert.False(OscTimeTag.FromBits(2).IsImmediately);
    }

    [Fact]
    public void Every_tick_survives_the_round_trip()
    {
        var second = new DateTimeOffset(2026, 11, 25, 9, 40, 0, TimeSpan.Zero);
        for (var ticks = 0L; ticks < TimeSpan.TicksPerSecond; ticks += 997)
        {
            var moment = second.AddTicks(ticks);
            Assert.Equal(moment, OscTimeTag.FromDateTimeOffset(moment).ToDateTimeOffset());
        }
    }

    [Fact]
    public void Order_follows_time_across_the_end_of_the_era_with_immediately_first()
    {
        OscTimeTag[] ordered =
        [
            OscTimeTag.Immediately,
            OscTimeTag.FromUnixSeconds(0),
            OscTimeTag.FromUnixSeconds(0, 1),
            OscTimeTag.FromUnixSeconds(2085978495, uint.MaxValue),
            OscTimeTag.FromUnixSeconds(2085978496),
            OscTimeTag.FromUnixSeconds(2085978497),
        ];
        Assert.Equal(ordered, ordered.Reverse().Order());
        Assert.True(ordered[3] < ordered[4]);
        Assert.True(ordered[4] > ordered[0]);
        Assert.True(ordered[1] <= OscTimeTag.FromUnixSeconds(0));
        Assert.True(ordered[1] >= OscTimeTag.FromUnixSeconds(0));
    }

    [Theory]
    [InlineData("1968-01-20T03:14:07Z")]
    [InlineData("2104-02-26T09:42:24Z")]
    public void Moment_that_no_tag_can_hold_is_refused(string moment)
    {
        var outside = DateTimeOffset.Parse(moment);
        Assert.Throws<ArgumentOutOfRangeException>(() => OscTimeTag.FromDateTimeOffset(outside));
    }
}
