namespace StateWatch.Recordings;

/// <summary>The kinds of entries of a recording. An entry is its kind (one byte), the length of the rest (varint), the rest.</summary>
internal enum EntryKind : byte
{
    /// <summary>The header, as JSON. The first entry, and there only.</summary>
    Header = 1,

    /// <summary>The watch was made; a moment.</summary>
    WatchBegan,

    /// <summary>A batch began; a moment.</summary>
    BatchBegan,

    /// <summary>An order, as JSON.</summary>
    Order,

    /// <summary>A datagram: its time, from the last moment, then its bytes.</summary>
    Datagram,

    /// <summary>A datagram that was there before: its time, from the last moment, then its number, from the one after the last (<see cref="SeenDatagrams"/>).</summary>
    DatagramAgain,

    /// <summary>The six counters of the link.</summary>
    Counted,

    /// <summary>The batch ended; a moment.</summary>
    BatchEnded,

    /// <summary>What was handed over, as lines.</summary>
    Taken,

    /// <summary>The watch ended in order; a moment, then who ended it.</summary>
    WatchEnded,

    /// <summary>The recording ends here because it is as large as it may be, or its disk as full as it may be.</summary>
    Full,
}
