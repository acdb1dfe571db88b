using System.Buffers.Binary;
using System.Text;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;
using StateWatch.Core.Tests.Documents;
using StateWatch.Protocol.Osc;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Profiles;

/// <summary>
/// Codecs between wire and value. The levels of the invented map below follow from linear interpolation between neighbouring points,
/// y = y0 + (y1 - y0)(x - x0)/(x1 - x0), worked out by hand; outside the map values are clamped.
/// </summary>
public class CodecTests
{
    private const string Codecs = """
        format: statewatch/desk/1
        desk: Test
        link: { osc: udp, to: 127.0.0.1:9051 }
        strips: { input: 5, socket: { stage: 48, local: 8 }, output: { stage: 2 }, main: 1, mix: 30 }
        codecs:
          map:    { wire: float, table: [[0, -100], [0.2, -50], [0.5, -20], [0.8, 0], [1, 8]] }
          seven:  { wire: int, table: [[0, -100], [25.4, -50], [63.5, -20], [101.6, 0], [127, 8]] }
          half:   { wire: float, table: [[0, -60], [1, 10]], steps: 141 }
          off:    { wire: float, table: [[0, -inf], [0.2, -60], [1, 10]], steps: 176 }
          plain:  { wire: float, unit: ms }
          hertz:  { wire: float, unit: Hz }
          count:  { wire: int, unit: none }
          yes:    { wire: int, switch: [0, 1] }
          shut:   { wire: int, inverted: true }
          lit:    { wire: bool, switch: [false, true] }
          dark:   { wire: bool, inverted: true }
          held:   { wire: string, switch: [loose, held] }
          third:  { wire: float, switch: [0.25, 0.75] }
          word:   { wire: string, length: 6, pad: space }
          bare:   { wire: string, length: 6 }
          long:   { wire: string, length: 0 }
          spot:   { wire: int, choices: { pre-fader: 0, post-fader: 7 } }
          letter: { wire: string, choices: { pre-fader: early, post-fader: late } }
          plug:   { wire: string, points: { none: "-", "stage {n}": "st{n:02}", "local {n}": "lo{n-1}" } }
          drain:  { wire: string, bank: output, points: { none: "-", "stage {n}": "st{n:02}", "main {n} left": "m{n}l", "mix {n}": "mix-{n:a}" } }
        settings:
          "input/1/fader": { at: "/a", args: [map] }
          "input/2/fader": { at: "/b", args: [seven] }
          "input/3/fader": { at: "/c", args: [half] }
          "input/4/fader": { at: "/d", args: [off] }
          "input/1/delay": { at: "/e", args: [plain] }
          "input/1/low-cut/frequency": { at: "/e2", args: [hertz] }
          "input/1/pan": { at: "/f", args: [count] }
          "input/1": { at: "/g", args: [{ on: yes }, { low-cut: shut }, { eq/on: lit }, { gate/on: dark }, { comp/on: held }, { linked: third }] }
          "input/1/name": { at: "/h", args: [word] }
          "input/2/name": { at: "/i", args: [bare] }
          "input/3/name": { at: "/j", args: [long] }
          "input/1/send/mix/{m}/tap": { at: "/k/{m}", args: [spot] }
          "input/2/send/mix/{m}/tap": { at: "/k2/{m}", args: [letter] }
          "input/1/source": { at: "/l", args: [plug] }
          "output/stage-1/source": { at: "/m", args: [drain] }
        """;

    private static readonly DeskProfile Desk = Written.Profile(Codecs);

    [Theory]
    [InlineData(0, -100)]
    [InlineData(0.1, -75)]
    [InlineData(0.2, -50)]
    [InlineData(0.35, -35)]
    [InlineData(0.5, -20)]
    [InlineData(0.65, -10)]
    [InlineData(0.8, 0)]
    [InlineData(0.9, 4)]
    [InlineData(1, 8)]
    [InlineData(-3, -100)]
    [InlineData(2, 8)]
    public void Level_is_read_by_straight_lines_between_points(double wire, double decibels) =>
        Assert.Equal(decibels, Decode("input/1/fader", "f", Float((float)wire))!.Value.Number, 4);

