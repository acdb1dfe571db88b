using System.Text;
using CsCheck;
using StateWatch.Core.Links;
using StateWatch.Recordings;

namespace StateWatch.Tests.Recordings;

/// <summary>A recording may be cut off anywhere, damaged, or made by somebody who means harm.</summary>
public sealed class HostileRecordingTests
{
    private static readonly Lazy<byte[]> Whole = new(static () =>
    {
        using var day = new RecordedDay(3);
        day.Run(4);
        return day.Bytes();
    });

    [Fact]
    public void Recording_that_was_cut_off_at_any_byte_is_read_to_its_last_whole_entry()
    {
        var all = Count(Whole.Value);
        Assert.Equal((RecordingEnd.Whole, true), (all.End, all.Batches > 100));
        var last = 0L;
        for (var length = 0; length < Whole.Value.Length; length += 1 + Whole.Value.Length / 300)
        {
            var cut = Count(Whole.Value[..length]);
            Assert.True(cut.HasHeader ? cut.End is RecordingEnd.Cut or RecordingEnd.Whole : cut.End == RecordingEnd.Broken, $"{length}: {cut}");
            Assert.InRange(cut.Batches, last, all.Batches);
            last = cut.Batches;
        }

        Assert.True(last > all.Batches / 2, "nothing was read of what was cut off late");
    }

    [Fact]
    public void Replay_of_what_was_cut_off_is_the_same_as_far_as_it_goes()
    {
        var (result, fault) = ReplayRun.Of(new MemoryStream(Whole.Value[..^200]));
        Assert.Null(fault);
        Assert.Null(result!.Difference);
        Assert.Contains("cut off", result.Cut, StringComparison.Ordinal);
    }

    [Fact]
    public void Any_damage_to_the_bytes_is_told_or_harmless() => Gen.Select(Gen.Int[0, Whole.Value.Length - 1], Gen.Byte).List[1, 4].Sample(
        damage =>
        {
            var bytes = (byte[])Whole.Value.Clone();
            foreach (var (at, value) in damage)
                bytes[at] = value;
            Assert.NotEqual(RecordingEnd.None, Count(bytes).End);
        },
        iter: 300,
        threads: 1);

    [Fact]
    public void Any_change_of_entries_is_played_told_or_refused_and_never_a_crash() => Gen.Select(Gen.Int[0, 40], Gen.Int[1, 11], Gen.Byte.Array[0, 30], Gen.Int[0, 3]).Sample(
        (number, kind, bytes, how) =>
        {
            var changed = RecordingEdit.Of(Whole.Value, (was, payload, at) => at != number || (int)was != kind ? (was, payload) : how switch
            {
                0 => null,
                1 => (was, bytes),
                2 => ((EntryKind)(bytes.Length % 13), payload),
                _ => (was, Mixed(payload, bytes)),
            });
            var (result, fault) = ReplayRun.Of(new MemoryStream(changed));
            Assert.True(result is not null || fault is not null);
        },
        iter: 60,
        threads: 1);

    [Theory]
    [InlineData("", "header")]
    [InlineData("not gzip at all", "no recording")]
    public void What_is_no_recording_is_refused_with_why(string text, string why)
    {
        var (result, fault) = ReplayRun.Of(new MemoryStream(Encoding.UTF8.GetBytes(text)));
        Assert.Null(result);
        Assert.Contains(why, fault, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"format\":\"statewatch/recording/1\"", "\"format\":\"statewatch/recording/9\"", "statewatch/recording/9")]
    [InlineData("\"frequency\":10000000", "\"frequency\":0", "what cannot be")]
    [InlineData("\"frequency\":10000000", "\"frequency\":-1", "what cannot be")]
    [InlineData("\"desk\":\"chapel/midwinter\"", "\"desk\":null", "cannot be read")]
    [InlineData("\"fingerprint\":\"", "\"fingerprint\":\"0", "another fingerprint")]
    [InlineData("\"sinks\":[", "\"sinks\":[null,", "the watch failed with it")]
    [InlineData("\"files\":[", "\"files\":[null,", "the watch failed with it")]
    [InlineData("\"sinks\":[", "\"sinks\":[{\"name\":\"light\",\"least\":\"Notice\"},", "the watch failed with it")]
    public void Header_that_says_what_cannot_be_is_refused_with_why(string was, string made, string why)
    {
        var changed = RecordingEdit.Of(Whole.Value, (kind, payload, _) => (kind, kind == EntryKind.Header ? Encoding.UTF8.GetBytes(Replaced(Encoding.UTF8.GetString(payload), was, made)) : payload));
        var (result, fault) = ReplayRun.Of(new MemoryStream(changed));
        Assert.Null(result);
        Assert.Contains(why, fault, StringComparison.Ordinal);
    }

