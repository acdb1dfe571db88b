using System.Text;
using StateWatch.Alerts;
using StateWatch.Alerts.Osc;
using StateWatch.Core.Auditing;
using StateWatch.Core.Findings;

namespace StateWatch.Tests.Alerts;

/// <summary>Messages of the user's: what they may be, and their bytes, worked out by hand from OSC 1.0.</summary>
public sealed class OscTemplateTests
{
    [Fact]
    public void A_message_has_the_bytes_of_the_specification()
    {
        // OSC 1.0: strings end in 1 to 4 nulls on a multiple of four, tags begin with a comma, int32 and float32 are big-endian. 17 = 0x11; 0.5 = 0x3F000000.
        var message = Read("/foyer/line", "s:{desk}: {severity}", "i:{severitynumber}", "f:0.5", "T");
        Assert.Equal("2F666F7965722F6C696E6500" + "2C73696654000000" + "6D696477696E7465723A20757267656E74000000" + "00000011" + "3F000000", Hex(message, Some.Alert("light", Some.Key(1), 1)));
    }

    [Theory]
    [InlineData(LevelKind.Raised, Severity.Urgent, 127)]
    [InlineData(LevelKind.Raised, Severity.Warning, 64)]
    [InlineData(LevelKind.Raised, Severity.Notice, 0)]
    public void A_choice_turns_words_into_numbers(LevelKind kind, Severity severity, int expected)
    {
        var hex = Hex(Read("/a", "i:{severity; urgent = 127; warning=64; else=0}"), Some.Alert("light", Some.Key(1), 1, kind, severity));
        Assert.Equal("2F6100002C690000" + expected.ToString("X8"), hex);
    }

    [Fact]
    public void A_choice_turns_words_into_texts_and_two_braces_stand_for_one() =>
        Assert.Equal("{ON AIR}", TextOf(Read("/a", "s:{{{state; raised=ON AIR; else=off}}}"), Some.Alert("light", Some.Key(1), 1)));

    [Fact]
    public void A_digest_says_how_much_it_tells()
    {
        var text = TextOf(Read("/a", "s:{text}"), Some.Digest("light", 1, (Some.Key(1), 1), (Some.Key(2), 1), (Some.Key(3), 1), (Some.Key(4), 1)));
        Assert.StartsWith("4 findings: raised: Ada Example is post-fader in the wedge; ", text, StringComparison.Ordinal);
        Assert.EndsWith("; and 1 more", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Text_of_a_desk_is_made_harmless_and_cut_between_characters()
    {
        var alert = Some.Alert("light", Some.Key(1), 1);
        Assert.Equal("a\\x00b\\x0Ac", TextOf(Read("/a", "s:{text}"), alert with { Words = Some.Words with { Text = "a\0b\nc" } }));
        var cut = TextOf(Read("/a", "s:{text}"), alert with { Words = Some.Words with { Text = "x" + new string('ü', 400) } });
        Assert.Equal("x" + new string('ü', 254) + "…", cut);
    }

    [Fact]
    public void A_state_is_of_the_desk_with_the_gravest_findings_and_of_the_least_coverage()
    {
        var faults = new List<(string Key, string Words)>();
        var template = OscTemplate.Read(new OscMessageSettings { Address = "/a", Arguments = ["s:{desk} {severity} {severitynumber} {count} {held} {acknowledged} {coverage} {following} {phase} {cue}"] }, OscValues.OfState, faults)!;
        var calm = Some.Status("barn/calm") with { Standing = [], Coverage = new(Some.Start, 200, 100, 0), Following = Core.Desks.FollowPhase.Reading };
        var own = Some.Status("barn/statewatch") with { Standing = [], Coverage = default, Following = Core.Desks.FollowPhase.Lost };
        var desks = new[] { calm, Some.Status() with { Following = Core.Desks.FollowPhase.Following }, own };
        var packet = template.Write(new OscValues(null, desks, StandingCount.Of(desks.SelectMany(desk => desk.Standing).Select(one => one.Record.Level))));
        Assert.Equal("midwinter urgent 17 1 1 1 50 reading show third song", Encoding.UTF8.GetString(packet[8..]).TrimEnd('\0'));
        packet = template.Write(new OscValues(null, [own], StandingCount.Of([])));
        Assert.Equal("statewatch none 0 0 0 0 0 lost show third song", Encoding.UTF8.GetString(packet[8..]).TrimEnd('\0'));
    }

    [Theory]
    [InlineData("foyer", "s:{text}", "address", "begins with '/'")]
    [InlineData("/", "s:{text}", "address", "/foyer/lamp")]
    [InlineData("/foyer/*", "s:{text}", "address", "'*'")]
    [InlineData("/foyer lamp", "s:{text}", "address", "' '")]
    [InlineData("/föyer", "s:{text}", "address", "'ö'")]
    [InlineData("/a", "{text}", "arguments:0", "has no type")]
    [InlineData("/a", "x:{text}", "arguments:0", "has no type")]
    [InlineData("/a", "s:{txt}", "arguments:0", "did you mean '{text}'?")]
    [InlineData("/a", "s:{count}", "arguments:0", "there is no '{count}' here")]
    [InlineData("/a", "s:{text", "arguments:0", "no '}' after it")]
    [InlineData("/a", "s:text}", "arguments:0", "no '{' before it")]
    [InlineData("/a", "i:{text}", "arguments:0", "not always a number")]
    [InlineData("/a", "i:1{severitynumber}", "arguments:0", "not always a number")]
    [InlineData("/a", "f:loud", "arguments:0", "not always a number")]
    [InlineData("/a", "i:{severity; urgent=1}", "arguments:0", "else=value")]
    [InlineData("/a", "i:{severity; urgent=1; else=x}", "arguments:0", "not always a number")]
    [InlineData("/a", "i:{severity; grave=1; else=0}", "arguments:0", "never 'grave'")]
    [InlineData("/a", "i:{severity; urgent; else=0}", "arguments:0", "is no choice")]
    [InlineData("/a", "i:{severity; urgent=1; urgent=2; else=0}", "arguments:0", "chosen twice")]
    public void What_is_wrong_is_told_with_its_key_and_what_to_write(string address, string argument, string key, string words)
    {
        var faults = new List<(string Key, string Words)>();
        Assert.Null(OscTemplate.Read(new OscMessageSettings { Address = address, Arguments = [argument] }, OscValues.OfAlert, faults));
        var fault = Assert.Single(faults);
        Assert.Equal(key, fault.Key);
        Assert.Contains(words, fault.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Too_many_arguments_are_told()
    {
        var faults = new List<(string Key, string Words)>();
        Assert.Null(OscTemplate.Read(new OscMessageSettings { Address = "/a", Arguments = [.. Enumerable.Repeat("i:1", 33)] }, OscValues.OfAlert, faults));
        Assert.Equal("arguments", Assert.Single(faults).Key);
    }

    private static OscTemplate Read(string address, params string[] arguments)
    {
        var faults = new List<(string Key, string Words)>();
        var template = OscTemplate.Read(new OscMessageSettings { Address = address, Arguments = arguments }, OscValues.OfAlert, faults);
        Assert.Empty(faults);
        return template!;
    }

    private static string Hex(OscTemplate template, Core.Watching.Alert alert) => Convert.ToHexString(template.Write(new OscValues(alert, [], null)));

    // The one text of "/a ,s": four bytes of address, four of tags.
    private static string TextOf(OscTemplate template, Core.Watching.Alert alert) => Encoding.UTF8.GetString(template.Write(new OscValues(alert, [], null))[8..]).TrimEnd('\0');
}
