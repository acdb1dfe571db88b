using System.Globalization;
using System.Text;
using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

/// <summary>
/// Random and damaged packets: never an exception, always what the reference decoder finds. STATEWATCH_FUZZ says how many,
/// STATEWATCH_SEED where to begin.
/// </summary>
public class OscFuzzTests(ITestOutputHelper output)
{
    [Fact]
    public void Any_bytes_give_what_the_reference_decoder_finds()
    {
        var packets = new RandomPackets(TestSeed.Value);
        var histogram = new SortedDictionary<OscError, int>();
        for (var i = 0; i < TestSeed.FuzzCount; i++)
        {
            var packet = packets.Next();
            try
            {
                Count(histogram, OscTotalityTests.Agree(packet));
                var error = OscReader.ReadMessage(packet, out var message);
                Assert.Equal(ReferenceDecoder.MessageOrNull(packet), error == OscError.None ? OscText.Of(message) : null);
                if (error == OscError.UnexpectedBundle)
                    Count(histogram, error);
            }
            catch (Exception fault)
            {
                Assert.Fail($"STATEWATCH_SEED={TestSeed.Value}, packet {i}: {Convert.ToHexString(packet)}\n{fault}");
            }
        }

        Report(histogram);
        var errors = Enum.GetValues<OscError>().Where(error => error.IsReading()).ToList();
        Assert.True(histogram[OscError.None] * 5L >= TestSeed.FuzzCount, "less than a fifth was accepted");
        Assert.Equal(errors, histogram.Keys.Where(error => error != OscError.None));
    }

    /// <summary>What was read is written again, and gives the very bytes it was read from.</summary>
    [Fact]
    public void Accepted_messages_are_written_back_to_the_same_bytes()
    {
        var packets = new RandomPackets(TestSeed.Value);
        var written = 0;
        for (var i = 0; i < TestSeed.FuzzCount / 4; i++)
        {
            var packet = packets.Next();
            if (OscReader.ReadMessage(packet, out var message) != OscError.None || !message.HasTags)
                continue;
            var buffer = new byte[packet.Length];
            Assert.Equal(OscError.None, WriteBack(buffer, message, out var length));
            Assert.Equal(packet, buffer[..length]);
            written++;
        }

        Assert.True(written * 5L > TestSeed.FuzzCount / 4, $"only {written} were written");
    }

    [Fact]
    public void Any_bytes_as_a_pattern_are_total_and_no_invalid_pattern_matches()
    {
        var random = new Random(TestSeed.Value);
        var valid = 0;
        for (var i = 0; i < TestSeed.FuzzCount / 4; i++)
        {
            var pattern = new byte[random.Next(1, 14)];
            for (var at = 0; at < pattern.Length; at++)
                pattern[at] = (byte)(random.Next(20) == 0 ? random.Next(256) : "/aab-!?*[]{},"[random.Next(13)]);
            pattern[0] = (byte)'/';
            var matches = OscPattern.Matches(pattern, "/ab/a"u8) | OscPattern.Matches(pattern, "/aab"u8);
            if (OscPattern.Validate(pattern) == OscError.None)
                valid++;
            else
                Assert.False(matches, $"STATEWATCH_SEED={TestSeed.Value}: {Convert.ToHexString(pattern)}");
        }

        Assert.True(valid > TestSeed.FuzzCount / 100, $"only {valid} were valid");
    }

    private static OscError WriteBack(byte[] buffer, OscMessage message, out int length)
    {
        var writer = new OscWriter(buffer);
        writer.StartMessage(message.Address, message.Tags);
        var arguments = message.Arguments;
        while (arguments.Read(out var argument))
        {
            switch (argument.Type)
            {
                case OscType.Int32:
                    writer.Int32(argument.Int32);
                    break;
                case OscType.Float32:
                    writer.Float32(argument.Float32);
                    break;
                case OscType.String:
                    writer.String(argument.Bytes);
                    break;
                case OscType.Symbol:
                    writer.Symbol(argument.Bytes);
                    break;
                case OscType.Blob:
                    writer.Blob(argument.Bytes);
                    break;
                case OscType.Int64:
                    writer.Int64(argument.Int64);
                    break;
                case OscType.Float64:
                    writer.Float64(argument.Float64);
                    break;
                case OscType.TimeTag:
                    writer.TimeTag(argument.TimeTag);
                    break;
                case OscType.Char:
                    writer.Char(argument.Int32);
                    break;
                case OscType.Colour:
                    writer.Colour((uint)argument.Int32);
                    break;
                case OscType.Midi:
                    writer.Midi(argument.Bytes[0], argument.Bytes[1], argument.Bytes[2], argument.Bytes[3]);
                    break;
                default:
                    break;
            }
        }

        return writer.Finish(out length);
    }

    private static void Count(SortedDictionary<OscError, int> histogram, OscError error) =>
        histogram[error] = histogram.GetValueOrDefault(error) + 1;

    private void Report(SortedDictionary<OscError, int> histogram)
    {
        var text = new StringBuilder($"OSC fuzz, seed {TestSeed.Value}, {TestSeed.FuzzCount} packets, first error of each:\n");
        foreach (var (error, count) in histogram)
            text.Append(CultureInfo.InvariantCulture, $"  {error,-22}{count,10}\n");
        output.WriteLine(text.ToString());
        Console.Out.Write(text);
    }
}
