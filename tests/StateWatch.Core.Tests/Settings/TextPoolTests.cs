using System.Globalization;
using StateWatch.Core.Profiles.Codecs;
using StateWatch.Core.Settings;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Tests.Settings;

public class TextPoolTests
{
    [Fact]
    public void Words_that_a_desk_invents_do_not_fill_the_pool()
    {
        var pool = new TextPool();
        var codec = new WordCodec("plug", ValueKind.Point, WireKind.String, pool);
        Assert.Null(codec.TryAdd("stage 1", "st01"));
        var before = pool.Count;
        Span<byte> buffer = stackalloc byte[64];
        for (var i = 0; i < 1000; i++)
        {
            var writer = new OscWriter(buffer);
            writer.StartMessage("/lane/01/drawn"u8, "s"u8);
            writer.String(System.Text.Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"x{i}")));
            Assert.Equal(OscError.None, writer.Finish(out var length));
            Assert.Equal(OscError.None, OscReader.ReadMessage(buffer[..length], out var message));
            var arguments = message.Arguments;
            Assert.True(arguments.Read(out var argument));
            Assert.False(codec.TryDecode(argument, out _));
        }

        Assert.Equal(before, pool.Count);
    }

    [Fact]
    public void A_full_pool_gives_no_number_and_keeps_what_it_has()
    {
        var pool = new TextPool();
        for (var i = 0; pool.Count < TextPool.Capacity; i++)
            Assert.True(pool.Intern(i.ToString(CultureInfo.InvariantCulture)) > 0);
        Assert.Equal(-1, pool.Intern("one more"));
        Assert.Equal("0", pool[pool.Intern("0")]);
    }
}
