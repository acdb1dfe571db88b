using System.IO.Compression;

namespace StateWatch.Recordings;

/// <summary>How a recording ended.</summary>
internal enum RecordingEnd : byte
{
    /// <summary>It has not ended yet.</summary>
    None,

    /// <summary>After a whole entry.</summary>
    Whole,

    /// <summary>Within an entry, as one does whose program died or whose file was cut off.</summary>
    Cut,

    /// <summary>With something that is no recording.</summary>
    Broken,
}

/// <summary>Entries of a recording, one after the other, out of a stream that may hold anything. Never throws for what it holds.</summary>
internal sealed class RecordingEntries : IDisposable
{
    /// <summary>The longest entry that is read, in bytes.</summary>
    public const int LongestEntry = 32 * 1024 * 1024;

    private const int LongestVarint = 5;

    private readonly EndNotingStream _stream;
    private readonly GZipStream _gzip;
    private readonly long _most;
    private byte[] _buffer = new byte[65_536];
    private long _read;

    /// <summary>Opens one.</summary>
    /// <param name="stream">The stream; closed at the end.</param>
    /// <param name="most">The most bytes that are read, before compression.</param>
    public RecordingEntries(Stream stream, long most)
    {
        (_stream, _most) = (new EndNotingStream(stream), most);
        _gzip = new GZipStream(_stream, CompressionMode.Decompress);
    }

    /// <summary>How it ended.</summary>
    public RecordingEnd End { get; private set; }

    /// <summary>What is wrong where it is broken, in words.</summary>
    public string Fault { get; private set; } = "";

    /// <summary>How many bytes were read, before compression.</summary>
    public long Position => _read;

    /// <summary>The kind of the last entry.</summary>
    public EntryKind Kind { get; private set; }

    /// <summary>The rest of the last entry; until the next one.</summary>
    public ReadOnlySpan<byte> Payload => _buffer.AsSpan(0, Length);

    private int Length { get; set; }

    /// <summary>Goes on to the next entry.</summary>
    public bool TryRead()
    {
        Length = 0;
        if (End != RecordingEnd.None)
            return false;
        if (!Fill(0, 1, RecordingEnd.Whole))
            return false;
        Kind = (EntryKind)_buffer[0];
        return TryReadLength(out var length) && Fill(0, length, RecordingEnd.Cut) && (Length = length) == length;
    }

    /// <summary>It is broken here.</summary>
    public bool Break(string fault)
    {
        (End, Fault) = (RecordingEnd.Broken, fault);
        return false;
    }

    public void Dispose() => _gzip.Dispose();

    private bool TryReadLength(out int length)
    {
        var value = 0L;
        for (var i = 0; i < LongestVarint; i++)
        {
            length = 0;
            if (!Fill(0, 1, RecordingEnd.Cut))
                return false;
            value |= (long)(_buffer[0] & 0x7F) << (7 * i);
            if (_buffer[0] >= 0x80)
                continue;
            length = (int)Math.Min(value, int.MaxValue);
            return length <= LongestEntry || Break($"an entry claims to have {value:N0} bytes");
        }

        length = 0;
        return Break("an entry has no length");
    }

    // Grows with what is there, not with what is claimed.
    private bool Fill(int from, int count, RecordingEnd atNothing)
    {
        if (_read + count > _most)
            return Break($"it holds more than {_most:N0} bytes, which is the most that is read");
        try
        {
            while (count > 0)
            {
                if (from == _buffer.Length)
                    Array.Resize(ref _buffer, Math.Min(2 * _buffer.Length, LongestEntry));
                var read = _gzip.Read(_buffer, from, Math.Min(count, _buffer.Length - from));
                if (read == 0)
                {
                    End = from == 0 ? atNothing : RecordingEnd.Cut;
                    return false;
                }

                (from, count, _read) = (from + read, count - read, _read + read);
            }

            return true;
        }
        catch (InvalidDataException)
        {
            // What ends too early is told in the same way as what is damaged; but only of that more was wanted than there is.
            if (!_stream.HasEnded)
                return Break("its bytes are damaged or no recording");
            End = RecordingEnd.Cut;
            return false;
        }
        catch (IOException problem)
        {
            return Break($"it cannot be read on: {problem.Message}");
        }
    }
}
