using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

public class OscWriterTests
{
    private delegate void Script(ref OscWriter writer);

    private static readonly (string Hex, Script Script)[] Scripts =
    [
        (OscVectors.Oscillator, static (ref OscWriter w) => Message(ref w, "/oscillator/4/frequency"u8, "f"u8).Float32(440)),
        (OscVectors.Foo, static (ref OscWriter w) =>
        {
            w.StartMessage("/foo"u8, "iisff"u8);
            w.Int32(1000);
            w.Int32(-1);
            w.String("hello"u8);
            w.Float32(1.234f);
            w.Float32(5.678f);
        }),
        (OscVectors.NoArguments, static (ref OscWriter w) => w.StartMessage("/a"u8, ""u8)),
        (OscVectors.WithoutData, static (ref OscWriter w) => w.StartMessage("/b"u8, "TFNI"u8)),
        (OscVectors.Wide, static (ref OscWriter w) =>
        {
            w.StartMessage("/x"u8, "hd"u8);
            w.Int64(4294967296);
            w.Float64(0.5);
        }),
        (OscVectors.SymbolAndChar, static (ref OscWriter w) =>
        {
            w.StartMessage("/c"u8, "Sc"u8);
            w.Symbol("sym"u8);
            w.Char((byte)'A');
        }),
        (OscVectors.Midi, static (ref OscWriter w) => Message(ref w, "/m"u8, "m"u8).Midi(0, 0x90, 0x3C, 0x40)),
        (OscVectors.EmptyString, static (ref OscWriter w) => Message(ref w, "/t"u8, "s"u8).String(""u8)),
        (OscVectors.OneInt, static (ref OscWriter w) => OneInt(ref w)),
        (OscVectors.OneFloat, static (ref OscWriter w) => Message(ref w, "/b"u8, "f"u8).Float32(0.5f)),
        (OscVectors.Blob, static (ref OscWriter w) => Message(ref w, "/d"u8, "b"u8).Blob([1, 2, 3, 4, 5])),
        (OscVectors.Colour, static (ref OscWriter w) => Message(ref w, "/r"u8, "r"u8).Colour(0xFA6432FF)),
        (OscVectors.TimeTag, static (ref OscWriter w) =>
            Message(ref w, "/a"u8, "t"u8).TimeTag(OscTimeTag.FromUnixSeconds(946684800, 0x80000000))),
        (OscVectors.Arrays, static (ref OscWriter w) =>
        {
            w.StartMessage("/a"u8, "i[f[]T]"u8);
            w.Int32(7);
            w.Float32(0.5f);
        }),
        (OscVectors.EmptyBundle, static (ref OscWriter w) =>
        {
            w.StartBundle(OscTimeTag.Immediately);
            w.EndBundle();
        }),
        (OscVectors.TwoMessages, static (ref OscWriter w) =>
        {
            w.StartBundle(OscTimeTag.Immediately);
            OneInt(ref w);
            Message(ref w, "/b"u8, "f"u8).Float32(0.5f);
            w.EndBundle();
        }),
        (OscVectors.Nested, static (ref OscWriter w) =>
        {
            w.StartBundle(OscTimeTag.Immediately);
            w.StartBundle(OscTimeTag.Immediately);
            OneInt(ref w);
            w.EndBundle();
            w.EndBundle();
        }),
    ];

