using System.Globalization;
using System.Text.RegularExpressions;
using StateWatch.Core.Schemas;

namespace StateWatch.Core.Tests.Documents;

/// <summary>Ranges of whole numbers as regular expressions, against counting.</summary>
public class NumberPatternTests
{
    [Theory]
    [InlineData(0, 0)]
    [InlineData(1, 6000)]
    [InlineData(7, 1234)]
    [InlineData(0, 999)]
    public void Expression_matches_the_numbers_of_the_range_and_no_others(int least, int most)
    {
        var expression = new Regex($"^{NumberPattern.Of(least, most)}$", RegexOptions.NonBacktracking);
        Assert.All(Enumerable.Range(0, 12_000), number => Assert.Equal(number >= least && number <= most, expression.IsMatch(number.ToString(CultureInfo.InvariantCulture))));
    }

    [Fact]
    public void Range_up_to_the_largest_number_has_an_end()
    {
        var expression = new Regex($"^{NumberPattern.Of(0, int.MaxValue)}$", RegexOptions.NonBacktracking);
        Assert.Matches(expression, "2147483647");
        Assert.DoesNotMatch(expression, "2147483648");
    }
}
