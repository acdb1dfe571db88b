using StateWatch.Core.Links;
using StateWatch.Simulator;

namespace StateWatch.Core.Tests.Simulation;

/// <summary>Keeps what a desk answered, as upper-case hex.</summary>
internal sealed class AnswerLog : IReplySink, IDatagramReceiver
{
    public List<string> Hex { get; } = [];

    public List<long> Times { get; } = [];

    public void Reply(ReadOnlySpan<byte> answer) => Hex.Add(Convert.ToHexString(answer));

    public void OnDatagram(ReadOnlySpan<byte> datagram, long receivedAt)
    {
        Hex.Add(Convert.ToHexString(datagram));
        Times.Add(receivedAt);
    }
}

/// <summary>Counts answers without keeping them.</summary>
internal sealed class AnswerCount : IReplySink
{
    public long Answers { get; private set; }

    public void Reply(ReadOnlySpan<byte> answer) => Answers++;
}
