using StateWatch.Protocol.Framing;
using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

public class OscAllocationTests
{
    private static readonly byte[][] Packets = [.. OscVectors.Packets.Select(OscVectors.Bytes), [0x2F], OscVectors.Bytes("23 62 75 6E")];

    [Fact]
    public void Reading_allocates_nothing() => AllocatesNothing(() =>
    {
        var sum = 0d;
        foreach (var packet in Packets)
        {
            var reader = new OscPacketReader(packet);
            while (reader.Read(out var message))
            {
                var arguments = message.Arguments;
                while (arguments.Read(out var argument))
                {
                    if (argument.TryGetNumber(out var number))
                        sum += number;
                    sum += argument.Bytes.Length;
                }
            }
        }

        Assert.True(sum > 0);
    });

    [Fact]
    public void Writing_allocates_nothing()
    {
        var buffer = new byte[512];
        AllocatesNothing(() =>
        {
            var writer = new OscWriter(buffer);
            writer.StartBundle(OscTimeTag.Immediately);
            writer.StartMessage("/lane/07/pour/c/height"u8, "fsb[iT]"u8);
            writer.Float32(0.75f);
            writer.String("cup"u8);
            writer.Blob([1, 2, 3]);
            writer.Int32(3);
            writer.EndBundle();
            Assert.True(writer.Finish(out _) == OscError.None);
            Assert.True(OscMessageWriter.Write(buffer, "/lane/07/pour/c/height"u8, 0.75f, out _) == OscError.None);
        });
    }

    [Fact]
    public void Lookup_allocates_nothing()
    {
        var table = new OscAddressTable(["/lane/07/pour/c/height"u8.ToArray(), "/a"u8.ToArray()]);
        AllocatesNothing(() => Assert.True(table.Find("/lane/07/pour/c/height"u8) == 0 && table.Find("/b"u8) == -1));
    }

    [Fact]
    public void Matching_allocates_nothing() => AllocatesNothing(
        () => Assert.True(OscPattern.Matches("/lane/[0-9]*/{pour,stir}/?/h*"u8, "/lane/07/pour/c/height"u8)));

    [Fact]
    public void Framing_allocates_nothing()
    {
        var packet = OscVectors.Bytes(OscVectors.Foo);
        var framed = new byte[200];
        var sized = new LengthPrefixFramer(new byte[64]);
        var slip = new SlipFramer(new byte[64]);
        AllocatesNothing(() =>
        {
            LengthPrefixFramer.Encode(packet, framed, out var length);
            ReadOnlySpan<byte> chunk = framed.AsSpan(0, length);
            Assert.True(sized.Read(ref chunk, out _));
            SlipFramer.Encode(packet, framed, out length);
            chunk = framed.AsSpan(0, length);
            Assert.True(slip.Read(ref chunk, out _));
        });
    }

    private static void AllocatesNothing(Action action)
    {
        action();
        var least = long.MaxValue;
        // A collection that another test causes retires the thread's half-used room, which then counts as allocated: the least of several tries is the action's own.
        for (var attempt = 0; attempt < 5 && least > 0; attempt++)
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            for (var i = 0; i < 100; i++)
                action();
            least = Math.Min(least, GC.GetAllocatedBytesForCurrentThread() - before);
        }

        Assert.Equal(0, least);
    }
}
