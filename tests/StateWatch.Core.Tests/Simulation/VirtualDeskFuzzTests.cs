using StateWatch.Protocol.Osc;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>Valid messages with none to four mutations: whatever arrives, the desk goes on, and what it says is OSC.</summary>
public class VirtualDeskFuzzTests(ITestOutputHelper output)
{
    private const int Count = 20_000;

    private static readonly string[] Patterns = ["/berth/*/live", "/berth/0?/lever", "/{hum,who}", "/gang/[1-2]", "/*", "/*/*/toward/[!b]"];

    [Fact]
    public void Mutated_messages_never_stop_the_desk()
    {
        var seed = (ulong)TestSeed.Value;
        output.WriteLine($"seed {seed}");
        var numbers = new SeededNumbers(seed);
        var desk = SmallDesk.Create();
        var twin = SmallDesk.Create();
        var answers = new OscAnswers();
        var buffer = new byte[2048];
        for (var i = 0; i < Count; i++)
        {
            var (revision, sets) = (desk.Revision, desk.Counters.Sets);
            var length = Compose(twin, numbers, buffer);
            Mutate(buffer, ref length, numbers);
            desk.Handle(buffer.AsSpan(0, length), answers);
            Assert.True(desk.Revision == revision || desk.Counters.Sets > sets, $"seed {seed}, input {i}: a value changed without a set.");
        }

        output.WriteLine($"{desk.Counters}");
        Assert.Equal(desk.Counters.Answered, answers.Good);
        Assert.True(desk.Counters.Answered + desk.Counters.Sets > Count / 5, "Too few inputs were accepted to mean anything.");
        Assert.True(desk.Counters is { Sets: > 0, Unknown: > 0, Malformed: > 0 });
        foreach (var setting in desk.Profile.Settings)
            Assert.Equal(setting.Codec.Kind, desk[setting.Id].Kind);
    }

    [Fact]
    public void Every_prefix_of_a_message_that_sets_is_survived()
    {
        var desk = SmallDesk.Create();
        var message = Convert.FromHexString("2F62657274682F30322F746F776172642F620000" + "2C66696969000000" + "3F000000" + "00000000" + "00000001" + "00000001");
        for (var length = 0; length < message.Length; length++)
            desk.Handle(message.AsSpan(0, length), new OscAnswers());
        Assert.Equal(0, desk.Counters.Sets);
        desk.Handle(message, new OscAnswers());
        Assert.Equal((1L, "-20.0 dB"), (desk.Counters.Sets, desk.Get("input/2/send/mix/2/level")));
    }

    /// <summary>Writes a question, what an address would answer (which sets it), a pattern, or a bundle of questions.</summary>
    private static int Compose(VirtualDesk desk, SeededNumbers numbers, byte[] buffer)
    {
        var endpoint = desk.Profile.Endpoints[numbers.NextBelow(desk.Profile.Endpoints.Count)];
        var writer = new OscWriter(buffer);
        switch (numbers.NextBelow(4))
        {
            case 0:
                endpoint.Question.CopyTo(buffer, 0);
                return endpoint.Question.Length;
            case 1:
                var own = new Copy(buffer);
                desk.Handle(endpoint.Question, own);
                return own.Length;
            case 2:
                writer.StartMessage(System.Text.Encoding.ASCII.GetBytes(Patterns[numbers.NextBelow(Patterns.Length)]), []);
                break;
            default:
                writer.StartBundle(OscTimeTag.Immediately);
                for (var i = numbers.NextBelow(4); i >= 0; i--)
                    writer.StartMessage(desk.Profile.Endpoints[numbers.NextBelow(desk.Profile.Endpoints.Count)].Address, []);
                writer.EndBundle();
                break;
        }

        Assert.Equal(OscError.None, writer.Finish(out var length));
        return length;
    }

    private static void Mutate(byte[] buffer, ref int length, SeededNumbers numbers)
    {
        for (var mutations = numbers.Chance(0.5) ? numbers.NextBelow(4) + 1 : 0; mutations > 0 && length > 0; mutations--)
        {
            var place = numbers.NextBelow(length);
            switch (numbers.NextBelow(6))
            {
                case 0:
                    buffer[place] ^= (byte)(1 << numbers.NextBelow(8));
                    break;
                case 1:
                    buffer[place] = (byte)numbers.NextBelow(256);
                    break;
                case 2:
                    length = place;
                    break;
                case 3:
                    buffer.AsSpan(length, 4).Fill((byte)numbers.NextBelow(256));
                    length += 4;
                    break;
                case 4:
                    buffer.AsSpan(place, length - place).CopyTo(buffer.AsSpan(place + 4));
                    length += 4;
                    break;
                default:
                    buffer[place] = "*?[]{},/#!-\0ifsbTF"u8[numbers.NextBelow(18)];
                    break;
            }
        }
    }

    /// <summary>Counts answers that are one good message each.</summary>
    private sealed class OscAnswers : IReplySink
    {
        public long Good { get; private set; }

        public void Reply(ReadOnlySpan<byte> answer)
        {
            var reader = new OscPacketReader(answer);
            if (reader.Read(out _) && !reader.Read(out _) && reader.Error == OscError.None)
                Good++;
        }
    }

    private sealed class Copy(byte[] buffer) : IReplySink
    {
        public int Length { get; private set; }

        public void Reply(ReadOnlySpan<byte> answer)
        {
            answer.CopyTo(buffer);
            Length = answer.Length;
        }
    }
}
