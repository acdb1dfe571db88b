using System.IO.Compression;
using StateWatch.Recordings;

namespace StateWatch.Tests.Recordings;

/// <summary>Changes entries of a recording, as somebody would who knows the format.</summary>
internal static class RecordingEdit
{
    /// <summary>The recording with each entry as wanted; null leaves it out. Numbers count entries of one kind from 0.</summary>
    public static byte[] Of(byte[] recording, Func<EntryKind, byte[], int, (EntryKind Kind, byte[] Payload)?> edit)
    {
        using var entries = new RecordingEntries(new MemoryStream(recording), long.MaxValue);
        var numbers = new Dictionary<EntryKind, int>();
        var buffer = new EntryBuffer();
        while (entries.TryRead())
        {
            var number = numbers.GetValueOrDefault(entries.Kind);
            numbers[entries.Kind] = number + 1;
            if (edit(entries.Kind, entries.Payload.ToArray(), number) is { } entry)
                buffer.Add(entry.Payload.AsSpan()).End(entry.Kind);
        }

        return Zip(buffer.Written);
    }

    /// <summary>Bytes as a recording's stream has them.</summary>
    public static byte[] Zip(ReadOnlySpan<byte> bytes)
    {
        var stream = new MemoryStream();
        using (var gzip = new GZipStream(stream, CompressionLevel.Fastest))
            gzip.Write(bytes);
        return stream.ToArray();
    }
}
