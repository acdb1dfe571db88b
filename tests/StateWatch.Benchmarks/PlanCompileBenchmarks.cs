using BenchmarkDotNet.Attributes;
using StateWatch.Core.Documents;
using StateWatch.Core.Plans;
using StateWatch.Core.Profiles;
using YamlDotNet.RepresentationModel;

namespace StateWatch.Benchmarks;

/// <summary>
/// The shipped weekly show from text to expectations. Goal: <see cref="Plan"/> under 10 ms. The baseline is what a general-purpose library takes to
/// read the same text into plain nodes, without meaning.
/// </summary>
[MemoryDiagnoser]
public class PlanCompileBenchmarks
{
    private string _planText = "";
    private string _profileText = "";
    private DeskProfile? _profile;

    [GlobalSetup]
    public void Setup()
    {
        _planText = Read("weekly.plan.yaml");
        _profileText = Read("weekly.desk.yaml");
        _profile = CompileProfile();
        if (Plan() <= 2000)
            throw new InvalidOperationException("the weekly show does not compile to more than 2,000 expectations");
    }

    [Benchmark(Baseline = true)]
    public int PlainNodes()
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(_planText));
        return stream.Documents.Count;
    }

    [Benchmark]
    public int Plan() => CompilePlan(_profile!);

    [Benchmark]
    public int PlanWithAudit() => CompilePlan(_profile!, auditPlan: true);

    [Benchmark]
    public int ProfileAndPlan() => CompilePlan(CompileProfile());

    private int CompilePlan(DeskProfile profile, bool auditPlan = false)
    {
        var diagnostics = new DiagnosticBag();
        var document = PlanReader.Read(new SourceText("weekly.plan.yaml", _planText), diagnostics);
        return PlanCompiler.Compile(document!, profile, Phase.Doors, diagnostics, auditPlan)!.Expectations.Count;
    }

    private DeskProfile CompileProfile() => ProfileReader.Read(new SourceText("weekly.desk.yaml", _profileText), new DiagnosticBag())!;

    private static string Read(string name)
    {
        using var reader = new StreamReader(typeof(PlanCompileBenchmarks).Assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd();
    }
}
