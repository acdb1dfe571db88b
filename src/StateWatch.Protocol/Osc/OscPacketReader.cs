using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Reads the messages of a packet in order, walking nested bundles (OSC 1.0, "OSC Packets" and "OSC Bundles"). Total, like
/// <see cref="OscReader"/>: a bad message is rejected and reading goes on; a bad element size rejects the rest of its bundle.
/// </summary>
public ref struct OscPacketReader
{
    /// <summary>How deep bundles may be nested; 1 is a bundle of messages.</summary>
    public const int MaximumDepth = 32;

    private const int HeaderSize = 16;
    private const int TimeTagOffset = 8;

    private readonly ReadOnlySpan<byte> _packet;
    private Starts _starts;
    private int _depth;
    private int _position;
    private int _end;
    private bool _started;

    /// <summary>Starts before the first message.</summary>
    /// <param name="packet">One packet without framing, such as a datagram.</param>
    public OscPacketReader(ReadOnlySpan<byte> packet)
    {
        _packet = packet;
        TimeTag = OscTimeTag.Immediately;
    }

    /// <summary>
    /// The time tag of the innermost bundle around the message last read; <see cref="OscTimeTag.Immediately"/> for a message on its own.
    /// </summary>
    public OscTimeTag TimeTag { readonly get; private set; }

    /// <summary>How many bundles are around the message last read; 0 for a message on its own.</summary>
    public readonly int Depth => _depth;

    /// <summary>The first error met so far.</summary>
    public OscError Error { readonly get; private set; }

    /// <summary>Where in the packet, in bytes from 0, the message or element begins that <see cref="Error"/> is about.</summary>
    public int ErrorOffset { readonly get; private set; }

    /// <summary>How many messages, bundles, or rests of bundles were rejected so far.</summary>
    public int Rejected { readonly get; private set; }

    /// <summary>The next good message; false when the packet is used up, with or without <see cref="Error"/>.</summary>
    public bool Read(out OscMessage message)
    {
        if (!_started)
        {
            _started = true;
            if (_packet.IsEmpty || _packet[0] != (byte)'#')
                return ReadElement(0, _packet.Length, out message);
            if ((_packet.Length & 3) != 0)
                Reject(OscError.NotMultipleOfFour, 0);
            else
                Enter(0, _packet.Length);
        }

        while (_depth > 0)
        {
            if (_position == _end)
            {
                Leave();
                continue;
            }

            // Every enclosing length is a multiple of four, so at least four bytes are left.
            var start = _position + sizeof(int);
            var size = BinaryPrimitives.ReadInt32BigEndian(_packet[_position..]);
            if (size <= 0 || (size & 3) != 0 || size > _end - start)
            {
                Reject(OscError.ElementSize, _position);
                _position = _end;
                continue;
            }

            _position = start + size;
            if (_packet[start] == (byte)'#')
                Enter(start, size);
            else if (ReadElement(start, size, out message))
                return true;
        }

        message = default;
        return false;
    }

    private bool ReadElement(int start, int size, out OscMessage message)
    {
        var error = OscReader.ReadMessage(_packet.Slice(start, size), out message);
        if (error == OscError.None)
            return true;
        Reject(error, start);
        return false;
    }

    private void Enter(int start, int size)
    {
        var bundle = _packet.Slice(start, size);
        if (!bundle.StartsWith("#bundle\0"u8))
        {
            Reject(OscError.BundleHeader, start);
        }
        else if (size < HeaderSize)
        {
            Reject(OscError.BundleTimeTagMissing, start);
        }
        else if (_depth == MaximumDepth)
        {
            Reject(OscError.TooDeep, start);
        }
        else if (OscTimeTag.Read(bundle[TimeTagOffset..]) is var tag && _depth > 0 && tag < TimeTag)
        {
            Reject(OscError.NestedTimeTagEarlier, start);
        }
        else
        {
            _starts[_depth++] = start;
            TimeTag = tag;
            _position = start + HeaderSize;
            _end = start + size;
        }
    }

    /// <summary>Goes back to the bundle around this one; its size and time tag are read again rather than kept.</summary>
    private void Leave()
    {
        if (--_depth == 0)
        {
            TimeTag = OscTimeTag.Immediately;
            return;
        }

        var start = _starts[_depth - 1];
        TimeTag = OscTimeTag.Read(_packet[(start + TimeTagOffset)..]);
        _end = _depth == 1
            ? _packet.Length
            : start + BinaryPrimitives.ReadInt32BigEndian(_packet[(start - sizeof(int))..]);
    }

    private void Reject(OscError error, int offset)
    {
        if (Error == OscError.None)
        {
            Error = error;
            ErrorOffset = offset;
        }

        Rejected++;
    }

    [InlineArray(MaximumDepth)]
    private struct Starts
    {
        private int _first;
    }
}
