namespace StateWatch.Protocol.Osc;

/// <summary>
/// Why bytes are not OSC (1–63), why a packet cannot be written (64–127), or why an address pattern is refused (128 and up).
/// <see cref="OscErrors.Describe"/> gives each as a sentence.
/// </summary>
public enum OscError : byte
{
    /// <summary>No error.</summary>
    None = 0,

    /// <summary>The packet has no bytes.</summary>
    Empty = 1,

    /// <summary>The packet's length is not a multiple of four (OSC 1.0, "OSC Packets").</summary>
    NotMultipleOfFour = 2,

    /// <summary>The first byte is neither <c>/</c> nor <c>#</c> (OSC 1.0, "OSC Packets").</summary>
    NotMessageOrBundle = 3,

    /// <summary>A bundle where only a single message can be taken.</summary>
    UnexpectedBundle = 4,

    /// <summary>The address has no closing null inside the message (OSC 1.0, OSC-string).</summary>
    UnterminatedAddress = 5,

    /// <summary>A byte other than null pads the address, the tags, a string or a blob (OSC 1.0, OSC-string and OSC-blob).</summary>
    BadPadding = 6,

    /// <summary>The type tag string has no closing null inside the message (OSC 1.0, OSC-string).</summary>
    UnterminatedTags = 7,

    /// <summary>A type tag that OSC 1.0 does not define; such a message is discarded (OSC 1.0, "OSC Type Tag String").</summary>
    UnknownTag = 8,

    /// <summary>The tags announce an argument whose bytes are not there.</summary>
    ArgumentPastEnd = 9,

    /// <summary>A string argument has no closing null inside the message (OSC 1.0, OSC-string).</summary>
    UnterminatedString = 10,

    /// <summary>A blob's count is negative, or more than the bytes left (OSC 1.0, OSC-blob).</summary>
    BlobSize = 11,

    /// <summary>An array opened and not closed, or closed and not opened (OSC 1.0, tags <c>[</c> and <c>]</c>).</summary>
    UnbalancedArray = 12,

    /// <summary>Bytes follow the last argument that the tags announce.</summary>
    TrailingBytes = 13,

    /// <summary>Begins with <c>#</c>, but not with <c>#bundle</c> and a null (OSC 1.0, "OSC Bundles").</summary>
    BundleHeader = 14,

    /// <summary>A bundle without the eight bytes of its time tag (OSC 1.0, "OSC Bundles").</summary>
    BundleTimeTagMissing = 15,

    /// <summary>An element's size is zero, negative, not a multiple of four, or more than the bytes left in the bundle.</summary>
    ElementSize = 16,

    /// <summary>A nested bundle is earlier than the bundle around it (OSC 1.0, "Temporal Semantics and OSC Time Tags").</summary>
    NestedTimeTagEarlier = 17,

    /// <summary>Bundles nested deeper than <see cref="OscPacketReader.MaximumDepth"/>.</summary>
    TooDeep = 18,

    /// <summary>The buffer given to the writer is too small for the packet.</summary>
    BufferTooSmall = 64,

    /// <summary>The address to write is empty or does not begin with <c>/</c>.</summary>
    AddressNotAbsolute = 65,

    /// <summary>An address or string to write has a null inside, which would end it early on the wire.</summary>
    NullInString = 66,

    /// <summary>An argument of another type than the next tag announces.</summary>
    ArgumentNotAsTagged = 67,

    /// <summary>More arguments than the tags announce.</summary>
    TooManyArguments = 68,

    /// <summary>Fewer arguments than the tags announce.</summary>
    MissingArguments = 69,

    /// <summary>An argument before any message was started.</summary>
    NoMessage = 70,

    /// <summary>A second message or bundle in a packet that is already whole; only a bundle holds several.</summary>
    PacketComplete = 71,

    /// <summary>A bundle was ended that was not started.</summary>
    NoBundle = 72,

    /// <summary>A bundle was started and not ended.</summary>
    BundleNotEnded = 73,

    /// <summary>Nothing was written.</summary>
    NothingWritten = 74,

    /// <summary>The pattern is empty or does not begin with <c>/</c>.</summary>
    PatternNotAbsolute = 128,

    /// <summary>The pattern is longer than <see cref="OscPattern.MaximumLength"/> bytes.</summary>
    PatternTooLong = 129,

    /// <summary>Two slashes in a row, or one at the end: an empty part names nothing in OSC 1.0.</summary>
    PatternEmptyPart = 130,

    /// <summary>A character that no address can hold, where a name is expected (OSC 1.0, "OSC Methods and OSC Containers").</summary>
    PatternCharacter = 131,

    /// <summary>A <c>[</c> without its <c>]</c> in the same part.</summary>
    PatternUnterminatedClass = 132,

    /// <summary>A class without a member: <c>[]</c> or <c>[!]</c>.</summary>
    PatternEmptyClass = 133,

    /// <summary>A <c>{</c> without its <c>}</c> in the same part.</summary>
    PatternUnterminatedAlternatives = 134,

    /// <summary>A <c>]</c>, <c>}</c> or comma that belongs to nothing.</summary>
    PatternStrayMark = 135,
}
