using System.Buffers.Binary;
using System.Text;
using StateWatch.Core.Desks;
using StateWatch.Core.Profiles;
using StateWatch.Core.Tests.Documents;
using StateWatch.Protocol.Osc;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Desks;

/// <summary>From bytes to values. Messages are put together by hand from OSC 1.0 ("OSC Messages", "Atomic Data Types").</summary>
public class DeskDecoderTests
{
    private static DeskProfile Alder => Written.Alder;

    [Fact]
    public void Values_reach_their_settings()
    {
        var (state, decoder, answers) = Create();
        decoder.Take(Message("/i/3/fader", "f", Float(0.5f)));
        decoder.Take(Message("/i/3/name", "s", Text("Kick  ")));
        decoder.Take(Message("/i/3/mix/2", "ifi", Int(1), Float(1), Int(1)));
        decoder.Take(Message("/d/2/of", "i", Int(0b1000_0101)));
        Assert.Equal(["Kick", "on", "10.0 dB", "post-fader"],
            new[] { "input/3/name", "input/3/send/mix/2/on", "input/3/send/mix/2/level", "input/3/send/mix/2/tap" }.Select(state.Get));
        Assert.Equal(["on", "off", "on", "off", "off", "off", "off", "on"], Enumerable.Range(1, 8).Select(input => state.Get($"input/{input}/dca/2")));
        Assert.Equal(4, answers.Endpoints.Count);
        Assert.Equal(new DecodeCounters(4, 0, 0, 0, 0), decoder.Counters);
    }

    [Theory]
    [InlineData("/i/1/fader", "s")] // a word where a number belongs
    [InlineData("/i/1/fader", "b")]
    [InlineData("/i/1/fader", "T")] // true is no level
    [InlineData("/i/1/fader", "N")]
    [InlineData("/i/1/name", "i")]
    [InlineData("/i/1/from", "f")]
    [InlineData("/i/1/cut", "s")]
    [InlineData("/i/1/unit/1", "i")]
    [InlineData("/d/1/of", "f")] // bits are no float
    [InlineData("/d/1/of", "s")]
    [InlineData("/d/1/of", "T")]
    public void Value_of_another_type_is_not_understood(string address, string tag)
    {
        var (state, decoder, answers) = Create();
        var endpoint = Alder.Endpoints[Alder.Addresses.Find(Encoding.ASCII.GetBytes(address))];
        byte[] data = tag switch { "s" => Text("stage"), "b" => [0, 0, 0, 4, 1, 2, 3, 4], "i" or "f" => Int(1), _ => [] };
        decoder.Take(Message(address, tag, data));
        foreach (var slot in endpoint.Slots)
            Assert.Equal((false, UnseenReason.NotUnderstood), (state.IsFresh(slot.Setting), state.ReasonUnseen(slot.Setting)));
        Assert.Equal(endpoint.Slots.Length, decoder.Counters.NotUnderstood);
        Assert.Equal([endpoint.Id], answers.Endpoints);
    }

    [Theory]
    [InlineData("/i/1/fader", float.NaN)]
    [InlineData("/i/1/fader", float.PositiveInfinity)]
    [InlineData("/i/1/fader", float.NegativeInfinity)]
    [InlineData("/i/1/delay", float.NaN)]
    [InlineData("/i/1/delay", float.PositiveInfinity)]
    public void What_is_no_number_is_not_understood(string address, float value)
    {
        var (state, decoder, _) = Create();
        decoder.Take(Message(address, "f", Float(value)));
        Assert.False(state.IsFresh(Alder.Find("input" + address[2..])));
        Assert.Equal(1, decoder.Counters.NotUnderstood);
    }

    [Theory]
    [InlineData("/i/1/from", "s9")] // a socket the desk does not have
    [InlineData("/i/1/from", "")]
    [InlineData("/i/1/from", "S1")]
    [InlineData("/i/1/unit/1", "squeeze")]
    public void Unknown_word_is_not_understood(string address, string word)
    {
        var (_, decoder, _) = Create();
        decoder.Take(Message(address, "s", Text(word)));
        Assert.Equal(1, decoder.Counters.NotUnderstood);
    }

    [Fact]
    public void Wrong_value_makes_the_one_before_stale()
    {
        var (state, decoder, _) = Create();
        decoder.Take(Message("/i/1/fader", "f", Float(0.5f)));
        Assert.True(state.IsFresh(Alder.Find("input/1/fader")));
        decoder.Take(Message("/i/1/fader", "s", Text("up")));
        Assert.False(state.IsFresh(Alder.Find("input/1/fader")));
        Assert.False(state[Alder.Find("input/1/fader")].HasValue);
    }

    [Fact]
    public void Too_few_arguments_leave_only_their_settings_unseen()
    {
        var (state, decoder, _) = Create();
        decoder.Take(Message("/i/3/mix/2", "if", Int(1), Float(1)));
        Assert.Equal([true, true, false], new[] { "on", "level", "tap" }.Select(last => state.IsFresh(Alder.Find($"input/3/send/mix/2/{last}"))));
        Assert.Equal(1, decoder.Counters.NotUnderstood);
    }

