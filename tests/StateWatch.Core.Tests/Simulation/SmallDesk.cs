using StateWatch.Core.Documents;
using StateWatch.Core.Profiles;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>A desk of four inputs whose bytes can be written by hand. Invented, as its addresses are.</summary>
internal static class SmallDesk
{
    private const string Fern = """
        format: statewatch/desk/1
        desk: Fern 4
        identify: { ask: /who, expect: [fern, "3.*"] }
        link: { osc: udp, to: 127.0.0.1:9050 }
        strips: { input: 4, mix: 2, dca: 2 }
        codecs:
          lever: { wire: float, table: [[0, -inf], [0.25, -60], [0.5, -20], [1, 10]], steps: 401 }
          flag:  { wire: int, switch: [0, 1] }
          bulb:  { wire: bool, switch: [0, 1] }
          pick:  { wire: int, choices: { pre-fader: 0, post-fader: 1 } }
          words: { wire: string, length: 8, pad: space }
        settings:
          "input/{i}/name":         { at: "/berth/{i:02}/words", args: [words] }
          "input/{i}/on":           { at: "/berth/{i:02}/live", args: [flag], reset: on }
          "input/{i}/fader":        { at: "/berth/{i:02}/lever", args: [lever] }
          "input/{i}/send/mix/{m}": { at: "/berth/{i:02}/toward/{m:a}", args: [{ level: lever }, "-", { on: flag }, { tap: pick }] }
          "input/{i}/dca/{d}":      { at: "/gang/{d}", arg: "1", bit: "{i-1}" }
          "mix/{m}/on":             { at: "/mouth/{m}", args: [flag], reset: on }
          "desk/oscillator":        { at: "/hum", args: [bulb] }
        """;

    // The method names of the ordering example on the OSC 1.0 examples page.
    private const string Ordering = """
        format: statewatch/desk/1
        desk: Ordering
        link: { osc: udp, to: 127.0.0.1:9050 }
        strips: { input: 2, dca: 3 }
        codecs: { flag: { wire: int, switch: [0, 1] } }
        settings:
          "desk/oscillator": { at: "/first/this/one", args: [flag] }
          "input/{i}/on":    { at: "/second/{i}", args: [flag] }
          "dca/{d}/on":      { at: "/third/{d:a}", args: [flag] }
        """;

    public static DeskProfile FernProfile { get; } = Read(Fern);

    public static DeskProfile OrderingProfile { get; } = Read(Ordering);

    public static VirtualDesk Create() => new(FernProfile);

    public static void Set(this VirtualDesk desk, string path, string text)
    {
        var setting = desk.Profile.Find(path);
        Assert.True(setting >= 0, path);
        Assert.True(desk.Profile.Settings[setting].Codec.TryParse(text, out var value, out var problem), problem);
        desk.Set(setting, value);
    }

    public static string Get(this VirtualDesk desk, string path) => desk.Profile.Format(desk[desk.Profile.Find(path)]);

    public static DeskProfile Read(string text)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("test.desk.yaml", text), diagnostics);
        Assert.Equal([], diagnostics.Items.Select(item => $"{item.At.Place} {item.Message}"));
        return profile!;
    }
}
