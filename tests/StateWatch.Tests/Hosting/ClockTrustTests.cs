using StateWatch.Hosting;

namespace StateWatch.Tests.Hosting;

/// <summary>adjtimex(2): 0 (TIME_OK) to 4 are states of a synchronised clock, with leap seconds; 5 (TIME_ERROR) is one that is not; -1 is a refusal.</summary>
public sealed class ClockTrustTests
{
    [Theory]
    [InlineData(0, false, true)]
    [InlineData(1, false, true)]
    [InlineData(4, false, true)]
    [InlineData(5, true, false)]
    [InlineData(-1, true, true)]
    [InlineData(-1, false, false)]
    public void Kernel_is_believed_before_the_time_service(int kernel, bool isMarked, bool isSynchronised) => Assert.Equal(isSynchronised, ClockTrust.IsSynchronised(kernel, isMarked));
}