    [Fact]
    public void Question_that_comes_back_is_no_answer()
    {
        var (_, decoder, answers) = Create();
        decoder.Take(Message("/i/3/fader", ""));
        Assert.Empty(answers.Endpoints);
        Assert.Equal(new DecodeCounters(1, 0, 0, 0, 0), decoder.Counters);
    }

    [Fact]
    public void Strangers_chatter_and_rubbish_are_counted()
    {
        var decoder = new DeskDecoder(DemoShow.Profile, new DeskState(DemoShow.Profile), new AnswerList());
        decoder.Take(Message("/nowhere", "i", Int(1)));
        decoder.Take(Message("/dial/3", "f", Float(-20)));
        decoder.Take(Message("/dial/3/peak", "f", Float(-20)));
        decoder.Take([1, 2, 3]);
        decoder.Take([]);
        decoder.Take("/lane"u8);
        Assert.Equal((0, 1, 2), (decoder.Counters.Messages, decoder.Counters.Unknown, decoder.Counters.Ignored));
        Assert.True(decoder.Counters.Malformed >= 2);
    }

    [Fact]
    public void Any_bytes_are_survived()
    {
        var numbers = new SeededNumbers((ulong)TestSeed.Value);
        var (_, decoder, _) = Create();
        byte[][] good = [Message("/i/3/mix/2", "ifi", Int(1), Float(1), Int(1)), Message("/i/3/name", "s", Text("Kick")), Message("/d/2/of", "i", Int(5))];
        for (var i = 0; i < 50_000; i++)
        {
            var bytes = good[numbers.NextBelow(good.Length)].ToArray();
            for (var edits = numbers.NextBelow(4); edits > 0; edits--)
                bytes[numbers.NextBelow(bytes.Length)] = (byte)numbers.Next();
            decoder.Take(bytes.AsSpan(0, numbers.Chance(0.1) ? numbers.NextBelow(bytes.Length) : bytes.Length));
        }

        Assert.True(decoder.Counters.Messages > 10_000 && decoder.Counters.Malformed > 1000 && decoder.Counters.NotUnderstood > 500, $"seed {TestSeed.Value}: {decoder.Counters}");
    }

    [Fact]
    public void Messages_allocate_nothing()
    {
        var (_, decoder, _) = Create(new Deaf());
        byte[][] messages =
        [
            Message("/i/3/fader", "f", Float(0.5f)), Message("/i/3/cut", "i", Int(1)), Message("/i/3/name", "s", Text("Kick  ")), Message("/i/3/from", "s", Text("s3")),
            Message("/i/3/mix/2", "ifi", Int(1), Float(1), Int(1)), Message("/d/2/of", "i", Int(0x55)), Message("/nowhere", "i", Int(1)), Message("/i/3/fader", "s", Text("s3")), [1, 2, 3],
        ];
        TakeAll(decoder, messages, 100);
        var rounds = 100;
        Assert.Equal(0, Allocations.Least(() =>
        {
            TakeAll(decoder, messages, 1000);
            rounds += 1000;
        }));
        Assert.Equal(rounds * 7, decoder.Counters.Messages);
    }

    private static void TakeAll(DeskDecoder decoder, byte[][] messages, int times)
    {
        for (var i = 0; i < times; i++)
        {
            foreach (var message in messages)
                decoder.Take(message);
        }
    }

    private static (DeskState State, DeskDecoder Decoder, AnswerList Answers) Create(IAnswerListener? listener = null)
    {
        var state = new DeskState(Alder);
        var answers = new AnswerList();
        return (state, new DeskDecoder(Alder, state, listener ?? answers), answers);
    }

    private static byte[] Message(string address, string tags, params byte[][] data) => [.. Text(address), .. Text("," + tags), .. data.SelectMany(bytes => bytes)];

    private static byte[] Text(string text) => [.. Encoding.UTF8.GetBytes(text), .. new byte[4 - Encoding.UTF8.GetByteCount(text) % 4]];

    private static byte[] Int(int value)
    {
        var bytes = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(bytes, value);
        return bytes;
    }

    private static byte[] Float(float value)
    {
        var bytes = new byte[4];
        BinaryPrimitives.WriteSingleBigEndian(bytes, value);
        return bytes;
    }

    private sealed class AnswerList : IAnswerListener
    {
        public List<int> Endpoints { get; } = [];

        public void OnAnswer(int endpoint) => Endpoints.Add(endpoint);

        public void OnIdentity(in OscMessage message)
        {
        }
    }

    private sealed class Deaf : IAnswerListener
    {
        public void OnAnswer(int endpoint)
        {
        }

        public void OnIdentity(in OscMessage message)
        {
        }
    }
}
