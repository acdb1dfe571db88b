using BenchmarkDotNet.Attributes;
using StateWatch.Core.Auditing;
using StateWatch.Core.Desks;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using StateWatch.Core.Settings;

namespace StateWatch.Benchmarks;

/// <summary>
/// Following the demo show: one change noted and judged, against judging everything anew. The baseline is everything without words, as a new
/// generation needs it; <see cref="WithWords"/> is a whole sweep's verdict on a desk without a fault.
/// </summary>
[MemoryDiagnoser]
public class LiveAuditBenchmarks
{
    private DeskState _state = null!;
    private LiveAudit _live = null!;
    private Auditor _auditor = null!;
    private (int Id, SettingValue There, SettingValue Back) _change;
    private bool _isThere;

    /// <summary>What is changed and changed back.</summary>
    [Params("group/3/fader", "group/1/on", "dca/1/fader", "input/15/dca/1", "main/1/fader", "input/39/assign/main/1")]
    public string Setting { get; set; } = "";

    [GlobalSetup]
    public void Setup()
    {
        var profile = ProfileReader.Read(new SourceText("larch-48.desk.yaml", Read("weekly.desk.yaml")), new DiagnosticBag())!;
        var document = PlanReader.Read(new SourceText("midwinter.plan.yaml", Read("midwinter.plan.yaml")), new DiagnosticBag())!;
        var plan = PlanCompiler.Compile(document, profile, Phase.Show, new DiagnosticBag())!;
        _state = new DeskState(profile);
        foreach (var setting in profile.Settings)
            _state.Apply(setting.Id, setting.Reset);
        foreach (var (setting, value) in PlannedState.Of(plan))
            _state.Apply(setting, value);
        _live = new LiveAudit(plan);
        _auditor = new Auditor(plan);
        _live.Judge(_state);
        var id = profile.Find(Setting);
        var back = _state[id];
        var there = back.Kind == ValueKind.Switch ? SettingValue.Switch(!back.IsOn) : profile.Settings[id].Codec.TryParse("-7 dB", out var lower, out _) ? lower : back;
        _change = (id, there, back);
        for (var warm = 0; warm < 4; warm++)
            Change();
    }

    [Benchmark(Baseline = true)]
    public int Everything()
    {
        _live.AllChanged();
        _live.Judge(_state);
        return _live.Looked;
    }

    [Benchmark]
    public int WithWords() => _auditor.Judge(_state).Findings.Count;

    /// <summary>One change, there or back.</summary>
    [Benchmark]
    public int Change()
    {
        _isThere = !_isThere;
        _state.Apply(_change.Id, _isThere ? _change.There : _change.Back);
        _live.Changed(_change.Id);
        _live.Judge(_state);
        return _live.Looked;
    }

    private static string Read(string name)
    {
        using var reader = new StreamReader(typeof(LiveAuditBenchmarks).Assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd();
    }
}