    [Theory]
    [InlineData("-75 dB", 0.1)]
    [InlineData("-40 dB", 0.3)]
    [InlineData("-20 dB", 0.5)]
    [InlineData("-10 dB", 0.65)]
    [InlineData("-3 dB", 0.755)]
    [InlineData("0 dB", 0.8)]
    [InlineData("4 dB", 0.9)]
    public void Level_is_written_by_the_inverse(string text, double wire) =>
        Assert.Equal(wire, BinaryPrimitives.ReadSingleBigEndian(Encode("input/1/fader", text).AsSpan(^4)), 6);

    // A 7-bit code: wire positions are 127 times those above.
    [Theory]
    [InlineData(25, -50.787)]
    [InlineData(64, -19.738)]
    [InlineData(83, -9.764)]
    [InlineData(102, 0.126)]
    [InlineData(114, 3.906)]
    [InlineData(0, -100)]
    [InlineData(127, 8)]
    public void Seven_bit_code_is_read(int code, double decibels) =>
        Assert.Equal(decibels, Decode("input/2/fader", "i", Int(code))!.Value.Number, 3);

    [Theory]
    [InlineData("-20 dB", 64)]
    [InlineData("-10 dB", 83)]
    [InlineData("0 dB", 102)]
    [InlineData("4 dB", 114)]
    [InlineData("-50 dB", 26)] // nearest in decibels (-49.53), although 25 is nearer on the wire (-50.79)
    public void Seven_bit_code_is_the_nearest_level(string text, int code) =>
        Assert.Equal(code, BinaryPrimitives.ReadInt32BigEndian(Encode("input/2/fader", text).AsSpan(^4)));

    [Fact]
    public void Every_seven_bit_code_comes_back()
    {
        for (var code = 0; code < 128; code++)
        {
            var value = Decode("input/2/fader", "i", Int(code))!.Value;
            Assert.Equal(code, value.Step);
            Assert.Equal(code, BinaryPrimitives.ReadInt32BigEndian(Encode("input/2/fader", value).AsSpan(^4)));
        }
    }

    [Fact]
    public void Fader_quantised_to_half_a_decibel_never_differs_by_less()
    {
        var numbers = new SeededNumbers((ulong)TestSeed.Value);
        for (var i = 0; i < 2000; i++)
        {
            var decibels = Math.Round(-59 + 68 * numbers.NextUnit(), 3);
            var value = Value("input/3/fader", $"{decibels:0.000} dB");
            Assert.True(Math.Abs(value.Number - decibels) < 0.2501 && Math.Abs(value.Number * 2 - Math.Round(value.Number * 2)) < 1e-9, $"seed {TestSeed.Value}: {decibels}");
            foreach (var drift in (double[])[-0.2, -0.1, 0, 0.1, 0.2])
            {
                // 70 dB of travel: what the desk sends may lie a little beside its step.
                var live = Decode("input/3/fader", "f", Float((float)((value.Number + drift + 60) / 70)))!.Value;
                Assert.True(live == value && live.GetHashCode() == value.GetHashCode(), $"seed {TestSeed.Value}: {decibels} {drift}");
            }
        }
    }

    [Theory]
    [InlineData(0f, "-inf dB")]
    [InlineData(-1f, "-inf dB")]
    [InlineData(0.002f, "-inf dB")] // nearest to step 0 of 175
    [InlineData(0.004f, "-60.0 dB")] // above off the first level holds
    [InlineData(0.19f, "-60.0 dB")]
    [InlineData(0.2f, "-60.0 dB")]
    [InlineData(0.6f, "-25.0 dB")]
    [InlineData(1f, "10.0 dB")]
    public void Off_is_at_and_below_the_first_point(float wire, string text) =>
        Assert.Equal(text, Desk.Format(Decode("input/4/fader", "f", Float(wire))!.Value));

