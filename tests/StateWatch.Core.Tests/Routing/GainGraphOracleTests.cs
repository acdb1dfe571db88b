using System.Numerics;
using MathNet.Numerics.LinearAlgebra;
using QuikGraph;
using QuikGraph.Algorithms;

namespace StateWatch.Core.Tests.Routing;

/// <summary>
/// Gains against a dense solution of (I - A)⁻¹ by MathNet.Numerics, spectral radii against its eigenvalues, circles against the strongly
/// connected components of QuikGraph: general-purpose libraries that share nothing with ours.
/// </summary>
public class GainGraphOracleTests
{
    public static TheoryData<int, int, int, int, int, double> Sizes => new()
    {
        { 0, 3300, 4, 4, 2, 0.5 },
        { 1, 3300, 8, 6, 3, 0.35 },
        { 2, 3300, 16, 8, 4, 0.25 },
        { 3, 100, 128, 64, 32, 0.05 },
    };

    [Theory]
    [MemberData(nameof(Sizes))]
    public void Gains_are_those_of_a_dense_solution(int stream, int count, int inputs, int mixes, int matrices, double density)
    {
        var random = new Random(TestSeed.Value + stream);
        int compared = 0, circles = 0, unstable = 0;
        for (var number = 0; number < count; number++)
        {
            var desk = new RandomGraph(random, inputs, mixes, matrices, density, loudest: random.NextDouble() * 1.5);
            var graph = desk.Build();
            circles += graph.Circles > 0 ? 1 : 0;
            if (CompareOne(desk, graph))
                compared++;
            else
                unstable++;
        }

        // A comparison that left most out, or never met a circle, would prove nothing.
        Assert.True(compared > count / 4, $"{compared} of {count} compared, {unstable} too near to the edge");
        Assert.True(circles > count / 20, $"{circles} of {count} with circles");
    }

    private static bool CompareOne(RandomGraph desk, StateWatch.Core.Routing.GainGraph graph)
    {
        var signed = Matrix<double>.Build.Dense(desk.Nodes, desk.Nodes);
        var squares = Matrix<double>.Build.Dense(desk.Nodes, desk.Nodes);
        for (var edge = 0; edge < desk.Edges.Count; edge++)
        {
            signed[desk.Edges[edge].From, desk.Edges[edge].To] += desk.Gains[edge];
            squares[desk.Edges[edge].From, desk.Edges[edge].To] += desk.Gains[edge] * desk.Gains[edge];
        }

        var buses = signed.SubMatrix(desk.Inputs, desk.Buses, desk.Inputs, desk.Buses).PointwiseAbs();
        // A norm is never below the radius and costs next to nothing.
        if (buses.InfinityNorm() > 0.99 && buses.Evd().EigenValues.Max(Complex.Abs) > 0.99)
            return false;
        var identity = Matrix<double>.Build.DenseIdentity(desk.Nodes);
        var outputs = identity.SubMatrix(0, desk.Nodes, desk.Inputs + desk.Buses, desk.Outputs);
        var wanted = (identity - signed).LU().Solve(outputs);
        var wantedTotal = (identity - signed.PointwiseAbs()).LU().Solve(outputs);
        var wantedPower = (identity - squares).LU().Solve(outputs);
        // A dense solution is exact to the last digits of its largest entry, not of its smallest.
        var floor = 1e-15 * wantedTotal.Enumerate().Max(Math.Abs);
        for (var node = 0; node < desk.Inputs + desk.Buses; node++)
        {
            for (var column = 0; column < desk.Outputs; column++)
            {
                var total = wantedTotal[node, column];
                Near(total, graph.Total(node)[column], 1e-9 * Math.Abs(total) + floor);
                Near(wantedPower[node, column], graph.Power(node)[column], 1e-9 * Math.Abs(wantedPower[node, column]) + floor);
                // What cancels is compared against what was added up: a difference of large numbers has no digits of its own.
                Near(wanted[node, column], graph.Signed(node)[column], 1e-9 * Math.Abs(total) + floor);
            }
        }

        return true;
    }

    private static void Near(double wanted, double got, double tolerance)
    {
        if (!(Math.Abs(wanted - got) <= tolerance))
            Assert.Fail($"{got} instead of {wanted} (within {tolerance})");
    }

    [Fact]
    public void Circles_are_the_components_that_another_library_finds()
    {
        var random = new Random(TestSeed.Value + 10);
        for (var number = 0; number < 1000; number++)
        {
            var desk = new RandomGraph(random, 8, 8, 4, 0.3, 0.3);
            var graph = desk.Build();
            var other = new AdjacencyGraph<int, Edge<int>>();
            other.AddVertexRange(Enumerable.Range(0, desk.Nodes));
            for (var edge = 0; edge < desk.Edges.Count; edge++)
            {
                if (desk.Gains[edge] != 0)
                    other.AddEdge(new Edge<int>(desk.Edges[edge].From, desk.Edges[edge].To));
            }

            var parts = new Dictionary<int, int>();
            other.StronglyConnectedComponents(parts);
            foreach (var left in Enumerable.Range(desk.Inputs, desk.Buses))
            {
                foreach (var right in Enumerable.Range(desk.Inputs, desk.Buses))
                    Assert.Equal(parts[left] == parts[right], graph.PartOf(left) == graph.PartOf(right));
                var alone = parts.Values.Count(part => part == parts[left]) == 1;
                Assert.Equal(!alone || other.ContainsEdge(left, left), graph.OnCircle(left));
            }
        }
    }

    [Fact]
    public void Spectral_radii_are_the_largest_eigenvalues()
    {
        var random = new Random(TestSeed.Value + 11);
        for (var number = 0; number < 2000; number++)
        {
            var size = random.Next(1, 9);
            var matrix = Matrix<double>.Build.Dense(size, size, (_, _) => 0.001 + random.NextDouble());
            var wanted = matrix.Evd().EigenValues.Max(Complex.Abs);
            var (least, most) = StateWatch.Core.Routing.SpectralRadius.OfConnected(matrix.ToRowMajorArray(), size, new double[2 * size]);
            Assert.Equal(wanted, most, 1e-9 * wanted);
            Assert.Equal(wanted, least, 1e-9 * wanted);
        }
    }
}
