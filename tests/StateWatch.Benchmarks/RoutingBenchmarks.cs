using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Configs;
using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace StateWatch.Benchmarks;

/// <summary>
/// Gains and feedback margins of generated desks, small and large, with four strips to a bus each. The baseline is one dense inverse of the
/// same desk by MathNet.Numerics. Goals: full computation 1/50 of it; one input's gain with its margin 1/10 of full, and no more than
/// twice as long on the large desk as on the small one; a bus that everything passes no longer than full; nothing allocated.
/// </summary>
[MemoryDiagnoser]
[GroupBenchmarksBy(BenchmarkLogicalGroupRule.ByParams)]
public class RoutingBenchmarks
{
    private GeneratedDesk? _desk;
    private GeneratedDesk? _through;
    private Matrix<double>? _dense;
    private int _turn;

    /// <summary>Inputs x mixes x matrices, and how many loudspeakers microphones hear.</summary>
    [Params("16x8x4, 4 heard", "128x64x32, 4 heard", "128x64x32, 32 heard")]
    public string Desk { get; set; } = "";

    [GlobalSetup]
    public void Setup()
    {
        Control.UseSingleThread();
        int[] sizes = [.. Desk.Split('x', ',', ' ').Where(word => int.TryParse(word, out _)).Select(int.Parse)];
        _desk = new GeneratedDesk(sizes[0], sizes[1], sizes[2], sizes[3]);
        _through = new GeneratedDesk(sizes[0], sizes[1], sizes[2], sizes[3], everythingPasses: true);
        _dense = Matrix<double>.Build.DenseIdentity(_desk.Nodes);
        for (var edge = 0; edge < _desk.Edges.Count; edge++)
            _dense[_desk.Edges[edge].From, _desk.Edges[edge].To] -= _desk.Gains[edge];
        _through.Full(1);
        var margins = _desk.Full(1);
        var wanted = _dense.Inverse()[0, _desk.Nodes - 1];
        if (!double.IsFinite(margins.Power) || Math.Abs(_desk.Graph.Signed(0)[_desk.Outputs - 1] - wanted) > 1e-9)
            throw new InvalidOperationException("the desk is not computed");
    }

    [Benchmark(Baseline = true)]
    public Matrix<double> DenseInverse() => _dense!.Inverse();

    [Benchmark]
    public double Full() => _desk!.Full(Next()).Power;

    [Benchmark]
    public void FullWithoutMargin() => _desk!.FullGains(Next());

    [Benchmark]
    public double OneInput() => _desk!.ChangeInput(Next()).Power;

    [Benchmark]
    public double BusOfAll() => _through!.ChangeBus(Next()).Power;

    [Benchmark]
    public double FullOfThatDesk() => _through!.Full(Next()).Power;

    // Never the same gain twice in a row.
    private double Next() => 1 - 0.001 * (++_turn & 7);
}
