using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace StateWatch.Protocol.Osc;

/// <summary>
/// Writes one packet into a buffer: a message, or a bundle of messages and bundles (OSC 1.0, "OSC Packets"). Total: a fault is kept,
/// everything after it does nothing, and <see cref="Finish"/> names it.
/// </summary>
/// <remarks>
/// Arguments follow in the order of the tags. Tags without data (<c>T F N I [ ]</c>) need no call.
/// A single message with no or one argument is written quicker by <see cref="OscMessageWriter"/>.
/// </remarks>
public ref partial struct OscWriter
{
    private readonly Span<byte> _buffer;
    private Starts _bundles;
    private int _depth;
    private int _length;
    private int _messageStart;
    private int _tag;
    private int _tagsEnd;
    private bool _inMessage;

    /// <summary>Starts an empty packet.</summary>
    /// <param name="buffer">Where the packet goes; as long as the longest packet to be written.</param>
    public OscWriter(Span<byte> buffer) => _buffer = buffer;

    /// <summary>The first fault so far.</summary>
    public OscError Error { readonly get; private set; }

    /// <summary>Starts a message and ends the one before it in the same bundle.</summary>
    /// <param name="address">Address or pattern; begins with <c>/</c>, no nulls.</param>
    /// <param name="tagsWithoutComma">One byte for each argument, see <see cref="OscType"/>.</param>
    public void StartMessage(ReadOnlySpan<byte> address, ReadOnlySpan<byte> tagsWithoutComma)
    {
        if (!StartElement())
            return;
        if (address.IsEmpty || address[0] != (byte)'/')
        {
            Fail(OscError.AddressNotAbsolute);
            return;
        }

        if (OscTags.Check(tagsWithoutComma) is var tagError and not OscError.None)
        {
            Fail(tagError);
            return;
        }

        _messageStart = _length;
        PutString(address);
        _tag = _length + 1;
        _tagsEnd = _tag + tagsWithoutComma.Length;
        if (!Reserve(OscPadding.End(tagsWithoutComma.Length + 1), out var tags))
            return;
        tags[0] = (byte)',';
        tagsWithoutComma.CopyTo(tags[1..]);
        tags[(tagsWithoutComma.Length + 1)..].Clear();
        _inMessage = true;
        SkipTagsWithoutData();
    }

    /// <summary>Starts a bundle: the packet itself, or nested in the bundle that is open.</summary>
    /// <param name="timeTag">When it takes effect; not earlier than the bundle around it.</param>
    public void StartBundle(OscTimeTag timeTag)
    {
        if (!StartElement())
            return;
        if (_depth == OscPacketReader.MaximumDepth)
        {
            Fail(OscError.TooDeep);
            return;
        }

        if (_depth > 0 && timeTag < OscTimeTag.Read(_buffer[(_bundles[_depth - 1] + 8)..]))
        {
            Fail(OscError.NestedTimeTagEarlier);
            return;
        }

        var start = _length;
        if (!Reserve(16, out var header))
            return;
        "#bundle\0"u8.CopyTo(header);
        BinaryPrimitives.WriteUInt64BigEndian(header[8..], timeTag.Bits);
        _bundles[_depth++] = start;
    }

    /// <summary>Ends the bundle started last.</summary>
    public void EndBundle()
    {
        EndMessage();
        if (Error != OscError.None)
            return;
        if (_depth == 0)
        {
            Fail(OscError.NoBundle);
            return;
        }

        _depth--;
        PatchSize(_bundles[_depth]);
    }

    /// <summary>Ends the packet.</summary>
    /// <param name="length">How many bytes of the buffer are the packet; 0 when there is an error.</param>
    public OscError Finish(out int length)
    {
        EndMessage();
        if (_depth > 0)
            Fail(OscError.BundleNotEnded);
        if (_length == 0)
            Fail(OscError.NothingWritten);
        length = Error == OscError.None ? _length : 0;
        return Error;
    }

    private bool StartElement()
    {
        EndMessage();
        if (Error != OscError.None)
            return false;
        if (_depth > 0)
            return Reserve(sizeof(int), out _);
        if (_length == 0)
            return true;
        Fail(OscError.PacketComplete);
        return false;
    }

    private void EndMessage()
    {
        if (!_inMessage)
            return;
        _inMessage = false;
        if (_tag != _tagsEnd)
            Fail(OscError.MissingArguments);
        else
            PatchSize(_messageStart);
    }

    /// <summary>Writes the size of the element that began at <paramref name="start"/> in front of it, inside a bundle.</summary>
    private readonly void PatchSize(int start)
    {
        if (_depth > 0 && Error == OscError.None)
            BinaryPrimitives.WriteInt32BigEndian(_buffer[(start - sizeof(int))..], _length - start);
    }

    private bool Reserve(int size, out Span<byte> place)
    {
        if (Error == OscError.None && size <= _buffer.Length - _length)
        {
            place = _buffer.Slice(_length, size);
            _length += size;
            return true;
        }

        Fail(OscError.BufferTooSmall);
        place = default;
        return false;
    }

    private void Fail(OscError error)
    {
        if (Error == OscError.None)
            Error = error;
    }

    [InlineArray(OscPacketReader.MaximumDepth)]
    private struct Starts
    {
        private int _first;
    }
}
