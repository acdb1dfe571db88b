using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

/// <summary>OSC 1.0 says little about malformed data; each row is our decision, named by its error.</summary>
public class OscMalformedTests
{
    public static readonly TheoryData<string, OscError> Messages = new()
    {
        { "", OscError.Empty },
        { "2F", OscError.NotMultipleOfFour },
        { "2F 61 00", OscError.NotMultipleOfFour },
        { "2F 61 00 00 2C 69 00 00 00 00 01", OscError.NotMultipleOfFour },
        { "61 62 63 00", OscError.NotMessageOrBundle },
        { "00 00 00 00", OscError.NotMessageOrBundle },
        { OscVectors.EmptyBundle, OscError.UnexpectedBundle },
        { "2F 61 62 63", OscError.UnterminatedAddress },
        { "2F 61 00 01 2C 00 00 00", OscError.BadPadding },
        { "2F 61 00 00 2C 69 00 01 00 00 00 01", OscError.BadPadding },
        { "2F 61 00 00 2C 73 00 00 62 00 00 01", OscError.BadPadding },
        { "2F 61 00 00 2C 62 00 00 00 00 00 01 07 00 01 00", OscError.BadPadding },
        { "2F 61 00 00 2C 69 69 69", OscError.UnterminatedTags },
        { "2F 61 00 00 2C 71 00 00 00 00 00 00", OscError.UnknownTag },
        { "2F 61 00 00 2C 69 2C 00 00 00 00 00", OscError.UnknownTag },
        { "2F 61 00 00 2C 69 00 00", OscError.ArgumentPastEnd },
        { "2F 61 00 00 2C 69 69 00 00 00 00 01", OscError.ArgumentPastEnd },
        { "2F 61 00 00 2C 68 00 00 00 00 00 01", OscError.ArgumentPastEnd },
        { "2F 61 00 00 2C 73 00 00", OscError.ArgumentPastEnd },
        { "2F 61 00 00 2C 62 00 00", OscError.ArgumentPastEnd },
        { "2F 61 00 00 2C 73 00 00 62 62 62 62", OscError.UnterminatedString },
        { "2F 61 00 00 2C 53 00 00 62 62 62 62", OscError.UnterminatedString },
        { "2F 61 00 00 2C 62 00 00 FF FF FF FF", OscError.BlobSize },
        { "2F 61 00 00 2C 62 00 00 80 00 00 00", OscError.BlobSize },
        { "2F 61 00 00 2C 62 00 00 7F FF FF FF", OscError.BlobSize },
        { "2F 61 00 00 2C 62 00 00 00 00 00 05 01 02 03 04", OscError.BlobSize },
        { "2F 61 00 00 2C 5B 00 00", OscError.UnbalancedArray },
        { "2F 61 00 00 2C 5D 00 00", OscError.UnbalancedArray },
        { "2F 61 00 00 2C 5D 5B 00", OscError.UnbalancedArray },
        { "2F 61 00 00 2C 00 00 00 00 00 00 00", OscError.TrailingBytes },
        { "2F 61 00 00 2C 69 00 00 00 00 00 01 00 00 00 00", OscError.TrailingBytes },
    };

    public static readonly TheoryData<string, OscError> Packets = new()
    {
        { "23 62 75 6E", OscError.BundleHeader },
        { "23 62 75 6E 64 6C 65 01 00 00 00 00 00 00 00 01", OscError.BundleHeader },
        { "23 62 75 6E 64 6C 65 00", OscError.BundleTimeTagMissing },
        { "23 62 75 6E 64 6C 65 00 00 00 00 00", OscError.BundleTimeTagMissing },
        { OscVectors.EmptyBundle + " 00", OscError.NotMultipleOfFour },
        { OscVectors.EmptyBundle + " 00 00 00 00", OscError.ElementSize },
        { OscVectors.EmptyBundle + " 00 00 00 04", OscError.ElementSize },
        { OscVectors.EmptyBundle + " FF FF FF FC 2F 61 00 00", OscError.ElementSize },
        { OscVectors.EmptyBundle + " 80 00 00 00 2F 61 00 00", OscError.ElementSize },
        { OscVectors.EmptyBundle + " 7F FF FF FC 2F 61 00 00", OscError.ElementSize },
        { OscVectors.EmptyBundle + " 00 00 00 02 2F 61 00 00", OscError.ElementSize },
        { OscVectors.EmptyBundle + " 00 00 00 08 2F 61 00 00", OscError.ElementSize },
        {
            "23 62 75 6E 64 6C 65 00 00 00 00 00 00 00 00 02 00 00 00 10 " + OscVectors.EmptyBundle,
            OscError.NestedTimeTagEarlier
        },
    };

    [Theory]
    [MemberData(nameof(Messages))]
    public void Malformed_message_is_named(string hex, OscError expected)
    {
        Assert.Equal(expected, OscReader.ReadMessage(OscVectors.Bytes(hex), out var message));
        Assert.True(message.Address.IsEmpty);
        Assert.False(message.Arguments.Read(out _));
    }

    [Theory]
    [MemberData(nameof(Packets))]
    public void Malformed_packet_is_named_and_counted(string hex, OscError expected)
    {
        Assert.Empty(OscText.OfPacket(OscVectors.Bytes(hex), out var error, out var rejected));
        Assert.Equal(expected, error);
        Assert.Equal(1, rejected);
    }

    [Fact]
    public void Malformed_message_on_its_own_is_named_by_the_packet_reader_too()
    {
        foreach (var (hex, expected) in Messages.Select(row => row.Data).Where(row => row.Item2 != OscError.UnexpectedBundle))
        {
            Assert.Empty(OscText.OfPacket(OscVectors.Bytes(hex), out var error, out var rejected));
            Assert.Equal(expected, error);
            Assert.Equal(1, rejected);
        }
    }

    [Fact]
    public void Every_reading_error_has_a_row()
    {
        var rows = Messages.Concat(Packets).Select(row => row.Data.Item2).ToHashSet();
        rows.Add(OscError.TooDeep); // Has a test of its own among the bundles.
        Assert.Equal(Enum.GetValues<OscError>().Where(error => error.IsReading()), rows.Order());
    }

    [Fact]
    public void Every_error_is_described_by_a_sentence_of_its_own()
    {
        var sentences = Enum.GetValues<OscError>().Select(error => error.Describe()).ToList();
        Assert.Equal(sentences.Count, sentences.Distinct().Count());
        Assert.All(sentences, sentence => Assert.EndsWith(".", sentence, StringComparison.Ordinal));
        Assert.DoesNotContain(((OscError)255).Describe(), sentences);
    }
}