    private static readonly (OscError Error, Script Script)[] Faults =
    [
        (OscError.NothingWritten, static (ref OscWriter w) => { }),
        (OscError.AddressNotAbsolute, static (ref OscWriter w) => w.StartMessage(""u8, ""u8)),
        (OscError.AddressNotAbsolute, static (ref OscWriter w) => w.StartMessage("a"u8, ""u8)),
        (OscError.NullInString, static (ref OscWriter w) => w.StartMessage("/a\0b"u8, ""u8)),
        (OscError.NullInString, static (ref OscWriter w) => Message(ref w, "/a"u8, "s"u8).String("b\0"u8)),
        (OscError.UnknownTag, static (ref OscWriter w) => w.StartMessage("/a"u8, "iq"u8)),
        (OscError.UnbalancedArray, static (ref OscWriter w) => w.StartMessage("/a"u8, "[i"u8)),
        (OscError.UnbalancedArray, static (ref OscWriter w) => w.StartMessage("/a"u8, "]["u8)),
        (OscError.ArgumentNotAsTagged, static (ref OscWriter w) => Message(ref w, "/a"u8, "f"u8).Int32(1)),
        (OscError.TooManyArguments, static (ref OscWriter w) => Message(ref w, "/a"u8, "T"u8).Int32(1)),
        (OscError.MissingArguments, static (ref OscWriter w) => w.StartMessage("/a"u8, "Ti"u8)),
        (OscError.NoMessage, static (ref OscWriter w) => w.Int32(1)),
        (OscError.PacketComplete, static (ref OscWriter w) =>
        {
            OneInt(ref w);
            OneInt(ref w);
        }),
        (OscError.PacketComplete, static (ref OscWriter w) =>
        {
            w.StartBundle(OscTimeTag.Immediately);
            w.EndBundle();
            w.StartBundle(OscTimeTag.Immediately);
        }),
        (OscError.NoBundle, static (ref OscWriter w) => w.EndBundle()),
        (OscError.BundleNotEnded, static (ref OscWriter w) => w.StartBundle(OscTimeTag.Immediately)),
        (OscError.NestedTimeTagEarlier, static (ref OscWriter w) =>
        {
            w.StartBundle(OscTimeTag.FromUnixSeconds(1));
            w.StartBundle(OscTimeTag.FromUnixSeconds(0));
        }),
        (OscError.TooDeep, static (ref OscWriter w) =>
        {
            for (var i = 0; i < 33; i++)
                w.StartBundle(OscTimeTag.Immediately);
        }),
        (OscError.BufferTooSmall, static (ref OscWriter w) => Message(ref w, "/a"u8, "b"u8).Blob(new byte[5000])),
        (OscError.BufferTooSmall, static (ref OscWriter w) => Message(ref w, "/a"u8, "s"u8).String("b"u8.ToArray())),
    ];

    [Fact]
    public void Writer_gives_exactly_the_published_bytes()
    {
        foreach (var (hex, script) in Scripts)
        {
            var expected = OscVectors.Bytes(hex);
            var buffer = new byte[expected.Length];
            buffer.AsSpan().Fill(0xEE);
            Assert.Equal(OscError.None, Run(buffer, script, out var length));
            Assert.Equal(expected, buffer[..length]);
        }
    }

    [Fact]
    public void Every_vector_that_can_be_written_is_covered() =>
        Assert.Equal(
            OscVectors.Packets.Except([OscVectors.WithoutTags, OscVectors.WithoutTagsButData]).Order(),
            Scripts.Select(row => row.Hex).Order());

    [Fact]
    public void Every_smaller_buffer_is_too_small_and_nothing_throws()
    {
        foreach (var (hex, script) in Scripts)
        {
            var needed = OscVectors.Bytes(hex).Length;
            for (var size = 0; size < needed; size++)
            {
                Assert.Equal(OscError.BufferTooSmall, Run(new byte[size], script, out var length));
                Assert.Equal(0, length);
            }
        }
    }

    [Fact]
    public void Every_fault_is_named()
    {
        foreach (var (error, script) in Faults[..^1])
        {
            Assert.Equal(error, Run(new byte[4096], script, out var length));
            Assert.Equal(0, length);
        }

        Assert.Equal(OscError.BufferTooSmall, Run(new byte[8], Faults[^1].Script, out _));
    }

    [Fact]
    public void Every_writing_error_has_a_fault()
    {
        var named = Faults.Select(row => row.Error).ToHashSet();
        Assert.Empty(Enum.GetValues<OscError>().Where(e => (byte)e is >= 64 and < 128).Except(named));
    }

    [Fact]
    public void First_fault_is_kept()
    {
        var writer = new OscWriter(new byte[64]);
        writer.StartMessage("a"u8, "f"u8);
        writer.Int32(1);
        writer.EndBundle();
        Assert.Equal(OscError.AddressNotAbsolute, writer.Finish(out _));
    }

