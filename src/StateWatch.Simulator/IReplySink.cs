namespace StateWatch.Simulator;

/// <summary>Takes what a virtual desk answers to one datagram.</summary>
public interface IReplySink
{
    /// <summary>One answer, to be sent to whoever asked.</summary>
    /// <param name="answer">A whole OSC packet; valid only during the call.</param>
    void Reply(ReadOnlySpan<byte> answer);
}
