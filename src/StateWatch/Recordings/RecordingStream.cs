using System.IO.Compression;

namespace StateWatch.Recordings;

/// <summary>
/// A recording in a stream, compressed (gzip, RFC 1952). Whatever was taken can be read back though the program dies in the next moment; when there is
/// no room for more, an entry says so and the rest is dropped.
/// </summary>
internal sealed class RecordingStream : IRecordingTarget
{
    // What gzip still writes at its end.
    private const int Tail = 4096;

    private readonly CountedStream _stream;
    private readonly GZipStream _gzip;
    private readonly RecordingRoom _room;

    /// <summary>Begins one.</summary>
    /// <param name="stream">Where to; closed at the end.</param>
    /// <param name="room">How much room it has there; null for all there is.</param>
    public RecordingStream(Stream stream, RecordingRoom? room = null)
    {
        (_stream, _room) = (new CountedStream(stream), room ?? new RecordingRoom());
        _gzip = new GZipStream(_stream, CompressionLevel.Optimal);
    }

    /// <summary>Why there was no room for more; null while there is.</summary>
    public RecordingStop? Stop { get; private set; }

    public void Take(ReadOnlySpan<byte> entries)
    {
        if (Stop is not null)
            return;
        // What deflate cannot make shorter it makes longer by less than this (RFC 1951, stored blocks).
        Stop = _room.Refuse(_stream.Count, entries.Length + entries.Length / 1000 + Tail);
        if (Stop is not null)
            entries = [(byte)EntryKind.Full, 0];

        _gzip.Write(entries);
        _gzip.Flush();
    }

    public void Dispose() => _gzip.Dispose();

    private sealed class CountedStream(Stream inner) : Stream
    {
        public long Count { get; private set; }

        public override bool CanRead => false;

        public override bool CanSeek => false;

        public override bool CanWrite => true;

        public override long Length => throw new NotSupportedException();

        public override long Position
        {
            get => throw new NotSupportedException();
            set => throw new NotSupportedException();
        }

        public override void Flush() => inner.Flush();

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

        public override void Write(ReadOnlySpan<byte> buffer)
        {
            inner.Write(buffer);
            Count += buffer.Length;
        }

        protected override void Dispose(bool disposing)
        {
            if (disposing)
                inner.Dispose();
            base.Dispose(disposing);
        }
    }
}