    [Theory]
    [InlineData("-inf", "-inf dB")]
    [InlineData("-inf dB", "-inf dB")]
    [InlineData("-60 dB", "-60.0 dB")]
    [InlineData("-25", "-25.0 dB")]
    [InlineData("-25dB", "-25.0 dB")]
    [InlineData("  -25 dB ", "-25.0 dB")]
    [InlineData("+3 dB", "3.0 dB")]
    [InlineData("-0 dB", "0.0 dB")]
    public void Level_text_is_canonical(string text, string canonical)
    {
        var value = Value("input/4/fader", text);
        Assert.Equal(canonical, Desk.Format(value));
        Assert.Equal(value, Value("input/4/fader", canonical));
    }

    [Theory]
    [InlineData("input/1/delay", "6.2 ms", "6.2 ms")]
    [InlineData("input/1/delay", "6.2", "6.2 ms")]
    [InlineData("input/1/delay", "0.5 s", "500.0 ms")]
    [InlineData("input/1/delay", "6.2501 ms", "6.25 ms")]
    [InlineData("input/1/low-cut/frequency", "80 Hz", "80.0 Hz")]
    [InlineData("input/1/low-cut/frequency", "2.5 kHz", "2500.0 Hz")]
    [InlineData("input/1/pan", "3", "3.0")]
    [InlineData("input/1/on", "on", "on")]
    [InlineData("input/1/on", "no", "off")]
    [InlineData("input/1/source", "stage 12", "stage 12")]
    [InlineData("input/1/source", "none", "none")]
    [InlineData("input/1/name", "Lectern left", "Lecter")]
    [InlineData("input/1/name", "Kick  ", "Kick")]
    [InlineData("input/2/name", "Kick  ", "Kick  ")]
    [InlineData("input/3/name", "A name of any length at all", "A name of any length at all")]
    public void Text_is_canonical(string path, string text, string canonical) => Assert.Equal(canonical, Desk.Format(Value(path, text)));

    [Theory]
    [InlineData("input/4/fader", "11 dB")]
    [InlineData("input/4/fader", "-61 dB", true)] // between off and the first level: the nearest
    [InlineData("input/3/fader", "-61 dB")]
    [InlineData("input/3/fader", "-inf")]
    [InlineData("input/4/fader", "5 ms")]
    [InlineData("input/4/fader", "NaN")]
    [InlineData("input/4/fader", "inf")]
    [InlineData("input/4/fader", "1e1 dB")]
    [InlineData("input/4/fader", "")]
    [InlineData("input/1/delay", "5 dB")]
    [InlineData("input/1/delay", "-inf")]
    [InlineData("input/1/on", "ON")]
    [InlineData("input/1/source", "stage 49")]
    [InlineData("input/1/source", "stage 012")]
    [InlineData("input/1/send/mix/1/tap", "post")]
    public void Text_that_is_no_value_is_refused(string path, string text, bool accepted = false)
    {
        Assert.Equal(accepted, Desk.Settings[Desk.Find(path)].Codec.TryParse(text, out _, out var problem));
        Assert.Equal(accepted, problem is null);
    }

    [Theory]
    [InlineData("on", "i", 1, "on")]
    [InlineData("on", "i", 0, "off")]
    [InlineData("on", "i", 2, null)]
    [InlineData("low-cut", "i", 1, "off")] // inverted
    [InlineData("low-cut", "i", 0, "on")]
    [InlineData("eq/on", "T", 0, "on")]
    [InlineData("eq/on", "F", 0, "off")]
    [InlineData("gate/on", "T", 0, "off")]
    [InlineData("gate/on", "F", 0, "on")]
    public void Switch_is_read(string suffix, string tag, int number, string? text)
    {
        var value = Decode($"input/1/{suffix}", tag, tag == "i" ? Int(number) : []);
        Assert.Equal(text, value is null ? null : Desk.Format(value.Value));
    }

