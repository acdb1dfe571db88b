namespace StateWatch.Core.Links;

/// <summary>
/// All that a session which follows a desk may do with it: ask the questions the profile was compiled to, and listen. There is no
/// way to hand it a value or bytes of one's own, so a sweep or watch cannot write to a desk.
/// </summary>
public interface IDeskReader : IDisposable
{
    /// <summary>Where the desk is, for messages: <c>127.0.0.1:9048</c>.</summary>
    string Desk { get; }

    /// <summary>What came in and what was refused, so far.</summary>
    LinkCounters Counters { get; }

    /// <summary>The clock that <see cref="Receive"/> and its deadlines use; virtual in tests.</summary>
    TimeProvider Clock { get; }

    /// <summary>Sends one of the prepared questions.</summary>
    /// <param name="question">Endpoint id of the profile, <see cref="IdentityQuestion"/> or <see cref="KeepAliveQuestion"/>.</param>
    /// <returns>False when the network refused it; it counts as asked and unanswered.</returns>
    bool Ask(int question);

    /// <summary>
    /// Waits until at least one datagram has come in or the deadline has passed, and hands over all that are there, or as many as the
    /// receiver takes at once.
    /// </summary>
    /// <param name="deadline">A timestamp of <see cref="Clock"/>.</param>
    /// <param name="receiver">Gets each datagram; it must not keep the bytes.</param>
    /// <returns>How many datagrams were handed over.</returns>
    int Receive(long deadline, IDatagramReceiver receiver);

    /// <summary>The number of the question for the desk's identity.</summary>
    const int IdentityQuestion = -1;

    /// <summary>The number of the question that keeps the desk sending changes.</summary>
    const int KeepAliveQuestion = -2;
}

/// <summary>Takes what a desk sent.</summary>
public interface IDatagramReceiver
{
    /// <summary>One datagram.</summary>
    /// <param name="datagram">Its bytes; valid only during the call.</param>
    /// <param name="receivedAt">When it came in, as a timestamp of the link's clock.</param>
    void OnDatagram(ReadOnlySpan<byte> datagram, long receivedAt);

    /// <summary>Whether it wants no more for now; what is there then waits for the next call. Asked after each datagram.</summary>
    bool IsFull => false;
}

/// <summary>What a link saw. All counts are since the link was opened.</summary>
/// <param name="Sent">Questions sent.</param>
/// <param name="Received">Datagrams taken in.</param>
/// <param name="Foreign">Datagrams from other addresses than the desk's, dropped.</param>
/// <param name="Dropped">Datagrams dropped because the ring was full.</param>
/// <param name="TooLong">Datagrams longer than a buffer, dropped.</param>
/// <param name="Refused">Questions the network refused to take (nobody listens there, no route).</param>
public readonly record struct LinkCounters(long Sent, long Received, long Foreign, long Dropped, long TooLong, long Refused);
