using System.Buffers.Binary;
using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Configs;
using StateWatch.Protocol.Osc;

namespace StateWatch.Benchmarks;

/// <summary>
/// A question (no arguments) and a set (one float32), from address to bytes. Goals: <see cref="Question"/> and <see cref="Set"/> at most
/// 1.5 times copying a prepared prefix; nothing allocated.
/// </summary>
[MemoryDiagnoser]
[CategoriesColumn]
[GroupBenchmarksBy(BenchmarkLogicalGroupRule.ByCategory)]
public class OscEncodeBenchmarks
{
    private readonly byte[] _buffer = new byte[64];
    private byte[][] _addresses = [];
    private byte[][] _questions = [];
    private byte[][] _prefixes = [];

    [GlobalSetup]
    public void Setup()
    {
        var messages = OscSamples.Messages(OscSamples.Addresses());
        _addresses = [.. messages.Select(message => message[..Array.IndexOf(message, (byte)0)])];
        _prefixes = [.. messages.Select(message => message[..^4])];
        _questions = [.. messages.Select(message => (byte[])[.. message[..^8], (byte)',', 0, 0, 0])];
    }

    [BenchmarkCategory("set")]
    [Benchmark(Baseline = true, OperationsPerInvoke = OscSamples.MessageCount)]
    public int PreparedSet()
    {
        var sum = 0;
        foreach (var prefix in _prefixes)
        {
            prefix.CopyTo(_buffer.AsSpan());
            BinaryPrimitives.WriteSingleBigEndian(_buffer.AsSpan(prefix.Length), 0.75f);
            sum += prefix.Length + sizeof(float);
        }

        return sum;
    }

    [BenchmarkCategory("set")]
    [Benchmark(OperationsPerInvoke = OscSamples.MessageCount)]
    public int Set()
    {
        var sum = 0;
        foreach (var address in _addresses)
        {
            OscMessageWriter.Write(_buffer, address, 0.75f, out var length);
            sum += length;
        }

        return sum;
    }

    [BenchmarkCategory("question")]
    [Benchmark(Baseline = true, OperationsPerInvoke = OscSamples.MessageCount)]
    public int PreparedQuestion()
    {
        var sum = 0;
        foreach (var question in _questions)
        {
            question.CopyTo(_buffer.AsSpan());
            sum += question.Length;
        }

        return sum;
    }

    [BenchmarkCategory("question")]
    [Benchmark(OperationsPerInvoke = OscSamples.MessageCount)]
    public int Question()
    {
        var sum = 0;
        foreach (var address in _addresses)
        {
            OscMessageWriter.Write(_buffer, address, out var length);
            sum += length;
        }

        return sum;
    }

    /// <summary>The general writer, for comparison.</summary>
    [BenchmarkCategory("set")]
    [Benchmark(OperationsPerInvoke = OscSamples.MessageCount)]
    public int SetThroughWriter()
    {
        var sum = 0;
        foreach (var address in _addresses)
        {
            var writer = new OscWriter(_buffer);
            writer.StartMessage(address, "f"u8);
            writer.Float32(0.75f);
            writer.Finish(out var length);
            sum += length;
        }

        return sum;
    }
}