    [Theory]
    [InlineData("comp/on", "held", "on")]
    [InlineData("comp/on", "loose", "off")]
    [InlineData("comp/on", "Held", null)]
    [InlineData("comp/on", "", null)]
    public void Switch_by_words_is_read(string suffix, string word, string? text)
    {
        var value = Decode($"input/1/{suffix}", "s", Text(word));
        Assert.Equal(text, value is null ? null : Desk.Format(value.Value));
    }

    [Theory]
    [InlineData(0.75f, "on")]
    [InlineData(0.25f, "off")]
    [InlineData(0.5f, null)]
    public void Switch_by_floats_is_read(float wire, string? text)
    {
        var value = Decode("input/1/linked", "f", Float(wire));
        Assert.Equal(text, value is null ? null : Desk.Format(value.Value));
    }

    [Theory]
    [InlineData("input/1/send/mix/30/tap", "post-fader", "00000007")]
    [InlineData("input/2/send/mix/30/tap", "post-fader", "6C61746500000000")]
    [InlineData("input/1/source", "stage 7", "7374303700000000")] // st07
    [InlineData("input/1/source", "local 8", "6C6F3700")] // lo7
    [InlineData("input/1/source", "none", "2D000000")]
    [InlineData("output/stage-1/source", "stage 2", "7374303200000000")]
    [InlineData("output/stage-1/source", "main 1 left", "6D316C00")]
    [InlineData("output/stage-1/source", "mix 28", "6D69782D61620000")] // mix-ab
    [InlineData("input/1/name", "Kick", "4B69636B20200000")] // filled up to six bytes
    [InlineData("input/2/name", "Kick", "4B69636B00000000")]
    [InlineData("input/1/low-cut", "on", "00000000")]
    [InlineData("input/1/on", "on", "00000001")]
    public void Words_are_spelled_the_desks_way(string path, string text, string hex)
    {
        var written = Convert.ToHexString(Encode(path, text));
        Assert.Equal(hex, written[^hex.Length..]);
        Assert.Equal(Value(path, text), Decode(path, hex.Length == 8 && !char.IsAsciiLetter(hex[1]) && hex[0] == '0' ? "i" : "s", Convert.FromHexString(hex)));
    }

    [Theory]
    [InlineData("Müller", "Mülle")] // seven bytes: ü has two
    [InlineData("ÄÖÜß", "ÄÖÜ")]
    [InlineData("日本語", "日本")]
    [InlineData("ab😀😀", "ab😀")]
    [InlineData("abc😀", "abc")] // never half a character
    [InlineData("abcdef", "abcdef")]
    [InlineData("abcde f", "abcde")]
    public void Text_is_cut_to_bytes_and_never_inside_a_character(string text, string cut)
    {
        Assert.Equal(cut, Desk.Format(Value("input/1/name", text)));
        Assert.Equal(Value("input/1/name", text), Value("input/1/name", cut));
    }

    [Fact]
    public void Text_from_the_wire_with_broken_characters_is_kept_readable() =>
        Assert.Equal("a\uFFFDb", Desk.Format(Decode("input/2/name", "s", [0x61, 0xFF, 0x62, 0])!.Value));

    [Fact]
    public void Text_of_more_than_the_longest_is_refused()
    {
        Assert.Null(Decode("input/3/name", "s", Text(new string('x', TextPool.LongestText + 1))));
        Assert.NotNull(Decode("input/3/name", "s", Text(new string('x', TextPool.LongestText))));
    }

    [Fact]
    public void Banks_of_points_are_those_of_their_kind()
    {
        Assert.False(Desk.Settings[Desk.Find("output/stage-1/source")].Codec.TryParse("stage 3", out _, out _)); // two outputs
        Assert.True(Desk.Settings[Desk.Find("input/1/source")].Codec.TryParse("stage 48", out _, out _)); // forty-eight sockets
    }

