namespace StateWatch.Simulator;

/// <summary>Takes what a virtual desk answers to one datagram.</summary>
public interface IReplySink
{
    /// <summary>One answer, to be sent to whoever asked.</summary>
    /// <param name="answer">A whole OSC packet; valid only during the call.</param>
    void Reply(ReadOnlySpan<byte> answer);

    /// <summary>Whoever asked wants to be sent what changes, for as long as the profile says a keep-alive lasts.</summary>
    void KeepAlive()
    {
    }
}
