using System.Text;
using StateWatch.Core.Capturing;
using StateWatch.Core.Routing;
using StateWatch.Core.Tests.Capturing;
using StateWatch.Tests.Links;
using StateWatch.Tests.Support;

namespace StateWatch.Tests.Commands;

/// <summary>Measuring as somebody at the desk does it: a process, real loopback sockets, answers on standard input, and knobs turned by hand.</summary>
[Collection(SocketsGroup.Name)]
public sealed class CaptureCommandTests
{
    private static readonly string[] Ring = ["--ring-out", "Lectern", "wedges 1", "--room", "empty"];
    private static readonly string[] Noise = ["--noise", "lectern", "wedges 1"];

    // 30 dB of preamp and -10 dB of send: the gain is 20 dB more than the fader.
    private static readonly string[] Ready = ["input/1/on = off", "input/2/on = off", "input/1/assign/main/1 = off", "input/1/send/mix/3/on = off", "input/1/send/mix/1/tap = post-fader"];

    private static readonly string[] Unassigned = ["input/1/send/mix/1/on = off", "input/2/on = off", "input/1/signal = -inf", "output/stage-3/signal = -inf"];

    [Fact]
    public async Task Two_rounds_that_agree_give_a_line_that_the_plan_takes_and_only_questions_were_sent()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Ring, [.. Ready, "input/1/comp/on = on"]);
        var setup = LoopSetup.Of(session.Plan, session.Plan.Microphones[0], session.Plan.Loudspeakers.Single(item => item.Words == "wedges 1"));
        await session.Answer("Is all of that so?", "yes");
        await session.Until("20.0 dB as it stands unmuted, 20.0 dB as planned");
        await session.Answer("desk looked at");
        await session.Until("The compressor of Lectern (input/1) is on: bypass it");
        session.Set("input/1/comp/on = off");
        await session.Answer("desk looked at");
        await session.Until("at 0.0 dB or below (now 20.0 dB)");
        await Round(session, -21, -19);
        await session.Until("Round 1 of 2: 1.0 dB. Once more from 6 dB below.");
        await session.Answer("desk looked at");
        await session.Until("at -5.0 dB or below (now 1.0 dB)");
        await Round(session, -25.5, -23, -20);
        var hand = session.Desk.Use(desk => (desk.Fingerprint, desk.Counters.Sets));
        var (exitCode, output) = await session.End();
        Assert.Equal(0, exitCode);
        Assert.Contains("CAPTURED: 0.0 dB of loss", session.Told, StringComparison.Ordinal);

        var day = session.Plan.Document.DayOf(TimeProvider.System.GetLocalNow());
        var print = new string(output.Split("setup: ")[1].TakeWhile(letter => letter != ' ').ToArray());
        Assert.Equal($"  - {{ mic: Lectern, feed: wedges 1, loss: 0 dB, measured: {day:yyyy-MM-dd}, by: A. Engineer, room: empty, setup: {print} }}\n", output);
        var coupling = Assert.Single(CaptureSession.Compile(TansyDesk.Desk, CaptureSession.PlanText($"couplings:\n{output}")).Couplings);
        Assert.Equal((0, day, "A. Engineer", "empty"), (coupling.Loss, coupling.Measured, coupling.By, coupling.Room));
        Assert.Equal(PrintOf(session, setup, "input/1/comp/on"), coupling.Setup); // as in the show, the compressor in

        Assert.Equal((hand.Fingerprint, 0L), (session.Desk.Use(desk => desk.Fingerprint), hand.Sets));
        var sent = session.Desk.Log!.ToArrays();
        var addresses = session.Plan.Profile.Endpoints.Select(endpoint => Encoding.ASCII.GetString(endpoint.Address).TrimEnd((char)0)).ToHashSet(StringComparer.Ordinal);
        Assert.NotEmpty(sent);
        Assert.All(sent, datagram =>
        {
            var end = Array.IndexOf(datagram, (byte)0);
            Assert.Equal([0x2C, 0, 0, 0], datagram[((end + 4) / 4 * 4)..]); // a type tag string without types: no argument (OSC 1.0)
            Assert.Contains(Encoding.ASCII.GetString(datagram, 0, end), addresses);
        });
    }

    [Fact]
    public async Task Quiet_noise_gives_a_line_too()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Noise, Unassigned);
        await session.Answer("Is all of that so?", "yes");
        await session.Answer("desk looked at");
        await session.Answer("read the background");
        await session.Until("Background at the socket -inf");
        session.Set("input/1/signal = -40 dB", "output/stage-3/signal = -38 dB"); // -70 dB at the socket: 32 dB
        await session.Answer("Press Enter when it is steady");
        var (exitCode, output) = await session.End();
        Assert.Equal(0, exitCode);
        var coupling = Assert.Single(CaptureSession.Compile(TansyDesk.Desk, CaptureSession.PlanText($"couplings:\n{output}")).Couplings);
        Assert.Equal(("Lectern", 32, null), (coupling.Microphone.Name, coupling.Loss, coupling.Room));
    }

    [Fact]
    public async Task Step_that_is_too_large_makes_the_round_void_with_exit_1()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Ring, Ready);
        await Begin(session);
        session.Set("input/1/fader = -15 dB");
        var (exitCode, output) = await session.End();
        Assert.Equal((1, ""), (exitCode, output));
        Assert.Contains("NOT CAPTURED: mute now. The round is void: The gain rose by 6.0 dB", session.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Desk_that_falls_silent_makes_the_round_void()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Ring, Ready);
        await Begin(session);
        session.Desk.Use(desk => desk.Silent = true);
        Assert.Equal((1, ""), await session.End());
        Assert.Contains("void: The desk fell silent", session.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Microphone_that_somebody_opened_meanwhile_makes_the_round_void()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Ring, Ready);
        await Begin(session);
        session.Set("input/2/on = on", "input/1/on = off");
        await session.Answer("Did it ring", "yes");
        Assert.Equal(1, (await session.End()).ExitCode);
        Assert.Contains("Table (input/2) is open at wedges 1 too", session.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Noise_is_not_begun_while_the_microphone_goes_to_the_feed()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Noise, "input/2/on = off");
        await session.Answer("Is all of that so?", "yes");
        await session.Answer("desk looked at");
        await session.Until("Lectern (input/1) goes to wedges 1: unassign it");
        session.EndAnswers();
        Assert.Equal((1, ""), await session.End());
        Assert.Contains("standard input ended", session.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Noise_that_hardly_rises_is_discarded_with_exit_1()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Noise, [.. Unassigned, "input/1/signal = -60 dB"]);
        await session.Answer("Is all of that so?", "yes");
        await session.Answer("desk looked at");
        await session.Answer("read the background");
        await session.Until("Background");
        session.Set("input/1/signal = -52 dB", "output/stage-3/signal = -38 dB");
        await session.Answer("Press Enter when it is steady");
        Assert.Equal((1, ""), await session.End());
        Assert.Contains("rose by 8.0 dB", session.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Desk_without_meters_gives_exit_3_and_names_the_other_way()
    {
        using var session = new CaptureSession(string.Join('\n', TansyDesk.Desk.Split('\n').Where(line => !line.Contains("glow", StringComparison.Ordinal))), Noise);
        Assert.Equal((3, ""), await session.End());
        Assert.Contains("--ring-out can", session.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Setting_that_the_desk_does_not_answer_gives_exit_3()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Ring, Ready);
        session.Desk.Use(desk => desk.Unanswered = new HashSet<int> { session.Plan.Profile.Find("mix/1/fader") });
        Assert.Equal((3, ""), await session.End());
        Assert.Contains("not seen: mix/1/fader", session.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Desk_that_is_not_there_gives_exit_3_and_its_address()
    {
        var port = LoopbackDesk.FreePort();
        var (exitCode, output, errors) = await StatewatchProcess.Run("capture", ShippedFiles.Plan, "--noise", "Lectern", "room", "--by", "A. Engineer", "--answers-piped", "--desk", $"127.0.0.1:{port}");
        Assert.Equal((3, ""), (exitCode, output));
        Assert.Contains($"127.0.0.1:{port} is silent", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("no")]
    [InlineData("what?", "no")]
    public async Task Whoever_does_not_confirm_captures_nothing(params string[] answers)
    {
        using var session = new CaptureSession(TansyDesk.Desk, Ring, Ready);
        foreach (var answer in answers)
            await session.Answer("Is all of that so?", answer);
        Assert.Equal((1, ""), await session.End());
        Assert.Contains("not confirmed", session.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ctrl_C_ends_at_once_with_exit_1()
    {
        using var session = new CaptureSession(TansyDesk.Desk, Ring, Ready);
        await session.Until("Is all of that so?");
        session.Interrupt();
        Assert.Equal((1, ""), await session.End());
        Assert.Contains("ended with Ctrl-C", session.Told, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(64, "say how", "PLAN", "Lectern", "room", "--by", "A")]
    [InlineData(64, "two ways", "PLAN", "Lectern", "room", "--by", "A", "--noise", "--ring-out")]
    [InlineData(64, "--by", "PLAN", "Lectern", "room", "--noise")]
    [InlineData(64, "needs a name", "PLAN", "Lectern", "room", "--noise", "--by", " ")]
    [InlineData(64, "write empty or full", "PLAN", "Lectern", "room", "--noise", "--by", "A", "--room", "half")]
    [InlineData(64, "did you mean 'Lectern'?", "PLAN", "Lecturn", "room", "--noise", "--by", "A")]
    [InlineData(64, "did you mean 'room'?", "PLAN", "Lectern", "rom", "--noise", "--by", "A")]
    [InlineData(64, "no loudspeaker 'stream'", "PLAN", "Lectern", "stream", "--noise", "--by", "A")]
    [InlineData(64, "no terminal", "PLAN", "--noise", "Lectern", "room", "--by", "A")]
    [InlineData(64, "did you mean '--ring-out'?", "PLAN", "--ringout", "Lectern", "--by", "A")]
    [InlineData(64, "not host:port", "PLAN", "Lectern", "room", "--noise", "--by", "A", "--answers-piped", "--desk", "somewhere")]
    [InlineData(66, "cannot read this file", "nowhere.plan.yaml", "Lectern", "room", "--noise", "--by", "A")]
    public async Task Usage_errors_and_missing_files_have_their_own_exit_codes(int expected, string words, params string[] args)
    {
        var (exitCode, output, errors) = await StatewatchProcess.Run(["capture", .. args.Select(arg => arg == "PLAN" ? ShippedFiles.Plan : arg)]);
        Assert.Contains(words, errors, StringComparison.Ordinal);
        Assert.Equal((expected, ""), (exitCode, output));
    }

    [Fact]
    public async Task Broken_plan_gives_65()
    {
        using var folder = new ScratchFolder();
        var (exitCode, _, errors) = await StatewatchProcess.Run("capture", folder.Write("broken.plan.yaml", "format: statewatch/show/1\nshwo: Broken\n"), "Lectern", "room", "--noise", "--by", "A");
        Assert.Equal(65, exitCode);
        Assert.Contains("broken.plan.yaml:2:1", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Line_goes_to_a_file_and_is_not_lost_where_that_cannot_be_written()
    {
        using var folder = new ScratchFolder();
        var path = folder.Write("line.yaml", "");
        using (var session = new CaptureSession(TansyDesk.Desk, [.. Noise, "--out", path], Unassigned))
        {
            await Measure(session);
            Assert.Equal((0, ""), await session.End());
            Assert.StartsWith("  - { mic: Lectern", await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken), StringComparison.Ordinal);
        }

        using var other = new CaptureSession(TansyDesk.Desk, [.. Noise, "--out", Path.Combine(path, "nowhere", "line.yaml")], Unassigned);
        await Measure(other);
        Assert.Equal(73, (await other.End()).ExitCode);
        Assert.Contains("  - { mic: Lectern", other.Told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Caution_comes_first_and_nothing_is_called_safe()
    {
        var (_, help, _) = await StatewatchProcess.Run("capture", "--help");
        using var session = new CaptureSession(TansyDesk.Desk, Ring, Ready);
        await session.Until("Is all of that so?");
        Assert.StartsWith("CAUTION: sudden level can injure hearing and destroy loudspeakers.", session.Told, StringComparison.Ordinal);
        Assert.Contains("CAUTION: sudden level can injure hearing", help, StringComparison.Ordinal);
        foreach (var text in (string[])[help, session.Told, string.Join('\n', [.. CaptureWords.BeforeNoise("a", "b"), .. CaptureWords.BeforeRing("a", "b"), .. CaptureWords.Round])])
        {
            Assert.Contains("local codes", text + CaptureWords.Caution, StringComparison.Ordinal);
            Assert.DoesNotContain("safe", text.Replace("no safety", "", StringComparison.Ordinal).Replace("It is no safety\nsystem", "", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase);
        }
    }

    // From low up, then mute: the fader is 20 dB below the gain. Between steps somebody listens for as long as the procedure says.
    private static async Task Round(CaptureSession session, params double[] faders)
    {
        session.Set($"input/1/fader = {Text(faders[0])}", "input/1/on = on");
        await session.Until("has begun at");
        for (var i = 1; i < faders.Length; i++)
        {
            if (i > 1)
                await Task.Delay(RingOut.Wait + TimeSpan.FromMilliseconds(200), TestContext.Current.CancellationToken);
            session.Set($"input/1/fader = {Text(faders[i])}");
            await session.Until($"  {Text(faders[i] + 20)}");
        }

        session.Set("input/1/on = off");
        await session.Answer("Did it ring", "yes");
    }

    private static async Task Begin(CaptureSession session)
    {
        await session.Answer("Is all of that so?", "yes");
        await session.Answer("desk looked at");
        await session.Until("Round 1: bring");
        session.Set("input/1/fader = -21 dB", "input/1/on = on");
        await session.Until("has begun at -1.0 dB");
    }

    private static async Task Measure(CaptureSession session)
    {
        await session.Answer("Is all of that so?", "yes");
        await session.Answer("desk looked at");
        await session.Answer("read the background");
        await session.Until("Background");
        session.Set("input/1/signal = -40 dB", "output/stage-3/signal = -38 dB");
        await session.Answer("Press Enter when it is steady");
    }

    private static string Text(double level) => FormattableString.Invariant($"{level:0.0} dB");

    // The desk as it stands, but for a switch that was on when the setup was noted.
    private static string? PrintOf(CaptureSession session, LoopSetup setup, string on)
    {
        var state = new Core.Desks.DeskState(session.Plan.Profile);
        foreach (var id in setup.Settings)
            state.Apply(id, session.Desk.Use(desk => desk[id]));
        state.Apply(session.Plan.Profile.Find(on), Core.Settings.SettingValue.Switch(true));
        return setup.Fingerprint(state);
    }
}
