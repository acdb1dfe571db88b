using System.Text;
using CsCheck;
using StateWatch.Core.Findings;
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
        Assert.Null(result!.FirstDifference);
        Assert.Contains("cut off", result.Cut, StringComparison.Ordinal);
    }

    [Fact]
    public void Damage_in_the_last_bytes_is_no_cut()
    {
        // Within what is read at once: there it was taken for the end of a recording whose program was killed, and what was left was identical.
        var all = Count(Whole.Value);
        for (var at = Whole.Value.Length - 4096; at < Whole.Value.Length; at += 13)
        {
            var bytes = (byte[])Whole.Value.Clone();
            bytes[at] ^= 0x55;
            Assert.Equal((at, RecordingEnd.Broken), (at, Count(bytes).End));
        }

        Assert.Equal((RecordingEnd.Whole, all.Batches), (Count(Whole.Value).End, all.Batches));
    }

    [Fact]
    public void Replay_of_what_was_cut_off_does_not_claim_to_be_all_of_it()
    {
        var (cut, _) = ReplayRun.Of(new MemoryStream(Whole.Value[..^200]));
        Assert.EndsWith("identical to what was recorded, as far as it goes\n", ReplayText.Write(cut!, "x.rec").ReplaceLineEndings("\n"), StringComparison.Ordinal);
    }

    [Fact]
    public void Orders_of_one_batch_are_bounded_as_its_datagrams_are()
    {
        // Each is whole and allowed; together they are three times what a batch may hold, out of a file of some hundred kilobytes.
        var order = Encoding.UTF8.GetBytes($$"""{"kind":"Cue","by":"Ada","cue":"{{new string('x', 1_000_000)}}"}""");
        var bytes = RecordingEdit.Of(Whole.Value, (kind, payload, number) => kind is EntryKind.Header or EntryKind.WatchBegan ? (kind, payload)
            : kind is EntryKind.BatchBegan && number == 0 ? (kind, payload) : kind is EntryKind.Datagram && number < 100 ? (EntryKind.Order, order) : null);
        Assert.InRange(bytes.Length, 1, 2_000_000);
        using var reader = RecordingReader.Open(new MemoryStream(bytes));
        Assert.NotNull(reader.Header);
        Assert.Equal((RecordedStep.End, RecordingEnd.Broken), (reader.Next(), reader.End));
        Assert.InRange(reader.Batch.Orders.Count, 30, 34);
    }

    [Theory]
    [InlineData("chapel/midwinter/", "x", "another desk")]
    [InlineData("chapel/midwinter/", "elsewhere/midwinter/", "another desk")]
    public void What_was_remembered_of_another_desk_is_refused(string was, string made, string why)
    {
        using var day = new RecordedDay(7);
        day.Run(25);
        day.Restart();
        var bytes = day.Bytes();
        Assert.NotNull(ReplayRun.Of(new MemoryStream(bytes)).Result);
        var changed = RecordingEdit.Of(bytes, (kind, payload, _) => (kind, kind == EntryKind.Header ? Encoding.UTF8.GetBytes(Replaced(Encoding.UTF8.GetString(payload), $"\"key\":\"{was}", $"\"key\":\"{made}")) : payload));
        var (result, fault) = ReplayRun.Of(new MemoryStream(changed));
        Assert.Null(result);
        Assert.Contains(why, fault, StringComparison.Ordinal);
    }

    [Fact]
    public void Key_of_a_finding_writes_nothing_to_the_terminal_but_text()
    {
        using var day = new RecordedDay(7);
        day.Run(25);
        var result = ReplayRun.Of(new MemoryStream(day.Bytes())).Result!;
        var alert = result.Told[0];
        result.Told.Clear();
        result.Told.Add(alert with { Told = alert.Told with { Key = "x" } });
        result.Told.Add(alert with { Told = alert.Told with { Key = "chapel/midwinter/low-cut-off:\e[2J\e]0;x\a" } });
        result.Told.Add(alert with { Told = alert.Told with { Digest = [new DigestLine("a", default, 0, default), new DigestLine("chapel/midwinter/\e[2J", default, 0, default)] } });
        var text = ReplayText.Write(result, "x.rec");
        Assert.Contains("low-cut-off:\\x1B[2J", text, StringComparison.Ordinal);
        Assert.DoesNotContain('\e', text);
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
        const int Most = 100_000;
        using var day = new RecordedDay(7);
        day.Run(25);
        var stream = new MemoryStream();
        using (var target = new RecordingStream(stream, new RecordingRoom(Most)))
        using (var reader = new RecordingEntries(new MemoryStream(day.Bytes()), long.MaxValue))
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

            Assert.NotNull(target.Stop);
        }

        Assert.InRange(stream.ToArray().Length, 1, Most);
        Assert.Contains("as large as it may be", ReplayRun.Of(new MemoryStream(stream.ToArray())).Result!.Cut, StringComparison.Ordinal);
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
