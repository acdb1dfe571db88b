using System.Text;
using System.Text.RegularExpressions;
using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

public class OscPatternTests
{
    /// <summary>OSC 1.0, "OSC Message Dispatching and Pattern Matching", worked out by hand.</summary>
    [Theory]
    [InlineData("/foo", "/foo", true)]
    [InlineData("/foo", "/Foo", false)]
    [InlineData("/foo", "/foo/bar", false)]
    [InlineData("/?", "/a", true)]
    [InlineData("/?", "/ab", false)]
    [InlineData("/?", "/", false)]
    [InlineData("/row/?/mute", "/row/12/mute", false)]
    [InlineData("/row/*/mute", "/row/12/mute", true)]
    [InlineData("/*", "/a/b", false)]
    [InlineData("/*/*", "/a/b", true)]
    [InlineData("/a*", "/a", true)]
    [InlineData("/a*c", "/abcc", true)]
    [InlineData("/[a-c]", "/b", true)]
    [InlineData("/[a-c]", "/B", false)]
    [InlineData("/second/[1-2]", "/second/2", true)]
    [InlineData("/row/[0-9][0-9]", "/row/07", true)]
    [InlineData("/row/[0-9][0-9]", "/row/7", false)]
    [InlineData("/[!a-c]", "/d", true)]
    [InlineData("/[!a-c]", "/b", false)]
    [InlineData("/[!a]", "/!", true)]
    [InlineData("/[a!]", "/!", true)]
    [InlineData("/[a-]", "/-", true)]
    [InlineData("/{foo,bar}", "/foob", false)]
    [InlineData("/{foo,bar}x", "/barx", true)]
    [InlineData("/{a,ab}c", "/abc", true)]
    [InlineData("/{row,col}/[1-3]/gain", "/col/2/gain", true)]
    [InlineData("/{row,col}/[1-3]/gain", "/col/4/gain", false)]
    [InlineData("/third/*", "/third/a/b", false)]
    [InlineData("//spherical", "/position/spherical", false)]
    [InlineData("/?/b/*c", "/a/b/cdc", true)]
    public void Truth_table_of_the_specification(string pattern, string address, bool expected) =>
        Assert.Equal(expected, OscPattern.Matches(Ascii(pattern), Ascii(address)));

    /// <summary>Where OSC 1.0 is silent: our decisions.</summary>
    [Theory]
    [InlineData("/[c-a]", "/b", false)]
    [InlineData("/[c-a]", "/c", false)]
    [InlineData("/[!c-a]", "/b", true)]
    [InlineData("/[-a]", "/-", true)]
    [InlineData("/[-]", "/-", true)]
    [InlineData("/[!-]", "/-", false)]
    [InlineData("/[!!]", "/!", false)]
    [InlineData("/[a-c-e]", "/-", true)]
    [InlineData("/[a-c-e]", "/d", false)]
    [InlineData("/{,x}a", "/a", true)]
    [InlineData("/{,x}a", "/xa", true)]
    [InlineData("/a{}", "/a", true)]
    [InlineData("/a*", "/a/", false)]
    [InlineData("/*", "/", true)]
    [InlineData("/a", "", false)]
    [InlineData("/a", "a", false)]
    public void Decisions(string pattern, string address, bool expected) =>
        Assert.Equal(expected, OscPattern.Matches(Ascii(pattern), Ascii(address)));

    [Theory]
    [InlineData("", OscError.PatternNotAbsolute)]
    [InlineData("foo", OscError.PatternNotAbsolute)]
    [InlineData("/", OscError.PatternEmptyPart)]
    [InlineData("//a", OscError.PatternEmptyPart)]
    [InlineData("/a/", OscError.PatternEmptyPart)]
    [InlineData("/a b", OscError.PatternCharacter)]
    [InlineData("/a#", OscError.PatternCharacter)]
    [InlineData("/a\u007F", OscError.PatternCharacter)]
    [InlineData("/\u00E9", OscError.PatternCharacter)]
    [InlineData("/[a ]", OscError.PatternCharacter)]
    [InlineData("/{a*,b}", OscError.PatternCharacter)]
    [InlineData("/{a,{b,c}}", OscError.PatternCharacter)]
    [InlineData("/[abc", OscError.PatternUnterminatedClass)]
    [InlineData("/[ab/c]", OscError.PatternUnterminatedClass)]
    [InlineData("/[]", OscError.PatternEmptyClass)]
    [InlineData("/[!]", OscError.PatternEmptyClass)]
    [InlineData("/{a,b", OscError.PatternUnterminatedAlternatives)]
    [InlineData("/{a/b}", OscError.PatternUnterminatedAlternatives)]
    [InlineData("/a]", OscError.PatternStrayMark)]
    [InlineData("/a}", OscError.PatternStrayMark)]
    [InlineData("/a,b", OscError.PatternStrayMark)]
    public void Invalid_pattern_is_named_and_matches_nothing_not_even_itself(string pattern, OscError expected)
    {
        var bytes = Encoding.Latin1.GetBytes(pattern);
        Assert.Equal(expected, OscPattern.Validate(bytes));
        Assert.False(OscPattern.Matches(bytes, bytes));
    }