    [Fact]
    public void Default_writer_has_no_room() => Assert.Equal(OscError.BufferTooSmall, Run([], Scripts[0].Script, out _));

    [Fact]
    public void Quick_writer_gives_the_same_published_bytes()
    {
        var buffer = new byte[32];
        buffer.AsSpan().Fill(0xEE);
        Assert.Equal(OscError.None, OscMessageWriter.Write(buffer, "/oscillator/4/frequency"u8, 440f, out var length));
        Assert.Equal(OscVectors.Bytes(OscVectors.Oscillator), buffer[..length]);
        buffer.AsSpan().Fill(0xEE);
        Assert.Equal(OscError.None, OscMessageWriter.Write(buffer, "/a"u8, 1, out length));
        Assert.Equal(OscVectors.Bytes(OscVectors.OneInt), buffer[..length]);
        buffer.AsSpan().Fill(0xEE);
        Assert.Equal(OscError.None, OscMessageWriter.Write(buffer, "/a"u8, out length));
        Assert.Equal(OscVectors.Bytes(OscVectors.NoArguments), buffer[..length]);
    }

    [Fact]
    public void Quick_writer_agrees_with_the_writer_for_every_address_length_and_buffer_size()
    {
        for (var letters = 0; letters < 70; letters++)
        {
            var address = System.Text.Encoding.ASCII.GetBytes("/" + new string('x', letters));
            var full = new byte[96];
            var writer = new OscWriter(full);
            writer.StartMessage(address, "f"u8);
            writer.Float32(-10f);
            Assert.Equal(OscError.None, writer.Finish(out var needed));
            for (var size = 0; size < full.Length; size++)
            {
                var buffer = new byte[size];
                buffer.AsSpan().Fill(0xEE);
                var expected = size < needed ? OscError.BufferTooSmall : OscError.None;
                Assert.Equal(expected, OscMessageWriter.Write(buffer, address, -10f, out var length));
                if (size >= needed)
                    Assert.Equal(full[..needed], buffer[..length]);
            }
        }
    }

    [Fact]
    public void Quick_writer_finds_a_null_anywhere_in_an_address_of_any_length()
    {
        for (var letters = 1; letters < 70; letters++)
        {
            for (var at = 1; at <= letters; at++)
            {
                var address = System.Text.Encoding.ASCII.GetBytes("/" + new string('x', letters));
                address[at] = 0;
                Assert.Equal(OscError.NullInString, OscMessageWriter.Write(new byte[99], address, 1f, out _));
                Assert.Equal(OscError.NullInString, OscMessageWriter.Write(new byte[99], address, out _));
            }
        }
    }

    [Theory]
    [InlineData("", OscError.AddressNotAbsolute)]
    [InlineData("a", OscError.AddressNotAbsolute)]
    [InlineData("/a\0", OscError.NullInString)]
    [InlineData("/aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa\0a", OscError.NullInString)]
    public void Quick_writer_names_faults(string address, OscError expected)
    {
        var bytes = System.Text.Encoding.ASCII.GetBytes(address);
        Assert.Equal(expected, OscMessageWriter.Write(new byte[99], bytes, out var length));
        Assert.Equal(0, length);
        Assert.Equal(expected, OscMessageWriter.Write(new byte[99], bytes, 1f, out _));
        Assert.Equal(expected, OscMessageWriter.Write(new byte[99], bytes, 1, out _));
    }

    private static OscError Run(Span<byte> buffer, Script script, out int length)
    {
        var writer = new OscWriter(buffer);
        script(ref writer);
        return writer.Finish(out length);
    }

    private static void OneInt(ref OscWriter writer) => Message(ref writer, "/a"u8, "i"u8).Int32(1);

    private static ref OscWriter Message(ref OscWriter writer, ReadOnlySpan<byte> address, ReadOnlySpan<byte> tags)
    {
        writer.StartMessage(address, tags);
        return ref writer;
    }
}
