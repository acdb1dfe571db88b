using StateWatch.Protocol.Osc;

namespace StateWatch.Protocol.Tests.Osc;

public class OscMessageTests
{
    [Fact]
    public void Oscillator_example_of_the_specification_is_read()
    {
        Read(OscVectors.Oscillator, out var message);
        Assert.Equal("/oscillator/4/frequency"u8, message.Address);
        Assert.Equal("f"u8, message.Tags);
        var arguments = message.Arguments;
        Assert.True(arguments.Read(out var value));
        Assert.Equal(OscType.Float32, value.Type);
        Assert.Equal(440f, value.Float32);
        Assert.False(arguments.Read(out _));
    }

    [Fact]
    public void Foo_example_of_the_specification_is_read()
    {
        Read(OscVectors.Foo, out var message);
        Assert.Equal("/foo"u8, message.Address);
        Assert.Equal("iisff"u8, message.Tags);
        var arguments = message.Arguments;
        Assert.Equal(1000, Next(ref arguments).Int32);
        Assert.Equal(-1, Next(ref arguments).Int32);
        Assert.Equal("hello"u8, Next(ref arguments).Bytes);
        Assert.Equal(1.234f, Next(ref arguments).Float32);
        Assert.Equal(5.678f, Next(ref arguments).Float32);
        Assert.False(arguments.Read(out _));
    }

    [Fact]
    public void Message_without_arguments_has_tags_and_no_arguments()
    {
        Read(OscVectors.NoArguments, out var message);
        Assert.True(message.HasTags);
        Assert.True(message.Tags.IsEmpty);
        Assert.True(message.Data.IsEmpty);
        Assert.False(message.Arguments.Read(out _));
    }

    [Fact]
    public void Tags_without_data_are_read()
    {
        Read(OscVectors.WithoutData, out var message);
        var arguments = message.Arguments;
        Assert.Equal(OscType.True, Next(ref arguments).Type);
        Assert.Equal(OscType.False, Next(ref arguments).Type);
        Assert.Equal(OscType.Nil, Next(ref arguments).Type);
        Assert.Equal(OscType.Impulse, Next(ref arguments).Type);
        Assert.False(arguments.Read(out _));
    }

    [Fact]
    public void Wide_numbers_are_read()
    {
        Read(OscVectors.Wide, out var message);
        var arguments = message.Arguments;
        Assert.Equal(4294967296, Next(ref arguments).Int64);
        Assert.Equal(0.5, Next(ref arguments).Float64);
    }

    [Fact]
    public void Symbol_and_char_are_read()
    {
        Read(OscVectors.SymbolAndChar, out var message);
        var arguments = message.Arguments;
        var symbol = Next(ref arguments);
        Assert.Equal(OscType.Symbol, symbol.Type);
        Assert.Equal("sym"u8, symbol.Bytes);
        var character = Next(ref arguments);
        Assert.Equal(OscType.Char, character.Type);
        Assert.Equal('A', character.Int32);
    }

    [Fact]
    public void Midi_colour_and_blob_are_read()
    {
        Read(OscVectors.Midi, out var message);
        var arguments = message.Arguments;
        Assert.Equal((byte[])[0x00, 0x90, 0x3C, 0x40], Next(ref arguments).Bytes.ToArray());
        Read(OscVectors.Colour, out message);
        arguments = message.Arguments;
        var colour = Next(ref arguments);
        Assert.Equal((byte[])[0xFA, 0x64, 0x32, 0xFF], colour.Bytes.ToArray());
        Assert.Equal(unchecked((int)0xFA6432FF), colour.Int32);
        Read(OscVectors.Blob, out message);
        arguments = message.Arguments;
        Assert.Equal((byte[])[1, 2, 3, 4, 5], Next(ref arguments).Bytes.ToArray());
    }

    [Fact]
    public void Empty_string_is_read()
    {
        Read(OscVectors.EmptyString, out var message);
        var arguments = message.Arguments;
        var text = Next(ref arguments);
        Assert.Equal(OscType.String, text.Type);
        Assert.True(text.Bytes.IsEmpty);
    }

    [Fact]
    public void Time_tag_argument_is_read()
    {
        Read(OscVectors.TimeTag, out var message);
        var arguments = message.Arguments;
        Assert.Equal(new DateTimeOffset(2000, 1, 1, 0, 0, 0, 500, TimeSpan.Zero), Next(ref arguments).TimeTag.ToDateTimeOffset());
    }

    [Fact]
    public void Array_marks_come_as_arguments()
    {
        Read(OscVectors.Arrays, out var message);
        var types = new List<OscType>();
        var arguments = message.Arguments;
        while (arguments.Read(out var argument))
            types.Add(argument.Type);
        Assert.Equal(
            [
                OscType.Int32, OscType.ArrayBegin, OscType.Float32, OscType.ArrayBegin, OscType.ArrayEnd, OscType.True, OscType.ArrayEnd,
            ],
            types);
    }

    [Theory]
    [InlineData(OscVectors.WithoutTags, 0)]
    [InlineData(OscVectors.WithoutTagsButData, 4)]
    public void Message_of_an_old_sender_without_tags_is_taken_and_its_data_left_undecoded(string hex, int dataLength)
    {
        Read(hex, out var message);
        Assert.Equal("/a"u8, message.Address);
        Assert.False(message.HasTags);
        Assert.False(message.Arguments.Read(out _));
        Assert.Equal(dataLength, message.Data.Length);
    }

    /// <summary>Patterns of IEEE 754 single precision, computed independently.</summary>
    [Theory]
    [InlineData("3D CC CC CD", 0.1f)]
    [InlineData("3F 40 00 00", 0.75f)]
    [InlineData("C1 20 00 00", -10f)]
    [InlineData("FF 80 00 00", float.NegativeInfinity)]
    [InlineData("7F C0 00 00", float.NaN)]
    public void Float_patterns_are_read(string bits, float expected)
    {
        Read("2F 62 00 00 2C 66 00 00 " + bits, out var message);
        var arguments = message.Arguments;
        var value = Next(ref arguments);
        Assert.Equal(expected, value.Float32);
        Assert.True(value.TryGetNumber(out var number));
        Assert.Equal(expected, number);
    }

    [Fact]
    public void Only_numbers_and_truth_values_are_numbers()
    {
        var numbers = new List<double?>();
        var all = "2F 61 00 00 2C 69 66 68 64 54 46 4E 49 73 00 00 00 00 00 02 3F 00 00 00 00 00 00 00 00 00 00 03 "
            + "3F D0 00 00 00 00 00 00 31 00 00 00";
        Read(all, out var message);
        var arguments = message.Arguments;
        while (arguments.Read(out var argument))
            numbers.Add(argument.TryGetNumber(out var number) ? number : null);
        Assert.Equal([2, 0.5, 3, 0.25, 1, 0, null, null, null], numbers);
    }

    [Fact]
    public void Property_of_another_type_is_zero_or_empty()
    {
        Read(OscVectors.OneFloat, out var message);
        var arguments = message.Arguments;
        var value = Next(ref arguments);
        Assert.Equal(0, value.Int32);
        Assert.Equal(0, value.Int64);
        Assert.Equal(0, value.Float64);
        Assert.Equal(default, value.TimeTag);
        Assert.True(value.Bytes.IsEmpty);
    }

    private static void Read(string hex, out OscMessage message) =>
        Assert.Equal(OscError.None, OscReader.ReadMessage(OscVectors.Bytes(hex), out message));

    private static OscArgument Next(ref OscArgumentReader arguments)
    {
        Assert.True(arguments.Read(out var argument));
        return argument;
    }
}