    [Fact]
    public void Pattern_of_1024_bytes_is_taken_and_a_longer_one_is_not()
    {
        var longest = Ascii("/" + new string('a', 1023));
        Assert.True(OscPattern.Matches(longest, longest));
        Assert.True(OscPattern.Matches("/*"u8, longest));
        byte[] longer = [.. longest, (byte)'a'];
        Assert.Equal(OscError.PatternTooLong, OscPattern.Validate(longer));
        Assert.False(OscPattern.Matches(longer, longer));
        Assert.False(OscPattern.Matches("/*"u8, longer));
    }

    /// <summary>Backtracking would need more steps than there are atoms for these; the test ends because the matcher does not.</summary>
    [Fact]
    public void Hostile_patterns_take_no_exponential_time()
    {
        var address = Ascii("/" + new string('a', 1000));
        Assert.False(OscPattern.Matches(Repeat("*a", 500, "b"), address));
        Assert.False(OscPattern.Matches(Repeat("{a,aa}", 170, "b"), address));
        Assert.False(OscPattern.Matches(Repeat("{,a}", 255, "b"), address));
        Assert.True(OscPattern.Matches(Repeat("{a,}", 255, "*"), address));
        Assert.True(OscPattern.Matches(Repeat("*", 1000, "a"), address));
    }

    [Theory]
    [InlineData("/a/b", false)]
    [InlineData("/a?", true)]
    [InlineData("/a*", true)]
    [InlineData("/[a]", true)]
    [InlineData("/a]", true)]
    [InlineData("/{a}", true)]
    [InlineData("/a}", true)]
    [InlineData("", false)]
    public void Wildcards_are_seen(string address, bool expected) => Assert.Equal(expected, OscPattern.HasWildcards(Ascii(address)));

    [Theory]
    [InlineData("/a", true)]
    [InlineData("/lane/07/pour/c/height", true)]
    [InlineData("/!\"$%&'()+-.:;<=>@\\^_`|~", true)]
    [InlineData("", false)]
    [InlineData("/", false)]
    [InlineData("a", false)]
    [InlineData("/a/", false)]
    [InlineData("/a//b", false)]
    [InlineData("/a b", false)]
    [InlineData("/\u007F", false)]
    public void Valid_addresses_are_told_from_others(string address, bool expected) =>
        Assert.Equal(expected, OscPattern.IsValidAddress(Ascii(address)));

    [Fact]
    public void The_ten_characters_that_names_may_not_hold()
    {
        var refused = Enumerable.Range(0x20, 0x7F - 0x20).Where(c => !OscPattern.IsValidAddress([(byte)'/', (byte)'a', (byte)c, (byte)'b']));
        Assert.Equal(" #*,?[]{}", string.Concat(refused.Select(c => (char)c)));
    }

    /// <summary>.NET's regular expressions, an independent matcher, agree on patterns made at random from a small alphabet.</summary>
    [Fact]
    public void Random_patterns_match_what_a_regular_expression_matches()
    {
        var random = new Random(TestSeed.Value);
        string[] pieces = ["a", "b", "c", "-", "!", "?", "*", "[ab]", "[!a]", "[a-c]", "[c-a]", "[!c-a]", "[b-]", "{a,ab}", "{,b}", "{abc,-,c}", "/"];
        var matched = 0;
        for (var i = 0; i < 20_000; i++)
        {
            var pattern = "/" + string.Concat(Enumerable.Range(0, random.Next(1, 8)).Select(_ => pieces[random.Next(pieces.Length)]));
            var address = "/" + string.Concat(Enumerable.Range(0, random.Next(1, 7)).Select(_ => "aabbc-!/"[random.Next(8)]));
            if (OscPattern.Validate(Ascii(pattern)) != OscError.None)
                continue;
            var expected = Regex.IsMatch(address, Translate(pattern), RegexOptions.NonBacktracking);
            Assert.True(
                expected == OscPattern.Matches(Ascii(pattern), Ascii(address)),
                $"{pattern} against {address}: expected {expected} (seed {TestSeed.Value})");
            matched += expected ? 1 : 0;
        }

        Assert.True(matched > 500, $"only {matched} matched");
    }

    private static string Translate(string pattern)
    {
        var escaped = pattern.Replace("[c-a]", "\0", StringComparison.Ordinal).Replace("[!c-a]", "[^/]", StringComparison.Ordinal)
            .Replace("[!a]", "[^a/]", StringComparison.Ordinal).Replace("?", "[^/]", StringComparison.Ordinal)
            .Replace("*", "[^/]*", StringComparison.Ordinal).Replace(',', '|').Replace('{', '(').Replace('}', ')');
        return $"\\A(?:{escaped})\\z";
    }

    private static byte[] Repeat(string piece, int count, string last) =>
        Ascii("/" + string.Concat(Enumerable.Repeat(piece, count)) + last);

    private static byte[] Ascii(string text) => Encoding.ASCII.GetBytes(text);
}
