using System.Diagnostics;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Tests.Capturing;
using StateWatch.Links;
using StateWatch.Simulator;

namespace StateWatch.Tests.Support;

/// <summary><c>statewatch capture</c> as a process, the virtual desk it reads, and the person who answers and turns knobs.</summary>
internal sealed class CaptureSession : IDisposable
{
    private static readonly TimeSpan Ceiling = TimeSpan.FromSeconds(60);

    private readonly ScratchFolder _folder = new();
    private readonly CancellationTokenSource _limit = new(Ceiling);
    private readonly List<string> _told = [];
    private readonly Process _process;

    public CaptureSession(string deskText, string[] args, params string[] settings)
    {
        _folder.Write("tansy.desk.yaml", deskText);
        PlanPath = _folder.Write("small.plan.yaml", PlanText());
        Plan = Compile(deskText, PlanText());
        var desk = new VirtualDesk(Plan.Profile);
        foreach (var (setting, value) in PlannedState.Of(Plan))
            desk.Set(setting, value);
        Desk = UdpVirtualDesk.Start(desk, capture: true);
        Set(settings);
        _process = StatewatchProcess.Start(["capture", PlanPath, .. args, "--by", "A. Engineer", "--desk", Desk.EndPoint.ToString(), "--answers-piped"]);
    }

    public string PlanPath { get; }

    public ShowPlan Plan { get; }

    public UdpVirtualDesk Desk { get; }

    /// <summary>All of standard error so far.</summary>
    public string Told => string.Join('\n', _told);

    public static string PlanText(string more = "") => $"format: statewatch/show/1\nshow: Small\ndesk: tansy.desk.yaml\nzone: Europe/Lisbon\n{TansyDesk.PlanLines}\n{more}";

    public static ShowPlan Compile(string deskText, string planText)
    {
        var diagnostics = new DiagnosticBag();
        var profile = ProfileReader.Read(new SourceText("tansy.desk.yaml", deskText), diagnostics);
        var document = PlanReader.Read(new SourceText("small.plan.yaml", planText), diagnostics);
        var plan = document is null || profile is null ? null : PlanCompiler.Compile(document, profile, Phase.Doors, diagnostics);
        Assert.Equal([], diagnostics.Items.Where(item => item.Code.Level == DiagnosticLevel.Error).Select(item => $"{item.At.Place} {item.Message}"));
        return plan!;
    }

    /// <summary>Turns knobs: <c>path = value</c>, all at once.</summary>
    public void Set(params string[] settings) => Desk.Use(desk =>
    {
        foreach (var line in settings)
        {
            var id = Plan.Profile.Find(line.Split(" = ")[0]);
            Assert.True(id >= 0, line);
            Assert.True(Plan.Profile.Settings[id].Codec.TryParse(line.Split(" = ")[1], out var value, out var problem), problem);
            desk.Set(id, value);
        }

        return true;
    });

    /// <summary>Reads standard error until a line has some words.</summary>
    public async Task<string> Until(string words)
    {
        while (await _process.StandardError.ReadLineAsync(_limit.Token) is { } line)
        {
            _told.Add(line);
            if (line.Contains(words, StringComparison.Ordinal))
                return line;
        }

        Assert.Fail($"'{words}' was never told:\n{Told}");
        return "";
    }

    /// <summary>Waits for a question and answers it.</summary>
    public async Task Answer(string question, string answer = "")
    {
        await Until(question);
        await _process.StandardInput.WriteLineAsync(answer.AsMemory(), _limit.Token);
        await _process.StandardInput.FlushAsync(_limit.Token);
    }

    public void Interrupt()
    {
        using var kill = Process.Start("kill", ["-INT", _process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
    }

    public void EndAnswers() => _process.StandardInput.Close();

    public async Task<(int ExitCode, string Output)> End()
    {
        var output = _process.StandardOutput.ReadToEndAsync(_limit.Token);
        while (await _process.StandardError.ReadLineAsync(_limit.Token) is { } line)
            _told.Add(line);
        await _process.WaitForExitAsync(_limit.Token);
        return (_process.ExitCode, await output);
    }

    public void Dispose()
    {
        if (!_process.HasExited)
            _process.Kill();
        _process.Dispose();
        Desk.Dispose();
        _limit.Dispose();
        _folder.Dispose();
    }
}