    [Fact]
    public void Claimed_lengths_and_bombs_are_bounded()
    {
        // An entry that claims 2 GB; and a small file that unpacks to more than may be read.
        Assert.Equal(RecordingEnd.Broken, Count(RecordingEdit.Zip([1, 0xFF, 0xFF, 0xFF, 0xFF, 0x07, 1])).End);
        using var entries = new RecordingEntries(new MemoryStream(RecordingEdit.Zip(new byte[1_000_000])), most: 10_000);
        while (entries.TryRead())
        {
        }

        Assert.Equal(RecordingEnd.Broken, entries.End);
        Assert.Contains("more than 10,000 bytes", entries.Fault, StringComparison.Ordinal);
    }

    [Fact]
    public void Moments_come_back_as_they_were_whatever_clocks_do() => Gen.Select(Gen.Long[0, RecordingMoments.FarthestTimestamp], Gen.Long[0, DateTimeOffset.MaxValue.Ticks]).Array[1, 20].Sample(moments =>
    {
        var (there, back) = (new RecordingMoments(1_000_000_000), new RecordingMoments(1_000_000_000));
        foreach (var (timestamp, wall) in moments)
        {
            var (step, uneven) = there.Step(timestamp, wall);
            Assert.True(back.TryStep(step, uneven));
            Assert.Equal((timestamp, wall), (back.Timestamp, back.Wall));
        }
    });

    [Fact]
    public void Datagrams_come_back_as_they_were_however_often_they_come() => Gen.Byte.Array[0, 3].Array[0, 200].Sample(datagrams =>
    {
        var stream = new MemoryStream();
        using (var writer = new RecordingWriter(new RecordingStream(stream), HeaderOfWhole()))
        {
            writer.WatchBegan(0, DateTimeOffset.UnixEpoch);
            writer.BatchBegan(5, DateTimeOffset.UnixEpoch);
            for (var i = 0; i < datagrams.Length; i++)
                writer.Datagram(datagrams[i], i - 50);
            writer.BatchEnded(5, DateTimeOffset.UnixEpoch);
        }

        using var reader = RecordingReader.Open(new MemoryStream(stream.ToArray()));
        Assert.Equal(RecordedStep.Batch, reader.Next());
        var heard = new Heard();
        reader.Batch.HandOver(heard);
        Assert.Equal(datagrams.Select(static (bytes, i) => $"{i - 50} {Convert.ToHexString(bytes)}"), heard.Lines);
    });

    [Fact]
    public void Recording_that_is_as_large_as_it_may_be_says_so()
    {
        var stream = new MemoryStream();
        using (var target = new RecordingStream(stream, most: 100_000))
        using (var reader = new RecordingEntries(new MemoryStream(Whole.Value), long.MaxValue))
        {
            var buffer = new EntryBuffer();
            while (reader.TryRead())
            {
                buffer.Add(reader.Payload).End(reader.Kind);
                if (reader.Kind is not (EntryKind.BatchEnded or EntryKind.WatchBegan))
                    continue;
                target.Take(buffer.Written);
                buffer.Clear();
            }

            Assert.True(target.IsFull);
        }

        Assert.InRange(stream.ToArray().Length, 1, 100_000);
        Assert.Contains("as many bytes as it may", ReplayRun.Of(new MemoryStream(stream.ToArray())).Result!.Cut, StringComparison.Ordinal);
    }

    private static (bool HasHeader, long Batches, RecordingEnd End) Count(byte[] bytes)
    {
        using var reader = RecordingReader.Open(new MemoryStream(bytes));
        var batches = 0L;
        while (reader.Next() is var step and not RecordedStep.End)
            batches += step == RecordedStep.Batch ? 1 : 0;
        return (reader.Header is not null, batches, reader.End);
    }

    private static RecordingHeader HeaderOfWhole()
    {
        using var reader = RecordingReader.Open(new MemoryStream(Whole.Value));
        return reader.Header!;
    }

    private static byte[] Mixed(byte[] payload, byte[] bytes)
    {
        var mixed = (byte[])payload.Clone();
        for (var i = 0; i < bytes.Length && mixed.Length > 0; i++)
            mixed[(i * 31 + bytes[i]) % mixed.Length] ^= bytes[i];
        return mixed;
    }

    private static string Replaced(string text, string was, string made)
    {
        Assert.Contains(was, text, StringComparison.Ordinal);
        var at = text.IndexOf(was, StringComparison.Ordinal);
        return text[..at] + made + text[(at + was.Length)..];
    }

    private sealed class Heard : IDatagramReceiver
    {
        public List<string> Lines { get; } = [];

        public void OnDatagram(ReadOnlySpan<byte> datagram, long receivedAt) => Lines.Add($"{receivedAt} {Convert.ToHexString(datagram)}");
    }
}