    [Fact]
    public void Members_are_bits_of_several_ints()
    {
        // Larch 48: crew members are lanes 1-24, lanes 25-48, groups, effect returns; hush members lanes in sixteens.
        var profile = DemoShow.Profile;
        foreach (var (path, address, argument, bit) in new[]
        {
            ("input/1/dca/1", "/crew/1/members", 0, 0), ("input/24/dca/8", "/crew/8/members", 0, 23), ("input/25/dca/8", "/crew/8/members", 1, 0),
            ("input/48/dca/2", "/crew/2/members", 1, 23), ("group/8/dca/1", "/crew/1/members", 2, 7), ("fx-return/4/dca/1", "/crew/1/members", 3, 3),
            ("input/16/mute-group/1", "/hush/1/members", 0, 15), ("input/17/mute-group/1", "/hush/1/members", 1, 0), ("input/33/mute-group/6", "/hush/6/members", 2, 0),
            ("desk/talk/2/to/matrix-6", "/bench/talk/2/reach", 3, 5), ("input/9/assign/group/8", "/lane/09/into", 1, 7),
        })
        {
            var setting = profile.Settings[profile.Find(path)];
            var endpoint = profile.Endpoints[setting.Endpoint];
            Assert.Equal(address, Encoding.ASCII.GetString(endpoint.Address));
            Assert.Contains(new Slot(argument, bit, setting.Id), endpoint.Slots);
        }
    }

    [Fact]
    public void Resets_are_as_written_or_by_kind()
    {
        string[] paths = ["input/1/fader", "input/4/fader", "input/1/delay", "input/1/on", "input/1/name", "input/1/source", "input/1/send/mix/1/tap"];
        Assert.Equal(["-100.0 dB", "-inf dB", "0.0 ms", "off", "", "none", "pre-fader"], paths.Select(path => Desk.Format(Desk.Settings[Desk.Find(path)].Reset)));
        Assert.Equal("on", DemoShow.Profile.Format(DemoShow.Profile.Settings[DemoShow.Profile.Find("input/1/on")].Reset));
    }

    private static SettingValue Value(string path, string text)
    {
        Assert.True(Desk.Settings[Desk.Find(path)].Codec.TryParse(text, out var value, out var problem), problem);
        return value;
    }

    private static byte[] Encode(string path, string text) => Encode(path, Value(path, text));

    private static byte[] Encode(string path, SettingValue value)
    {
        var codec = Desk.Settings[Desk.Find(path)].Codec;
        Span<byte> buffer = stackalloc byte[64];
        var writer = new OscWriter(buffer);
        writer.StartMessage("/x"u8, [codec.Tag(value)]);
        codec.Encode(value, ref writer);
        Assert.Equal(OscError.None, writer.Finish(out var length));
        return buffer[..length].ToArray();
    }

    private static SettingValue? Decode(string path, string tag, byte[] data)
    {
        byte[] bytes = [.. Text("/x"), .. Text("," + tag), .. data];
        var packet = new OscPacketReader(bytes);
        Assert.True(packet.Read(out var message));
        var arguments = message.Arguments;
        Assert.True(arguments.Read(out var argument));
        return Desk.Settings[Desk.Find(path)].Codec.TryDecode(argument, out var value) ? value : null;
    }

    private static byte[] Text(string text) => [.. Encoding.UTF8.GetBytes(text), .. new byte[4 - Encoding.UTF8.GetByteCount(text) % 4]];

    private static byte[] Int(int value)
    {
        var bytes = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(bytes, value);
        return bytes;
    }

    private static byte[] Float(float value)
    {
        var bytes = new byte[4];
        BinaryPrimitives.WriteSingleBigEndian(bytes, value);
        return bytes;
    }
}
