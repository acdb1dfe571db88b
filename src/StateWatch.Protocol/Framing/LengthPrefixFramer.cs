using System.Buffers.Binary;

namespace StateWatch.Protocol.Framing;

/// <summary>
/// Cuts a byte stream into packets that each follow their size as a big-endian int32 (OSC 1.0, "OSC Packets", over streams), and puts
/// the size before a packet. Not thread-safe.
/// </summary>
/// <remarks>There is no way to find the next packet after a bad size: the framer stops for good, and the connection should be closed.</remarks>
public sealed class LengthPrefixFramer
{
    /// <summary>Bytes before each packet.</summary>
    public const int HeaderSize = sizeof(int);

    private readonly Memory<byte> _buffer;
    private int _headerBytes;
    private int _header;
    private int _filled;

    /// <summary>Starts at the beginning of a stream.</summary>
    /// <param name="buffer">Holds a packet that comes in pieces; its length is the largest packet taken.</param>
    public LengthPrefixFramer(Memory<byte> buffer) => _buffer = buffer;

    /// <summary>Why the framer has stopped.</summary>
    public FramingError Error { get; private set; }

    /// <summary>Takes bytes and gives the next packet.</summary>
    /// <param name="chunk">Bytes from the stream; what was used is cut off its front. Call again while this returns true.</param>
    /// <param name="packet">A whole packet, valid until the next call and while the bytes of the chunk are.</param>
    /// <returns>False when the chunk is used up, or when the framer has stopped (<see cref="Error"/>).</returns>
    public bool Read(ref ReadOnlySpan<byte> chunk, out ReadOnlySpan<byte> packet)
    {
        packet = default;
        if (!ReadHeader(ref chunk))
            return false;
        if (_filled == 0 && chunk.Length >= _header)
        {
            packet = chunk[.._header];
            chunk = chunk[_header..];
            _headerBytes = 0;
            return true;
        }

        var part = Math.Min(_header - _filled, chunk.Length);
        chunk[..part].CopyTo(_buffer.Span[_filled..]);
        chunk = chunk[part..];
        _filled += part;
        if (_filled < _header)
            return false;
        packet = _buffer.Span[.._header];
        _headerBytes = 0;
        _filled = 0;
        return true;
    }

    /// <summary>To be called when the stream has ended.</summary>
    /// <returns><see cref="FramingError.Truncated"/> inside a packet; else <see cref="Error"/>.</returns>
    public FramingError End()
    {
        if (Error == FramingError.None && _headerBytes > 0)
            Error = FramingError.Truncated;
        return Error;
    }

    /// <summary>Puts the size before a packet.</summary>
    /// <param name="packet">The packet; it may overlap the destination.</param>
    /// <param name="destination">Room for the packet and <see cref="HeaderSize"/> bytes.</param>
    /// <param name="written">Bytes written; 0 when there is an error.</param>
    public static FramingError Encode(ReadOnlySpan<byte> packet, Span<byte> destination, out int written)
    {
        written = 0;
        if (packet.IsEmpty)
            return FramingError.SizeZero;
        if ((packet.Length & 3) != 0)
            return FramingError.SizeNotMultipleOfFour;
        if (destination.Length < HeaderSize || destination.Length - HeaderSize < packet.Length)
            return FramingError.DestinationTooSmall;
        packet.CopyTo(destination[HeaderSize..]);
        BinaryPrimitives.WriteInt32BigEndian(destination, packet.Length);
        written = HeaderSize + packet.Length;
        return FramingError.None;
    }

    private bool ReadHeader(ref ReadOnlySpan<byte> chunk)
    {
        if (Error != FramingError.None)
            return false;
        if (_headerBytes == HeaderSize)
            return true;
        while (_headerBytes < HeaderSize)
        {
            if (chunk.IsEmpty)
                return false;
            _header = (_header << 8) | chunk[0];
            chunk = chunk[1..];
            _headerBytes++;
        }

        Error = _header switch
        {
            0 => FramingError.SizeZero,
            < 0 => FramingError.SizeNegative,
            _ when (_header & 3) != 0 => FramingError.SizeNotMultipleOfFour,
            _ when _header > _buffer.Length => FramingError.PacketTooLong,
            _ => FramingError.None,
        };
        return Error == FramingError.None;
    }
}
