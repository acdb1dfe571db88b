namespace StateWatch.Protocol.Framing;

/// <summary>
/// Cuts a byte stream into packets framed by SLIP with an END byte at both ends (RFC 1055; OSC 1.1, "Features and Future of Open Sound
/// Control", asks for it on streams), and frames a packet. Not thread-safe.
/// </summary>
/// <remarks>
/// A packet with a bad escape, or longer than is taken, is dropped and reading goes on at the next END. One END between two packets
/// is enough. Bytes before the first END are dropped: they may be the rest of a packet.
/// </remarks>
public sealed class SlipFramer
{
    private const byte EndByte = 0xC0;
    private const byte EscapeByte = 0xDB;
    private const byte EscapedEnd = 0xDC;
    private const byte EscapedEscape = 0xDD;

    private readonly Memory<byte> _buffer;
    private State _state;
    private int _filled;

    /// <summary>Starts at any place of a stream.</summary>
    /// <param name="buffer">Holds the packet being read; its length is the largest packet taken.</param>
    public SlipFramer(Memory<byte> buffer) => _buffer = buffer;

    private enum State : byte
    {
        BeforeFirstEnd,
        Noise,
        InPacket,
        Escaped,
        Dropping,
    }

    /// <summary>The last error met; reading went on after it.</summary>
    public FramingError Error { get; private set; }

    /// <summary>How many packets, or beginnings of the stream, were dropped.</summary>
    public int Rejected { get; private set; }

    /// <summary>Takes bytes and gives the next packet that is not empty.</summary>
    /// <param name="chunk">Bytes from the stream; what was used is cut off its front. Call again while this returns true.</param>
    /// <param name="packet">A whole packet, valid until the next call.</param>
    /// <returns>False when the chunk is used up.</returns>
    public bool Read(ref ReadOnlySpan<byte> chunk, out ReadOnlySpan<byte> packet)
    {
        packet = default;
        while (!chunk.IsEmpty)
        {
            switch (_state)
            {
                case State.InPacket:
                    if (TakePlain(ref chunk, out packet))
                        return true;
                    break;
                case State.Escaped:
                    TakeEscaped(ref chunk);
                    break;
                default:
                    SkipToEnd(ref chunk);
                    break;
            }
        }

        return false;
    }

    /// <summary>To be called when the stream has ended.</summary>
    /// <returns><see cref="FramingError.Truncated"/> inside a packet; else <see cref="FramingError.None"/>.</returns>
    public FramingError End()
    {
        if (_filled == 0 && _state != State.Escaped)
            return FramingError.None;
        _filled = 0;
        _state = State.BeforeFirstEnd;
        Reject(FramingError.Truncated);
        return FramingError.Truncated;
    }

    /// <summary>The most bytes a packet of this length can take when framed.</summary>
    public static int MaximumEncodedLength(int packetLength) => (packetLength * 2) + 2;

    /// <summary>Frames a packet.</summary>
    /// <param name="packet">The packet; it must not overlap the destination.</param>
    /// <param name="destination">Room for <see cref="MaximumEncodedLength"/> is always enough.</param>
    /// <param name="written">Bytes written; 0 when there is an error.</param>
    public static FramingError Encode(ReadOnlySpan<byte> packet, Span<byte> destination, out int written)
    {
        written = 0;
        var at = 0;
        if (!Put(destination, ref at, EndByte))
            return FramingError.DestinationTooSmall;
        foreach (var value in packet)
        {
            var fits = value switch
            {
                EndByte => Put(destination, ref at, EscapeByte) && Put(destination, ref at, EscapedEnd),
                EscapeByte => Put(destination, ref at, EscapeByte) && Put(destination, ref at, EscapedEscape),
                _ => Put(destination, ref at, value),
            };
            if (!fits)
                return FramingError.DestinationTooSmall;
        }

        if (!Put(destination, ref at, EndByte))
            return FramingError.DestinationTooSmall;
        written = at;
        return FramingError.None;
    }

    private static bool Put(Span<byte> destination, ref int at, byte value)
    {
        if (at >= destination.Length)
            return false;
        destination[at++] = value;
        return true;
    }

    private bool TakePlain(ref ReadOnlySpan<byte> chunk, out ReadOnlySpan<byte> packet)
    {
        packet = default;
        var plain = chunk.IndexOfAny(EndByte, EscapeByte);
        var stop = plain < 0 ? chunk.Length : plain;
        Append(chunk[..stop]);
        if (stop == chunk.Length)
        {
            chunk = default;
            return false;
        }

        if (_state == State.Dropping)
        {
            chunk = chunk[stop..];
            return false;
        }

        var mark = chunk[stop];
        chunk = chunk[(stop + 1)..];
        if (mark == EscapeByte)
        {
            _state = State.Escaped;
            return false;
        }

        packet = _buffer.Span[.._filled];
        _filled = 0;
        return !packet.IsEmpty;
    }

    private void TakeEscaped(ref ReadOnlySpan<byte> chunk)
    {
        var value = chunk[0];
        if (value is not (EscapedEnd or EscapedEscape))
        {
            // The byte stays: it may be the END to go on from.
            Drop(FramingError.BadEscape);
            return;
        }

        chunk = chunk[1..];
        _state = State.InPacket;
        Append([value == EscapedEnd ? EndByte : EscapeByte]);
    }

    private void SkipToEnd(ref ReadOnlySpan<byte> chunk)
    {
        var end = chunk.IndexOf(EndByte);
        if (_state == State.BeforeFirstEnd && end != 0)
        {
            _state = State.Noise;
            Reject(FramingError.NoiseBeforeFirstEnd);
        }

        if (end < 0)
        {
            chunk = default;
            return;
        }

        chunk = chunk[(end + 1)..];
        _state = State.InPacket;
    }

    private void Append(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length > _buffer.Length - _filled)
        {
            Drop(FramingError.PacketTooLong);
            return;
        }

        bytes.CopyTo(_buffer.Span[_filled..]);
        _filled += bytes.Length;
    }

    private void Drop(FramingError error)
    {
        _filled = 0;
        _state = State.Dropping;
        Reject(error);
    }

    private void Reject(FramingError error)
    {
        Error = error;
        Rejected++;
    }
}
