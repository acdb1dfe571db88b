using System.Buffers.Binary;
using BenchmarkDotNet.Attributes;
using StateWatch.Protocol.Osc;

namespace StateWatch.Benchmarks;

/// <summary>
/// One message with one float32, from bytes to value. Goals: <see cref="Decode"/> at most 1.5 times and <see cref="DecodeAndFind"/> at
/// most 3 times the minimal decode; nothing allocated.
/// </summary>
[MemoryDiagnoser]
public class OscDecodeBenchmarks
{
    private byte[][] _messages = [];
    private OscAddressTable _table = new([]);

    [GlobalSetup]
    public void Setup()
    {
        var addresses = OscSamples.Addresses();
        _messages = OscSamples.Messages(addresses);
        _table = new OscAddressTable(addresses);
    }

    /// <summary>The least that finds the address, makes sure of the tag and reads the number, trusting everything else.</summary>
    [Benchmark(Baseline = true, OperationsPerInvoke = OscSamples.MessageCount)]
    public long Minimal()
    {
        var sum = 0L;
        foreach (var packet in _messages)
        {
            if (TryReadMinimal(packet, out var address, out var value))
                sum += BitConverter.SingleToInt32Bits(value) + address.Length;
        }

        return sum;
    }

    [Benchmark(OperationsPerInvoke = OscSamples.MessageCount)]
    public long Decode()
    {
        var sum = 0L;
        foreach (var packet in _messages)
        {
            if (OscReader.ReadMessage(packet, out var message) == OscError.None)
            {
                var arguments = message.Arguments;
                if (arguments.Read(out var argument))
                    sum += BitConverter.SingleToInt32Bits(argument.Float32) + message.Address.Length;
            }
        }

        return sum;
    }

    /// <summary>As a receiver does it that cannot know whether a bundle comes.</summary>
    [Benchmark(OperationsPerInvoke = OscSamples.MessageCount)]
    public long DecodePacket()
    {
        var sum = 0L;
        foreach (var packet in _messages)
        {
            var reader = new OscPacketReader(packet);
            while (reader.Read(out var message))
            {
                var arguments = message.Arguments;
                if (arguments.Read(out var argument))
                    sum += BitConverter.SingleToInt32Bits(argument.Float32) + message.Address.Length;
            }
        }

        return sum;
    }

    [Benchmark(OperationsPerInvoke = OscSamples.MessageCount)]
    public long DecodeAndFind()
    {
        var sum = 0L;
        foreach (var packet in _messages)
        {
            if (OscReader.ReadMessage(packet, out var message) == OscError.None)
            {
                var arguments = message.Arguments;
                if (arguments.Read(out var argument))
                    sum += BitConverter.SingleToInt32Bits(argument.Float32) + _table.Find(message.Address);
            }
        }

        return sum;
    }

    private static bool TryReadMinimal(ReadOnlySpan<byte> packet, out ReadOnlySpan<byte> address, out float value)
    {
        var length = packet.IndexOf((byte)0);
        address = packet[..length];
        var tags = (length & ~3) + 4;
        if (BinaryPrimitives.ReadUInt32BigEndian(packet[tags..]) != 0x2C660000)
        {
            value = 0;
            return false;
        }

        value = BinaryPrimitives.ReadSingleBigEndian(packet[(tags + 4)..]);
        return true;
    }
}
